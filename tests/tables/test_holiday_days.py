"""Holiday sets become days of a calendar once, when they are chosen.

Independence Day is 4 July and, if that is a Sunday, observed on Monday (5 U.S.C. 6103; Executive
Order 11582; both from memory): 5 July 2027.
"""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from tracker.actions.checking import check_file
from tracker.actions.folders import import_folder, new_project
from tracker.actions.rows import remove, save
from tracker.project_file.store import open_file
from tracker.schedule.records import Calendar, CalendarDay
from tracker.tables.holiday_days import holiday_days, with_holidays
from tracker.values.problems import ProblemError
from tracker.values.project import Project
from tracker.values.records import Rows, key_text

SITE = Calendar(code="site", weekdays=("mon", "tue"), holidays=("US",))
OBSERVED = dt.date(2027, 7, 5)


def rows(*calendars: Calendar, days: tuple[CalendarDay, ...] = ()) -> Rows:
    """A project of 2027 with these calendars."""
    return {
        "project": (Project(start=dt.date(2027, 2, 1)),),
        "calendars": calendars,
        "calendar_days": days,
    }


def test_a_new_calendar_gets_its_holidays_as_days_off_with_their_names() -> None:
    after, notes = with_holidays({}, rows(SITE), {}, {})
    days = {day.date: day for day in after["calendar_days"]}
    assert (
        days[OBSERVED].works is False
        and days[OBSERVED].calendar == "site"
        and "Independence Day" in days[OBSERVED].reason
    )
    assert {day.year for day in days} == set(range(2026, 2034))
    assert len(notes) == 1 and "site" in notes[0] and "US" in notes[0]


def test_a_calendar_that_named_the_same_sets_before_is_left_alone() -> None:
    assert with_holidays(rows(SITE), rows(SITE), {}, {}) == (rows(SITE), [])


def test_a_changed_set_adds_its_days_and_leaves_those_that_are_there() -> None:
    mine = CalendarDay(calendar="site", date=OBSERVED, works=True, reason="we work")
    before = rows(Calendar(code="site", weekdays=("mon",)), days=(mine,))
    after, _ = with_holidays(before, rows(SITE, days=(mine,)), {}, {})
    assert after["calendar_days"][0] == mine
    assert sum(day.date == OBSERVED for day in after["calendar_days"]) == 1


def test_a_folder_that_brings_holidays_as_days_brings_all_of_them() -> None:
    given = {"calendar_days": (CalendarDay(calendar="site", date=OBSERVED, works=False),)}
    after, _ = with_holidays({}, rows(SITE, days=given["calendar_days"]), given, {})
    assert after["calendar_days"] == given["calendar_days"]


def test_a_day_off_that_is_no_holiday_does_not_keep_them_away() -> None:
    given = {
        "calendar_days": (CalendarDay(calendar="site", date=dt.date(2027, 8, 3), works=False),)
    }
    after, _ = with_holidays({}, rows(SITE, days=given["calendar_days"]), given, {})
    assert len(after["calendar_days"]) > 80


def test_a_folder_that_says_they_are_kept_keeps_a_calendar_whose_holidays_were_all_removed() -> (
    None
):
    assert with_holidays({}, rows(SITE), {}, {"site": "US"}) == (rows(SITE), [])
    assert len(with_holidays({}, rows(SITE), {}, {"site": "US-GA"})[1]) == 1


def test_a_set_that_was_added_to_an_exported_folder_brings_its_days_though_others_are_there() -> (
    None
):
    given = {"calendar_days": (CalendarDay(calendar="site", date=OBSERVED, works=False),)}
    georgia = Calendar(code="site", weekdays=("mon",), holidays=("US", "US-GA"))
    after, notes = with_holidays(
        {}, rows(georgia, days=given["calendar_days"]), given, {"site": "US"}
    )
    assert len(notes) == 1 and len(after["calendar_days"]) > 80


