"""Path on paper: the time axis, a bar in our marks, links as one types them, an activity in
words.
"""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.answers import path
from tracker.approvals.records import Inspection
from tracker.pages.path import opening_words, weight
from tracker.pages.path_details import around, detail, float_words
from tracker.schedule.records import Activity, Calendar, Link
from tracker.screens.path.axis import UNITS, Axis, cell_of, fitting, heads, start_of
from tracker.screens.path.bars import bar
from tracker.screens.path.edits import a_day_more, link_edits, links_text, read_links, with_edits
from tracker.screens.path.table import mark_of, state_word
from tracker.values.project import Project

TODAY = dt.date(2027, 3, 5)
DAYS = st.dates(dt.date(1990, 1, 1), dt.date(2190, 1, 1))
FIVE = Calendar(code="FIVE", weekdays=("mon", "tue", "wed", "thu", "fri"))
COUNCIL = Calendar(
    code="COUNCIL",
    recurrence="FREQ=MONTHLY;BYDAY=1TU",
    recurrence_from=dt.date(2027, 1, 1),
    cutoff_days=28,
)


def rows(**more: Any) -> dict[str, Any]:
    """A frame under way, wallboard after it, paint with float, a hearing with a cut-off, the
    opening.
    """
    made: dict[str, Any] = {
        "project": (
            Project(
                start=dt.date(2027, 3, 1),
                status_date=dt.date(2027, 3, 5),
                opening="OPEN",
                promised_opening=dt.date(2027, 3, 12),
                insurance_per_day=10_00,
            ),
        ),
        "calendars": (FIVE, COUNCIL),
        "activities": (
            Activity(
                code="SURVEY",
                name="Survey",
                kind="work",
                duration=2,
                actual_start=dt.date(2027, 3, 1),
                actual_finish=dt.date(2027, 3, 2),
            ),
            Activity(
                code="FRAME",
                name="Frame",
                kind="work",
                duration=10,
                actual_start=dt.date(2027, 3, 3),
            ),
            Activity(code="BOARD", name="Wallboard", kind="work", duration=5),
            Activity(code="PAINT", name="Paint", kind="work", duration=3, held="no color chosen"),
            Activity(code="HEAR", name="Hearing", kind="gate", calendar="COUNCIL", duration=1),
            Activity(code="OPEN", name="Open", kind="milestone", duration=0),
        ),
        "links": (
            Link(from_="FRAME", to="BOARD"),
            Link(from_="BOARD", to="OPEN", type="FF", lag=2),
            Link(from_="PAINT", to="OPEN"),
            Link(from_="HEAR", to="OPEN"),
        ),
    }
    return {**made, **more}


def drawn(code: str, axis: Axis, was: dt.date | None = None, **more: Any) -> str:
    """The bar of one activity."""
    answer = path.from_rows(rows(**more), TODAY)
    one = next(a for a in answer.activities if a.code == code)
    return "".join(piece.text for piece in bar(one, axis, answer.status_date, was))


@given(DAYS, st.sampled_from(UNITS))
def test_each_day_lies_in_the_cell_that_begins_at_or_before_it(day: dt.date, unit: str) -> None:
    cell = cell_of(day, unit)
    assert start_of(cell, unit) <= day < start_of(cell + 1, unit)


