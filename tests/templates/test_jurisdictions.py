"""Hearing rules and calendars to start from."""

from __future__ import annotations

import dataclasses
import datetime as dt

import pytest

from tests.every import every
from tests.templates.reading_them import CONVERSIONS, part, plan, project
from tracker.approvals import questions
from tracker.approvals.decision import after_adoption, protest_until
from tracker.approvals.first_question import first_question
from tracker.approvals.notices import notice_days, with_law
from tracker.approvals.protest import protest
from tracker.approvals.questions import given
from tracker.approvals.records import Answer, Notice, Protest
from tracker.project_folder import places
from tracker.project_folder.merging import merged
from tracker.project_folder.reading import read
from tracker.schedule.path.plan import compute
from tracker.tables.empty_cells import filled_rows
from tracker.tables.faults import faults

FOLDERS = (*part("jurisdictions"), *part("calendars"))


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda path: path.name)
def test_every_folder_reads_and_fits_into_any_conversion_without_a_fault(folder) -> None:
    for name in CONVERSIONS:
        assert faults(filled_rows(merged(project(name), read(folder)))) == []


STATES = [path for path in part("jurisdictions") if path.name not in ("blank", "general")]
FROM_MEMORY = {("oh-township", "effective_days"), ("oh-township", "referendum_days")}
"""Figures that nobody read, longer than what would be assumed without them, and told as an estimate
wherever they count.
"""
GENERAL, BLANK = (
    places.folder("templates") / "jurisdictions" / name for name in ("general", "blank")
)


def test_there_is_a_general_one_one_to_fill_in_and_one_for_each_state_on_record() -> None:
    assert {"blank", "general", "az-city", "ga", "nc", "tx"} <= {
        path.name for path in part("jurisdictions")
    }
    assert len(STATES) >= 20
    assert [path.name for path in part("calendars")] == ["five-day", "six-day"]


def test_the_general_one_follows_the_model_act_of_1926() -> None:
    """Standard State Zoning Enabling Act, 1926: 15 days (section 4); 20 percent, three fourths of
    all members (section 5).

    It is a model and no law, so that its notice is an estimate.
    """
    rows = read(GENERAL).rows
    published = {
        n.calendar: (n.latest_days, n.count, n.basis)
        for n in rows["notices"]
        if n.kind == "published"
    }
    assert published["council"] == (15, "calendar", "estimate")
    answers = rows["answers"]
    assert str(given(answers, "protest_share").value) == "1/5"
    assert str(given(answers, "protest_votes").value) == "3/4"
    assert given(answers, "vote_rounding").value == "up"
    for code in ("protest_share", "protest_votes", "vote_rounding"):
        assert "1926, section 5" in given(answers, code).source


def test_the_blank_one_asks_the_same_questions_and_answers_none() -> None:
    blank, general = (read(folder).rows for folder in (BLANK, GENERAL))
    assert [a.question for a in blank["answers"]] == [a.question for a in general["answers"]]
    assert every(not a.answer for a in blank["answers"])
    assert blank["calendars"] == ()
    assert blank["notices"] == ()


@pytest.mark.parametrize("name", CONVERSIONS)
def test_the_general_one_moves_nothing_in_a_conversion_made_with_it(name: str) -> None:
    brought = filled_rows(merged(project(name), read(GENERAL)))
    assert compute(brought).opening == plan(name).opening


@pytest.mark.parametrize("name", CONVERSIONS)
def test_six_days_a_week_open_earlier(name: str) -> None:
    """The whole week as the first calendar: every working day of the five-day week is one of the
    six-day week.
    """
    tables = dict(project(name))
    six = read(part("calendars")[1]).rows["calendars"]
    tables["calendars"] = (*six, *tables["calendars"])
    opening, usual = compute(tables).opening, plan(name).opening
    assert opening is not None
    assert usual is not None
    assert opening < usual