def test_an_import_that_replaces_all_days_brings_the_holidays_again_that_a_calendar_names(
    tmp_path: Path,
) -> None:
    def folder(name: str, **tables: str) -> Path:
        (tmp_path / name).mkdir()
        for table, text in tables.items():
            (tmp_path / name / f"{table}.csv").write_text(text, encoding="utf-8")
        return tmp_path / name

    whole = folder("whole", activities="code,duration\nA,3\n", calendars="code,holidays\nFIVE,US\n")
    new_project(tmp_path / "p.db", folder=whole)
    with open_file(tmp_path / "p.db") as project:
        kept = {day.date for day in project.rows(CalendarDay)}
        own = folder(
            "own",
            calendar_days=(
                "calendar,date,works,reason\nFIVE,2026-07-03,no,Independence"
                " Day\nFIVE,2026-08-04,no,dust\n"
            ),
        )
        done = import_folder(project, own, replace=True)
        days = {day.date: day for day in project.rows(CalendarDay)}
    assert (
        days.keys() == kept | {dt.date(2026, 8, 4)} and days[dt.date(2026, 8, 4)].reason == "dust"
    )
    # the day that the folder brings itself is a row of its own; all others were there before
    assert done.notes == (
        f"{len(kept) - 1} holidays of US stay in the calendar FIVE, which names US",
    )
    assert check_file(tmp_path / "p.db", None, dt.date(2026, 3, 1)) == ()


def test_days_replaced_by_none_leave_the_holidays_and_tell_of_nothing_that_was_added() -> None:
    there, notes = with_holidays({}, rows(SITE), {}, {})
    assert notes == [
        f"{len(there['calendar_days'])} holidays of US were added to the calendar site"
    ]
    after, notes = with_holidays(there, rows(SITE), {"calendar_days": ()}, {}, replaced=True)
    assert set(after["calendar_days"]) == set(there["calendar_days"])
    assert notes == [
        f"{len(there['calendar_days'])} holidays of US stay in the calendar site, which names US"
    ]


def test_holidays_that_a_calendar_has_already_are_not_told_as_added() -> None:
    there, _ = with_holidays({}, rows(SITE), {}, {})
    assert with_holidays({}, there, {}, {}) == (there, [])


def test_check_tells_of_holidays_that_a_calendar_names_and_lacks(tmp_path: Path) -> None:
    """Labor Day is the first Monday of September (5 U.S.C. 6103, from memory): 7 September 2026."""
    new_project(tmp_path / "p.db")
    with open_file(tmp_path / "p.db") as project:
        save(project, "calendars", "FIVE", {"holidays": "US"})
        save(project, "activities", "A", {"duration": "3"})
        assert check_file(tmp_path / "p.db", None, dt.date(2026, 3, 1)) == ()
        labor_day = next(
            day for day in project.rows(CalendarDay) if day.date == dt.date(2026, 9, 7)
        )
        remove(project, "calendar_days", key_text(labor_day))
        (found,) = check_file(tmp_path / "p.db", None, dt.date(2026, 3, 1))
        assert (
            "calendar FIVE names US and lacks 1 of its days, the first 2026-09-07"
            in found.sentence()
            and found.do
        )
        save(project, "calendar_days", "FIVE/2026-09-07", {"works": "yes"})
    assert check_file(tmp_path / "p.db", None, dt.date(2026, 3, 1)) == ()


def test_at_a_meeting_holidays_play_no_part() -> None:
    council = Calendar(code="council", recurrence="FREQ=MONTHLY", holidays=("US",))
    assert with_holidays({}, rows(council), {}, {}) == (rows(council), [])


def test_a_state_has_holidays_of_its_own_and_sets_add_up() -> None:
    nation = holiday_days(SITE, 2027)
    both = holiday_days(Calendar(code="site", holidays=("US", "US-GA")), 2027)
    assert nation.keys() < both.keys()


@pytest.mark.parametrize("chosen", ["XX", "US-XX", "us", "US-", "NYSE"])
def test_a_set_that_is_not_known_is_refused_with_its_calendar(chosen: str) -> None:
    with pytest.raises(ProblemError) as caught:
        with_holidays(
            {}, rows(Calendar(code="site", weekdays=("mon",), holidays=(chosen,))), {}, {}
        )
    (problem,) = caught.value.problems
    assert (problem.table, problem.key, problem.column, problem.value) == (
        "calendars",
        "site",
        "holidays",
        chosen,
    )
