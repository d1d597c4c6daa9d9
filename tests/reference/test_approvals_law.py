"""Notices, votes, protests and periods against statutes and ordinances: approvals.json names the
source of each figure.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
import json
from fractions import Fraction
from pathlib import Path

import pytest

from tracker.approvals import permits
from tracker.approvals.clocks import clocks
from tracker.approvals.decision import may_file_again, protest_until
from tracker.approvals.notices import notice_days, with_law
from tracker.approvals.protest import protest, votes
from tracker.approvals.records import Answer, Hearing, Inspection, Notice, Permit, Protest
from tracker.project_folder import places
from tracker.project_folder.reading import read

KNOWN = json.loads(Path(__file__).with_name("approvals.json").read_text(encoding="utf-8"))
DAY = dt.date.fromisoformat


def ids(rows: list[dict]) -> list[str]:
    return [row["id"] for row in rows]


@pytest.mark.parametrize("row", KNOWN["notices"], ids=ids(KNOWN["notices"]))
def test_a_notice_is_given_between_the_days_that_the_statute_sets(row: dict) -> None:
    notice = Notice(
        calendar="c",
        kind="published",
        latest_days=row["latest_days"],
        earliest_days=row["earliest_days"],
    )
    days = notice_days(notice, DAY(row["hearing"]), lambda day: True, DAY(row["hearing"]))
    assert days.latest == DAY(row["latest"])
    assert days.earliest == (DAY(row["earliest"]) if row["earliest"] else None)


@pytest.mark.parametrize("row", KNOWN["votes"], ids=ids(KNOWN["votes"]))
def test_a_protested_change_needs_the_votes_that_the_statute_asks_for(row: dict) -> None:
    assert votes(row["members"], Fraction(row["share"]), row["rounding"]) == row["votes"]


@pytest.mark.parametrize("row", KNOWN["protests"], ids=ids(KNOWN["protests"]))
def test_a_protest_counts_from_exactly_the_share_on(row: dict) -> None:
    found = protest(
        [Protest(class_="lots", entitled_sf=row["entitled"], protesting_sf=row["protesting"])],
        [],
        5,
    )
    assert found.triggered is row["triggered"]


def test_a_state_may_ask_for_a_larger_share() -> None:
    row = KNOWN["higher_share"]
    area = [
        Protest(
            class_="within 200 ft", entitled_sf=row["entitled"], protesting_sf=row["protesting"]
        )
    ]
    assert (
        protest(area, [Answer(question="protest_share", answer=row["share"])], 5).triggered
        is row["triggered"]
    )
    assert protest(area, [], 5).triggered


def test_six_months_after_the_end_of_august_is_the_end_of_february() -> None:
    row = KNOWN["refiling"]
    assert may_file_again(
        DAY(row["denied"]), [Answer(question="refile_months", answer=row["months"])]
    ) == DAY(row["from"])


def test_a_protest_may_be_filed_for_so_many_days_after_the_hearing() -> None:
    row = KNOWN["protest_until"]
    figures = [Answer(question="protest_deadline_days", answer=row["days"])]
    assert protest_until(DAY(row["hearing"]), figures) == DAY(row["until"])


@pytest.mark.parametrize("row", KNOWN["clocks"], ids=ids(KNOWN["clocks"]))
def test_a_case_has_the_days_that_its_states_law_sets(row: dict) -> None:
    answers = read(places.folder("templates") / "jurisdictions" / row["state"]).rows["answers"]
    met = DAY(row["met"]) if "met" in row else None
    case = Hearing(code="c", calendar="commission", filed_on=DAY(row["filed"]), hearing_on=met)
    assert {clock.kind: clock.day for clock in clocks(case, answers)} == {
        kind: DAY(day) for kind, day in row["days"].items()
    }
    assert clocks(dataclasses.replace(case, outcome="approved"), answers) == ()
    assert clocks(dataclasses.replace(case, filed_on=None), answers) == ()


def test_two_advertisements_lie_apart_and_the_second_sets_the_days_of_the_hearing() -> None:
    row = KNOWN["two_ads"]
    answers = read(places.folder("templates") / "jurisdictions" / "va").rows["answers"]
    (law,) = with_law((), answers, ["council"], "council", DAY(row["second"]))
    assert (law.latest_days, law.earliest_days) == (row["least"], row["most"])
    first, last = (
        notice_days(law, DAY(row[end]), lambda day: True, DAY(row["second"]), row["gap"])
        for end in ("from", "to")
    )
    assert first.latest == DAY(row["second"])
    assert last.earliest == DAY(row["second"])
    assert first.first_by == DAY(row["second"]) - dt.timedelta(days=row["gap"])
    assert DAY(row["first"]) <= first.first_by
    assert law.basis == f"state law, text of {row['text_as_of']}: old, ask"


def test_a_clock_by_an_old_text_says_so_and_a_fresh_one_says_nothing() -> None:
    row = next(row for row in KNOWN["clocks"] if row["id"] == "C-VA-PC")
    answers = read(places.folder("templates") / "jurisdictions" / "va").rows["answers"]
    case = Hearing(
        code="c", calendar="commission", filed_on=DAY(row["filed"]), hearing_on=DAY(row["met"])
    )
    (told,) = clocks(case, answers)
    assert told.text.endswith(f"(state law, text of {row['text_as_of']}: old, ask)")
    (fresh,) = clocks(case, [dataclasses.replace(a, text_as_of=case.filed_on) for a in answers])
    assert "state law" not in fresh.text and told.day == fresh.day


@pytest.mark.parametrize("row", KNOWN["permits"], ids=ids(KNOWN["permits"]))
def test_an_application_and_a_permit_lapse_on_the_day_that_the_code_sets(row: dict) -> None:
    dates = {name: DAY(row[name]) for name in ("applied", "issued") if name in row}
    passed = (
        [Inspection(code="i", permit="p", state="passed", date=DAY(row["passed"]))]
        if "passed" in row
        else []
    )
    found = permits.clock(
        Permit(code="p", **dates),
        passed,
        [],
        DAY(row.get("passed", row.get("issued", row.get("applied")))),
    )
    assert found.lapses_on == DAY(row["lapses"])