@given(
    DAYS,
    st.sampled_from(UNITS),
    st.integers(1, 300),
    st.integers(-500, 500),
    st.sampled_from((-1, 1)),
)
def test_moving_and_zooming_keep_the_window_as_wide(
    day: dt.date, unit: str, cells: int, by: int, zoom: int
) -> None:
    axis = Axis(unit, 0, cells).with_day_at(day, cells // 2)
    assert axis.moved(by).cells == axis.zoomed(zoom).cells == cells
    assert [len(line) for line in heads(axis, day, "╎")] == [cells, cells]


def test_zooming_keeps_the_middle_of_the_window() -> None:
    axis = Axis("week", 0, 40).with_day_at(dt.date(2027, 3, 8), 20)
    assert axis.zoomed(-1).place(dt.date(2027, 3, 8)) == 20
    assert axis.zoomed(1).place(dt.date(2027, 3, 8)) == 20
    assert axis.zoomed(-1).zoomed(-1).unit == "day"


def test_the_finest_unit_that_fits_is_chosen() -> None:
    first = dt.date(2027, 3, 1)
    assert fitting(first, dt.date(2027, 3, 20), 20) == "day"
    assert fitting(first, dt.date(2027, 3, 21), 20) == "week"
    assert fitting(first, dt.date(2028, 3, 21), 20) == "month"


def test_the_status_date_stands_in_the_head() -> None:
    upper, lower = heads(
        Axis("day", cell_of(dt.date(2027, 3, 1), "day"), 14), dt.date(2027, 3, 5), "╎"
    )
    assert upper.startswith("Mar 2027")
    assert lower[0:2] == "01" and lower[4] == "╎" and lower[7:9] == "08"


def test_a_month_is_never_cut_by_the_status_date_nor_by_the_end_of_the_month_before() -> None:
    """From Mon 22 June 2026, a week a cell: the last week of June gives way to July, which the
    status date does not cut.
    """
    first = cell_of(dt.date(2026, 6, 22), "week")
    upper, lower = heads(Axis("week", first, 20), dt.date(2026, 7, 17), "╎")
    assert lower.startswith("  Jul ") and lower.split() == ["Jul", "Aug", "Sep", "Oct"]
    assert upper.startswith("2026 ")
    _, lower = heads(Axis("week", first, 20), dt.date(2026, 7, 27), "╎")
    assert lower.startswith("  Jul╎Aug ")


MARCH = Axis("day", cell_of(dt.date(2027, 3, 1), "day"), 50)


def test_done_work_is_solid_and_what_drives_is_heavy() -> None:
    """FRAME began on Wed 3 March; of its ten days three lie behind the status date, seven end on
    Tue 16.
    """
    assert drawn("SURVEY", MARCH).startswith("▇▇  ╎")
    driving = drawn(
        "FRAME", MARCH, links=(Link(from_="FRAME", to="BOARD"), Link(from_="BOARD", to="OPEN"))
    )
    assert driving.startswith("  ▇▇▇━━━━━━━━━━━ ")
    assert "·" not in driving


def test_float_is_dotted_after_other_work_and_double_lines_are_near() -> None:
    """PAINT could lie from Mon 8 to Wed 10 March; the opening waits for the hearing on Tue
    6 April.
    """
    assert drawn("PAINT", MARCH).startswith("    ╎  ───·····")
    near = drawn(
        "PAINT",
        MARCH,
        links=(Link(from_="PAINT", to="OPEN"),),
        calendars=(FIVE,),
        activities=(
            Activity(code="PAINT", name="Paint", kind="work", duration=3),
            Activity(
                code="OPEN",
                name="Open",
                kind="milestone",
                duration=0,
                not_before=dt.date(2027, 3, 12),
            ),
        ),
    )
    assert near.startswith("    ╎  ═══··")


def test_a_gate_is_a_post_with_its_date_beside() -> None:
    assert "╫Tue 06 Apr" in drawn("HEAR", MARCH)
    day = dt.date(2027, 3, 4)
    held = Activity(
        code="HEAR", name="Hearing", kind="gate", duration=1, actual_start=day, actual_finish=day
    )
    begun = Project(start=dt.date(2027, 3, 1))
    assert drawn("HEAR", MARCH, activities=(held,), links=(), project=(begun,)).startswith(
        "   ╟Thu 04 Mar"
    )
    tight = Axis("day", cell_of(dt.date(2027, 3, 20), "day"), 20)
    assert "Tue 06 Apr╫" in drawn("HEAR", tight)


def test_the_baseline_is_one_post_and_the_days_a_number() -> None:
    later = drawn("PAINT", MARCH, dt.date(2027, 3, 4))
    assert later.startswith("   ┆╎  ─── +6d")
    assert drawn("PAINT", MARCH, dt.date(2027, 3, 10)).count("┆") == 0
    earlier = drawn("PAINT", MARCH, dt.date(2027, 3, 20))
    assert earlier[19] == "┆" and "-10d" in earlier


def test_a_bar_out_of_sight_leaves_a_pointer_at_its_edge() -> None:
    assert drawn("SURVEY", MARCH.moved(20)).startswith("«")
    assert drawn("HEAR", Axis("day", MARCH.first, 10)).endswith("»")


def test_words_of_an_activity_say_what_drives_it_and_what_missing_costs() -> None:
    """The next council meets on Tue 4 May: four weeks after Tue 6 April, 28 days at $10."""
    given_rows = rows()
    answer = path.from_rows(given_rows, TODAY)
    about = around(answer, given_rows["links"])
    hear = "\n".join(detail(about.by_code["HEAR"], about))
    assert "File by Tue 09 Mar 2027 or open 28 days later (then Tue 04 May 2027): $280.00" in hear
    assert "drives the opening" in hear and "holds up OPEN" in hear and "waits for nothing" in hear
    assert "promises no place on the agenda" in hear
    board = "\n".join(detail(about.by_code["BOARD"], about))
    assert "driven by FRAME" in board and "holds up OPEN FF +2" in board
    assert "held: no color chosen" in detail(about.by_code["PAINT"], about)


def test_float_is_told_in_working_days_and_days_or_in_meetings() -> None:
    """PAINT begins on Mon 8 March and may begin on Fri 2 April: nineteen working days, 25 days."""
    given_rows = rows()
    answer = path.from_rows(given_rows, TODAY)
    about = around(answer, given_rows["links"])
    assert float_words(about.by_code["PAINT"], about).startswith(
        "total float 19 working days (25 days), free float 19 working"
    )
    late = rows(
        links=(),
        activities=(
            Activity(code="HEAR", name="Hearing", kind="gate", calendar="COUNCIL", duration=1),
            Activity(
                code="OPEN", name="Open", kind="work", duration=1, not_before=dt.date(2027, 5, 10)
            ),
        ),
    )
    answer = path.from_rows(late, TODAY)
    about = around(answer, ())
    assert float_words(about.by_code["HEAR"], about).startswith("total float 1 meeting (28 days)")


def test_negative_float_names_the_date_that_causes_it() -> None:
    broken = rows()
    late = Activity(
        code="BOARD", name="Wallboard", kind="work", duration=5, finish_by=dt.date(2027, 3, 16)
    )
    broken["activities"] = tuple(late if a.code == "BOARD" else a for a in broken["activities"])
    answer = path.from_rows(broken, TODAY)
    about = around(answer, broken["links"])
    assert (
        float_words(about.by_code["FRAME"], about)
        == "short by 5 working days (7 days): BOARD shall be finished by Tue 16 Mar 2027"
    )


def test_the_opening_in_words_says_that_the_cost_is_gross() -> None:
    """Forecast Tue 6 April against the promised Fri 12 March: 25 days at $10."""
    first, second = opening_words(path.from_rows(rows(), TODAY))
    assert first == "Forecast opening Tue 06 Apr 2027 · promised Fri 12 Mar 2027 · 25 days late"
    missing = "(not entered: tax, utilities, rent not earned)"
    assert second == f"A day costs at least $10.00 gross · lateness at least $250.00 {missing}"


def test_an_old_status_date_lists_what_went_by_since() -> None:
    """The cut-off for the council of Tue 6 April was Tue 9 March."""
    today = dt.date(2027, 3, 15)
    words = opening_words(path.from_rows(rows(), today))
    assert words[0].startswith("As of Fri 05 Mar 2027.")
    assert words[2] == "Gone by since then: cut-off of HEAR Tue 09 Mar 2027;"


def test_links_are_read_back_as_they_are_written() -> None:
    links = (
        Link(from_="A", to="Z"),
        Link(from_="B", to="Z", type="SS"),
        Link(from_="C", to="Z", lag=3, lag_unit="calendar"),
        Link(from_="D", to="Z", lag_unit="cutoff"),
        Link(from_="E-1", to="Z", type="FF", lag=-2),
    )
    text = links_text(links)
    assert text == "A B/SS C/FS/3/calendar D/FS/cutoff E-1/FF/-2"
    assert link_edits("Z", links, text) == ()
    assert link_edits("Z", links[:2], "A/FS/1 C") == (
        ("links", "B/Z/SS", None),
        ("links", "A/Z/FS", {"lag": "1", "lag_unit": ""}),
        ("links", "C/Z/FS", {"lag": "", "lag_unit": ""}),
    )


@pytest.mark.parametrize("text", ["A/XX", "A/FS/soon", "A A", "A/FS A/FS/2", "A/FS/99999"])
def test_links_that_cannot_be_read_are_refused(text: str) -> None:
    with pytest.raises(ValueError):
        read_links(text)


def test_a_day_more_changes_what_remains_of_work_under_way() -> None:
    answer = path.from_rows(rows(), TODAY)
    by_code = {a.code: a for a in answer.activities}
    assert a_day_more(by_code["FRAME"], 1) == ("activities", "FRAME", {"remaining": "8"})
    assert a_day_more(by_code["BOARD"], -1) == ("activities", "BOARD", {"duration": "4"})
    assert a_day_more(by_code["SURVEY"], 1) is None
    assert a_day_more(by_code["OPEN"], 1) is None


def test_changes_of_one_row_come_together_and_fall_away_when_taken_back() -> None:
    given_rows = rows()
    one = with_edits((), (("activities", "BOARD", {"duration": "6"}),), given_rows)
    both = with_edits(one, (("activities", "BOARD", {"not_before": "2027-04-01"}),), given_rows)
    assert both == (("activities", "BOARD", {"duration": "6", "not_before": "2027-04-01"}),)
    assert with_edits(one, (("activities", "BOARD", {"duration": "5"}),), given_rows) == ()


def test_an_opening_that_lies_behind_is_no_forecast() -> None:
    """A plan without progress, looked at long after: promised a week after TODAY: 893 days late at
    the least.
    """
    found = path.from_rows(rows(), TODAY + dt.timedelta(days=900))
    said = opening_words(found)
    head, late = said[0].rsplit(" · ", 1)
    assert head.endswith(
        "Forecast opening Tue 06 Apr 2027 is no longer possible: that day is over; enter a status"
        " date"
    )
    assert late == "at least 893 days late by today"
    assert "lateness at least $" in said[1]


def test_an_inspection_that_failed_is_held_but_not_done() -> None:
    """Its mark and its post say so, in the list and on the command line; once it passed it is done
    like any other.
    """
    survey = Activity(
        code="SURVEY",
        name="Survey",
        kind="gate",
        duration=1,
        actual_start=dt.date(2027, 3, 2),
        actual_finish=dt.date(2027, 3, 2),
    )
    for states, mark, word, post in (
        (("failed",), " ", "failed", "╫"),
        (("failed", "passed"), "=", "done", "╟"),
    ):
        held = tuple(
            Inspection(code=f"i-{n}", activity="SURVEY", state=state)
            for n, state in enumerate(states)
        )
        more = {"activities": (survey, *rows()["activities"][1:]), "inspections": held}
        answer = path.from_rows(rows(**more), TODAY)
        (one,) = (a for a in answer.activities if a.code == "SURVEY")
        assert (mark_of(one), state_word(one), weight(one) or " ") == (mark, word, mark)
        assert post in drawn("SURVEY", MARCH, **more)