@pytest.mark.parametrize("folder", STATES, ids=lambda path: path.name)
def test_a_state_names_its_source_and_day_beside_each_figure_and_how_it_is_known(folder) -> None:
    answers = read(folder).rows["answers"]
    by_question = {a.question: a for a in answers}
    assert by_question["state"].answer == folder.name[:2].upper()
    assert every(a.answer for a in answers), "an empty one would take the owner's away"
    for one in answers:
        if one.answer and one.question != "state":
            assert one.checked_on is not None, one.question
            assert "(read)" in one.source or "from memory" in one.source, one.question
        if one.answer and one.question in questions.BY_CODE:
            questions.read(one.question, one.answer)
        if (
            one.question.startswith(
                ("protest", "vote", "law_", "effective", "referendum", "refile", "readings")
            )
            and one.answer
        ):
            told = (folder.name, one.question) in FROM_MEMORY and not given(
                (one,), one.question
            ).sure
            assert "(read)" in one.source or told, one.question


@pytest.mark.parametrize("folder", STATES, ids=lambda path: path.name)
def test_a_states_record_is_old_a_year_later_and_says_so(folder) -> None:
    answers = [dataclasses.replace(a, text_as_of=None) for a in read(folder).rows["answers"]]
    day = max(a.checked_on for a in answers if a.checked_on)
    answers = [dataclasses.replace(a, checked_on=day) for a in answers]
    for code in ("owner_rule", "protest_share", "hearing_law", "refile_months"):
        found = (
            given(answers, code, day + dt.timedelta(days=365)),
            given(answers, code, day + dt.timedelta(days=366)),
        )
        if not found[0].default:
            assert [one.old for one in found] == [False, True]


TODAY = dt.date(2026, 12, 1)


@pytest.mark.parametrize("folder", STATES, ids=lambda path: path.name)
def test_no_figure_of_a_state_is_fresh_or_a_legal_minimum_by_a_text_that_is_old_or_of_a_day_not_known(  # noqa: E501
    folder,
) -> None:
    """Even with a town's own shorter rows beside it, which the longer days of the law replace."""
    answers = read(folder).rows["answers"]
    town = [
        Notice(calendar=body, kind=kind, latest_days=5, basis=basis)
        for body in ("commission", "council")
        for kind, basis in (("published", "legal minimum"), ("mailed", "estimate"))
    ]
    for local in ((), town):
        for notice in with_law(local, answers, ["commission", "council"], "council", TODAY):
            if notice.latest_days != 5:
                assert (
                    notice.basis.startswith("state law, ") and notice.basis.endswith(": ask")
                ) or "old, ask" in notice.basis
            assert notice.basis != "legal minimum"
    for one in answers:
        if one.question in questions.BY_CODE and (
            one.text_as_of is None or (TODAY - one.text_as_of).days > 365
        ):
            assert given(answers, one.question, TODAY).text_old


def test_a_text_of_this_year_is_the_legal_minimum_until_it_is_a_year_old() -> None:
    answers = [dataclasses.replace(a, text_as_of=dt.date(2026, 7, 1)) for a in figures("ga")]
    body = {"calendar": "council", "kind": "published"}
    for local in (
        (),
        (Notice(**body, latest_days=5),),
        (Notice(**body, latest_days=15, basis="published date"),),
    ):
        found, _ = with_law(local, answers, ["council"], "council", dt.date(2027, 7, 1))
        assert (found.latest_days, found.basis) == (15, "legal minimum")
        found, _ = with_law(local, answers, ["council"], "council", dt.date(2027, 7, 2))
        kept = bool(local) and local[0].basis == "published date"
        assert found.basis == (
            "published date" if kept else "state law, text of 2026-07-01: old, ask"
        )


def figures(name: str) -> list[Answer]:
    return list(read(places.folder("templates") / "jurisdictions" / name).rows["answers"])


def test_one_state_rounds_votes_to_the_nearest_and_asks_for_every_class() -> None:
    """A.R.S. 9-462.04 after the law of 2017, as a city explains it: of 7 members 5, by area and by
    number of lots (read).
    """
    answers = figures("az-city")
    area, lots = (
        Protest(class_="area", entitled_sf=100, protesting_sf=20),
        Protest(class_="lots", entitled_sf=10, protesting_sf=1),
    )
    found = protest([area, lots], answers, 7)
    assert (found.votes_needed, found.triggered) == (5, False)
    assert protest([area, dataclasses.replace(lots, protesting_sf=2)], answers, 7).triggered
    assert protest([area, lots], figures("tx"), 7).triggered
    assert protest([area, lots], figures("tx"), 7).votes_needed == 6


