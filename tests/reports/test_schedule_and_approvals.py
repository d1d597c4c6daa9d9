"""Schedule, look-ahead, checklist and inspections on paper show their answers' rows."""

from __future__ import annotations

import csv
import datetime as dt
import io
from typing import Any

import pytest

from tests.every import every
from tests.reports.reading import TODAY, text, workbook
from tracker.answers import path, permits, rezoning
from tracker.approvals.cautions import CAUTIONS
from tracker.reports.printing import made
from tracker.schedule.records import Activity
from tracker.values.money import dollars
from tracker.values.project import Project
from tracker.values.records import new

Rows = dict[str, tuple[Any, ...]]


def table(rows: Rows, name: str) -> list[list[str]]:
    """The main table of a document, without its headings."""
    return list(csv.reader(io.StringIO(made(rows, TODAY, name, ".csv").data.decode("utf-8"))))[1:]


def columns(rows: Rows, name: str, part: str) -> dict[str, list[Any]]:
    """The cells of a part below each of its headings, days as days; of a workbook, where no cell
    stands in another's place.
    """
    cells = list(workbook(made(rows, TODAY, name, ".xlsx").data)[part].iter_rows(values_only=True))
    gaps = [at for at, row in enumerate(cells) if not any(row)]
    head, *found = cells[gaps[0] + 1 : gaps[1] if len(gaps) > 1 else None]
    days = [
        [cell.date() if isinstance(cell, dt.datetime) else cell for cell in row] for row in found
    ]
    return {str(title): [row[at] for row in days] for at, title in enumerate(head) if title}


def test_the_schedule_lists_each_activity_with_its_days_and_what_drives_the_opening(
    rows: Rows,
) -> None:
    answer = path.from_rows(rows, TODAY)
    found = {row[2]: row for row in table(rows, "schedule")}
    assert list(found) == [one.code for one in answer.activities]
    for one in answer.activities:
        assert found[one.code][4:6] == [one.early_start.isoformat(), one.early_finish.isoformat()]
        assert (found[one.code][8] == "drives the opening") == (
            one.on_longest_path and one.state != "done"
        )
    said = text(made(rows, TODAY, "schedule", ".pdf").data)
    assert f"Forecast opening {answer.forecast_opening:%a %d %b %Y}" in said
    assert dollars(answer.cost_of_a_day_cents) in said


def test_the_look_ahead_holds_what_is_not_done_and_begins_within_three_weeks(rows: Rows) -> None:
    until = TODAY + dt.timedelta(days=21)
    wanted = [
        a
        for a in path.from_rows(rows, TODAY).activities
        if a.state != "done" and a.early_start <= until
    ]
    found = table(rows, "lookahead")
    assert sorted(row[2] for row in found) == sorted(one.name for one in wanted)
    assert [row[0] for row in found] == sorted(row[0] for row in found)
    assert any(row[4].startswith("555-") for row in found)


def test_work_that_begins_on_the_last_day_of_the_three_weeks_is_on_the_look_ahead_and_later_work_is_not() -> (  # noqa: E501
    None
):
    activities = [
        new(
            Activity,
            code=f"D{days}",
            name=f"in {days} days",
            duration=1,
            not_before=TODAY + dt.timedelta(days=days),
        )
        for days in (0, 20, 21, 22)
    ]
    rows = {"project": (new(Project, start=TODAY),), "activities": tuple(activities)}
    assert [row[2] for row in table(rows, "lookahead")] == ["in 0 days", "in 20 days", "in 21 days"]


def test_the_checklist_holds_every_item_with_its_state(rows: Rows) -> None:
    assert [(row[1], row[2], row[3]) for row in table(rows, "checklist")] == [
        (i.code, i.title, i.state) for i in rezoning.from_rows(rows, TODAY).items
    ]
    assert "no legal, engineering or code advice" in text(
        made(rows, TODAY, "checklist", ".pdf").data
    )


def test_inspections_stand_in_their_order_with_what_may_not_be_covered(rows: Rows) -> None:
    answer = permits.from_rows(rows, TODAY)
    names = {a.code: a.name for a in rows["activities"]}
    found = table(rows, "inspections")
    assert [(row[0], row[2]) for row in found] == [(i.code, i.state) for i in answer.inspections]
    assert [row[6] for row in found] == [
        ", ".join(names[c] for c in i.may_not_cover) for i in answer.inspections
    ]
    said = text(made(rows, TODAY, "inspections", ".pdf").data)
    to_correct = [item.text for i in answer.inspections for item in i.items if item.open]
    asked_for = columns(rows, "inspections", "Corrections")
    closed = [
        (item.text, item.closed_on) for i in answer.inspections for item in i.items if not item.open
    ]
    assert to_correct and closed
    assert list(zip(asked_for["To correct"], asked_for["Closed"], strict=True)) == [
        *((words, "open") for words in to_correct),
        *closed,
    ]
    held = columns(rows, "inspections", "Not to cover yet")
    assert held["May not start"] == [names[one.activity] for one in answer.not_to_cover]
    assert every(words in said for words in to_correct)
    assert "Cover nothing before its inspection has passed" in said


UNNAMED = {
    "activities": (new(Activity, code="a", name="Xyzzy", duration=2),),
    "project": (new(Project, name="Hall"),),
}