def test_one_state_counts_those_holding_office() -> None:
    """65 ILCS 5/11-13-14: two thirds of those then holding office (read).

    Of 8 seats with 2 vacant: 4 of 6.
    """
    answers = [*figures("il"), Answer(question="vacant_seats", answer="2")]
    found = protest([Protest(class_="frontage", entitled_sf=400, protesting_sf=80)], answers, 8)
    assert (found.triggered, found.votes_needed, found.members) == (True, 4, 6)


def test_one_state_counts_its_windows_from_publication() -> None:
    """MCL 125.3402: holds 7 days after the published notice of adoption; petition within 30 days of
    publication (read).
    """
    answers = [
        *figures("mi"),
        Answer(question="publication_days", answer="10"),
        Answer(question="appeal_days", answer="0"),
    ]
    found = after_adoption(dt.date(2027, 3, 1), answers)
    assert (found.published, found.effective) == (dt.date(2027, 3, 11), dt.date(2027, 3, 18))
    assert (found.referendum_ends, found.permit_not_before) == (
        dt.date(2027, 4, 10),
        dt.date(2027, 4, 11),
    )


def test_a_protest_may_come_after_the_hearing_closes_in_one_state() -> None:
    """K.S.A. 12-757; Attorney General's Opinion 2005-6: within 14 days after the hearing closes
    (read).
    """
    assert protest_until(dt.date(2024, 6, 18), figures("ks")) == dt.date(2024, 7, 2)


@pytest.mark.parametrize(
    ("name", "latest", "earliest"),
    [
        ("ga", "2024-06-03", "2024-05-04"),
        ("nc", "2024-06-08", "2024-05-24"),
        ("tx", "2024-06-02", None),
        ("ia", "2024-06-11", "2024-05-29"),
    ],
)
def test_the_states_notice_stands_where_the_town_entered_none(
    name: str, latest: str, earliest: str | None
) -> None:
    """Hearing on 2024-06-18; the dates of the statutes as in tests/reference/approvals.json
    (read).
    """
    hearing = dt.date(2024, 6, 18)
    read_then = [dataclasses.replace(a, text_as_of=hearing) for a in figures(name)]
    (found,) = [
        n for n in with_law((), read_then, ["council"], "council", hearing) if n.kind == "published"
    ]
    days = notice_days(found, hearing, lambda day: True, hearing)
    assert days.latest == dt.date.fromisoformat(latest)
    assert days.earliest == (dt.date.fromisoformat(earliest) if earliest else None)
    assert days.basis == "legal minimum"


def test_a_towns_longer_notice_stands_and_a_shorter_one_is_lengthened() -> None:
    body = {"calendar": "council", "kind": "published"}
    longer, shorter = (
        Notice(**body, latest_days=20, basis="published date"),
        Notice(**body, latest_days=10),
    )
    read_now = [dataclasses.replace(a, text_as_of=TODAY) for a in figures("ga")]
    kept = with_law((longer,), read_now, ["council"], "council", TODAY)[0]
    assert (kept.latest_days, kept.earliest_days, kept.basis) == (20, 45, "published date")
    lengthened = with_law((shorter,), read_now, ["council"], "council", TODAY)[0]
    assert (lengthened.latest_days, lengthened.basis) == (15, "legal minimum")
    not_known = with_law((shorter,), figures("ga"), ["council"], "council", TODAY)[0]
    assert (not_known.latest_days, not_known.basis) == (
        15,
        "state law, day of its text not known: ask",
    )


def test_a_notice_in_business_days_stands_beside_the_law_in_calendar_days() -> None:
    local = Notice(calendar="council", kind="mailed", latest_days=10, count="business")
    found = [
        n
        for n in with_law((local,), figures("ca"), ["council"], "council", TODAY)
        if n.kind == "mailed"
    ]
    assert [(n.count, n.latest_days) for n in found] == [("business", 10), ("calendar", 10)]


def test_the_law_for_the_deciding_hearing_leaves_the_advising_body_alone() -> None:
    """Ohio R.C. 713.12: 30 days before the council's hearing (read)."""
    found = with_law((), figures("oh-city"), ["commission", "council"], "council", TODAY)
    assert [(n.calendar, n.latest_days) for n in found] == [("council", 30)]