@pytest.mark.parametrize("name", ["schedule", "lookahead"])
@pytest.mark.parametrize("given", ["empty", "unnamed", "sample"])
def test_prints_for_the_site_always_carry_what_protects_life_and_nothing_about_the_purchase(
    rows: Rows, name: str, given: str
) -> None:
    here: Rows = {"empty": {"project": (new(Project),)}, "unnamed": UNNAMED, "sample": rows}[given]
    said = " ".join(text(made(here, TODAY, name, ".pdf").data).split())
    life = [one.text for one in CAUTIONS if one.life]
    assert len(life) == 10 and all(one in said for one in life)
    assert "way out of the purchase" not in said and "Do not close, demolish" not in said


def test_the_look_ahead_says_beside_a_caution_which_work_of_these_weeks_it_is_about(
    rows: Rows,
) -> None:
    soon = new(Activity, code="a", name="Tear off old roofing", duration=2)
    said = " ".join(
        text(made({**UNNAMED, "activities": (soon,)}, TODAY, "lookahead", ".pdf").data).split()
    )
    assert "a harness that is tied off. (Here: Tear off old roofing.)" in said


def test_the_look_ahead_holds_the_same_once_more_by_trade(rows: Rows) -> None:
    book = workbook(made(rows, TODAY, "lookahead", ".xlsx").data)
    sheet = book["By trade"]
    cells = [[cell.value for cell in row] for row in sheet.iter_rows()]
    head = next(at for at, row in enumerate(cells) if row[0] == "Trade")
    found = [row for row in cells[head + 1 :] if row[3]]
    trades = [row[0] for row in found]
    assert trades == sorted(trades, key=lambda trade: (trade == "without a trade", trade.lower()))
    assert sorted(row[3] for row in found) == sorted(row[2] for row in table(rows, "lookahead"))


def test_the_checklist_lists_attached_evidence_with_its_fingerprint(rows: Rows) -> None:
    said = "".join(text(made(rows, TODAY, "checklist", ".pdf").data).split())
    own = [f for f in rows["files"] if f.table in ("checklist", "hearings")]
    assert own and all(f.sha256[:20] in said and f.path in said for f in own)


def test_the_hearing_calendar_shows_cut_offs_notices_cases_and_what_missing_one_costs(
    rows: Rows,
) -> None:
    answer = rezoning.from_rows(rows, TODAY)
    found = table(rows, "hearings")
    assert [row[:3] + row[5:6] for row in found] == [
        [h.name, "decides" if h.decides else "advises", h.cutoff.isoformat(), h.hearing.isoformat()]
        for h in answer.hearings
        if h.cutoff and h.hearing
    ]
    said = " ".join(text(made(rows, TODAY, "hearings", ".pdf").data).split())
    for one in answer.hearings:
        for each in one.reached:
            assert each.name in said and f"{each.hearing:%a %d %b %Y}" in said
    notices = [n.latest for one in answer.hearings for n in one.notices]
    assert columns(rows, "hearings", "Notices")["Not after"] == notices
    assert columns(rows, "hearings", "Cases")["Case"] == [
        case.code for case in sorted(answer.cases, key=lambda one: bool(one.outcome))
    ]
    assert columns(rows, "hearings", "Days of the purchase")["Day"] == [
        one.day for one in answer.purchase
    ]
    assert every(f"{day:%a %d %b %Y}" in said for day in notices if day)
    assert every(case.code in said for case in answer.cases)
    assert every(f"{one.day:%a %d %b %Y}" in said for one in answer.purchase)
    assert "Filing in time does not promise a place on the agenda" in said
    assert "keep a way out of the purchase" in said


def test_inspections_tell_deliveries_re_inspections_and_what_the_certificate_lacks(
    rows: Rows,
) -> None:
    answer = permits.from_rows(rows, TODAY)
    said = " ".join(text(made(rows, TODAY, "inspections", ".pdf").data).split())
    assert (
        f"{answer.reinspections} re-inspections, their fees"
        f" {dollars(answer.reinspection_fees_cents)}." in said
    )
    assert columns(rows, "inspections", "Deliveries")["Delivery"] == [
        one.name for one in sorted(answer.deliveries, key=lambda each: "!?~ =".index(each.mark))
    ]
    assert columns(rows, "inspections", "Certificate of occupancy")["Is missing"] == [
        one.text for one in answer.certificate.final
    ]
    assert every(one.name[:20] in said for one in answer.deliveries)
    assert every(one.key.split("/")[0] in said for one in answer.certificate.final)


@pytest.mark.parametrize("name", ["schedule", "lookahead", "checklist", "inspections", "hearings"])
def test_the_spreadsheet_has_the_rows_of_the_csv_file_and_the_same_day_gives_the_same_bytes(
    rows: Rows, name: str
) -> None:
    data = made(rows, TODAY, name, ".xlsx").data
    assert data == made(rows, TODAY, name, ".xlsx").data
    assert made(rows, TODAY, name, ".pdf").data == made(rows, TODAY, name, ".pdf").data
    most = max(sheet.max_row for sheet in workbook(data).worksheets)
    assert most > len(table(rows, name))