def test_california_wants_twenty_days_before_the_commission_and_ten_before_the_council() -> None:
    """Cal.

    Gov. Code 65854 as amended by AB 2904, Stats. 2024 ch. 747: published and mailed at least 20
    days before the planning commission's hearing where permitted uses change (read); 65090, 65091,
    65856: 10 days before the council's (read).
    """
    town = [
        Notice(calendar=body, kind="published", latest_days=15)
        for body in ("commission", "council")
    ]
    found = with_law(town, figures("ca"), ["commission", "council"], "council", TODAY)
    assert {(n.calendar, n.kind): (n.latest_days, n.radius_ft) for n in found} == {
        ("commission", "published"): (20, None),
        ("commission", "mailed"): (20, 300),
        ("council", "published"): (15, None),
        ("council", "mailed"): (10, 300),
    }
    assert found[0].basis == "state law, text of 2024-09-30: old, ask"


def test_kansas_wants_twenty_days_before_the_commission_alone() -> None:
    """K.S.A. 12-756(b), to which 12-757(b) refers: published at least 20 days before the hearing
    (read); letters as Olathe's code 18.40.050 carries the statute: 20 days, 200 ft in a city
    (read).
    """
    town = [Notice(calendar="commission", kind="published", latest_days=5)]
    found = with_law(town, figures("ks"), ["commission", "council"], "council", TODAY)
    assert [(n.calendar, n.kind, n.latest_days, n.radius_ft) for n in found] == [
        ("commission", "published", 20, None),
        ("commission", "mailed", 20, 200),
    ]


def test_an_ohio_ordinance_waits_thirty_days_for_a_petition() -> None:
    """Ohio R.C. 731.29: no ordinance takes effect until 30 days; the petition may be filed in them
    (read).
    """
    found = after_adoption(
        dt.date(2027, 2, 1), [*figures("oh-city"), Answer(question="appeal_days", answer="0")]
    )
    assert (found.effective, found.referendum_ends) == (dt.date(2027, 3, 3), dt.date(2027, 3, 3))
    assert found.permit_not_before == dt.date(2027, 3, 4)
    assert "effective_days" in found.estimate, "the text is of 2010"


def test_no_protest_of_twenty_percent_is_a_rule_in_north_carolina() -> None:
    """S.L. 2015-160 struck protest petitions out of G.S. 160A-385 and repealed 160A-386 (read)."""
    rows = [*read(GENERAL).rows["answers"]]
    brought = [
        *figures("nc"),
        *(a for a in rows if a.question not in {b.question for b in figures("nc")}),
    ]
    found = protest([Protest(class_="area", entitled_sf=100, protesting_sf=90)], brought, 7, TODAY)
    assert (found.triggered, found.threshold_bp, found.votes_needed) == (False, None, None)
    assert (
        "no protest that raises the vote is on record" in found.text
        and "20" not in found.text.replace("2015-01-01", "")
    )


def test_tennessee_says_that_its_sources_disagree() -> None:
    """15 days by an advisory page, 21 by the summary of a bill of 2026 (both read)."""
    found = with_law((), figures("tn"), ["council"], "council", TODAY)
    assert [(n.kind, n.latest_days, n.basis) for n in found] == [
        ("published", 21, "state law, day of its text not known: ask")
    ]
    said = {a.question: a for a in figures("tn")}
    assert (
        "15 or 21: ask" in said["hearing_law"].answer
        and "disagree" in said["law_published_days"].source
    )


def test_the_first_question_shows_what_is_on_record_for_the_state_with_its_day() -> None:
    asked = first_question(figures("nc"), dt.date(2026, 12, 1))
    assert asked.mark == "?"
    assert "40,000 dollars" in asked.text and "checked on 2026-11-25" in asked.text
    assert "day of its text not known: ask" in asked.text
    assert "old: read it again" in first_question(figures("nc"), dt.date(2027, 12, 1)).text
    assert "from memory" in first_question(figures("az-city"), dt.date(2026, 12, 1)).text
    assert (asked.rule_checked_on, asked.rule_text_as_of, asked.rule_old) == (
        dt.date(2026, 11, 25),
        None,
        True,
    )
    fresh = [dataclasses.replace(a, text_as_of=dt.date(2026, 11, 25)) for a in figures("nc")]
    assert not first_question(fresh, TODAY).rule_old
