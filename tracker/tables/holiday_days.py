"""Holiday sets become days of the calendar, once, when they are chosen.

The days are kept, so that a later version of the library of holidays moves nothing, and an owner
can change any of them. They are made for the years from one before the project's first to six after
it. Source of the days: the library `holidays` (python-holidays), by country and, after a dash,
state: US, US-GA.

When: a working calendar is new and names sets, its sets have changed, or an import replaced the
days of all calendars. Not where a folder brings the days itself: its datapackage.json says that the
days of these sets are kept already, or says nothing of the calendar and its calendar_days.csv turns
off one of the very days (which says nothing where it replaces all days). Days of a set that is no
longer named stay; whoever wants them gone removes them.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Container, Iterable, Mapping, Sequence
from typing import Any

from tracker.schedule.records import Calendar, CalendarDay
from tracker.tables.consequences import start_of
from tracker.values.kinds import WEEKDAYS
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows, new

YEARS_BEFORE, YEARS_AFTER = 1, 6


def with_holidays(
    before: Rows, after: Rows, given: Rows, kept: Mapping[str, str], replaced: bool = False
) -> tuple[dict[str, Any], list[str]]:
    """The rows after a change with the days of newly chosen holiday sets added, and a note for each
    such calendar.

    given: rows that a folder brings. kept: by calendar the sets whose days are among them already.
    replaced: the days of all calendars were replaced by those that the folder brings. A day that
    the calendar has a row for already stays as that row says. ProblemError for a set that is not
    known.
    """
    made = dict(after)
    notes = []
    old = {calendar.code: calendar for calendar in before.get("calendars", ())}
    for calendar in after.get("calendars", ()):
        chosen = (
            _names_days(calendar) if replaced else _newly_chosen(calendar, old.get(calendar.code))
        )
        if not chosen or kept.get(calendar.code) == " ".join(calendar.holidays):
            continue
        days = holiday_days(calendar, start_of(after).year)
        if (
            not replaced
            and calendar.code not in kept
            and _brought(calendar, days, given.get("calendar_days", ()))
        ):
            continue
        added = _missing(calendar, days, made.get("calendar_days", ()))
        if not added:
            continue
        made["calendar_days"] = (*made.get("calendar_days", ()), *added)
        notes += _notes(calendar, added, before.get("calendar_days", ()))
    return made, notes


def _notes(
    calendar: Calendar, added: Sequence[CalendarDay], before: Sequence[CalendarDay]
) -> list[str]:
    """How many holidays a calendar got, and how many that it had already stay though all its days
    were replaced.
    """
    had = set(before)
    stay, sets = sum(day in had for day in added), " ".join(calendar.holidays)
    found = []
    if len(added) > stay:
        found.append(
            f"{_holidays(len(added) - stay)} of {sets} were added to the calendar {calendar.code}"
        )
    if stay:
        found.append(
            f"{_holidays(stay)} of {sets} stay in the calendar {calendar.code}, which names {sets}"
        )
    return found


def _holidays(number: int) -> str:
    """So many holidays, one as one."""
    return "1 holiday" if number == 1 else f"{number} holidays"


def lacking(rows: Rows, through: dt.date) -> list[Problem]:
    """Working calendars that name holiday sets and have no row for some of their days, from the
    project's first year through that of a day; nothing for a set that is not known. Days on which
    the calendar is off anyway don't count; a holiday on which people work has a row that says so.
    """
    found = []
    first = start_of(rows).year
    for calendar in rows.get("calendars", ()):
        try:
            days = holiday_days(calendar, first) if _names_days(calendar) else {}
        except ProblemError:
            continue
        there = {d.date for d in rows.get("calendar_days", ()) if d.calendar == calendar.code}
        years = range(first, max(first, through.year) + 1)
        missing = [
            d
            for d in days
            if d.year in years and WEEKDAYS[d.weekday()] in calendar.weekdays and d not in there
        ]
        if missing:
            sets = " ".join(calendar.holidays)
            what = (
                f"calendar {calendar.code} names {sets} and lacks {len(missing)} of its days, the"
                f" first {missing[0].isoformat()}"
            )
            do = (
                "empty the calendar's holidays and name them again; where you work on such a day,"
                " add it with works = yes"
            )
            found.append(Problem(what, do, "calendars", calendar.code, "holidays"))
    return found


def holiday_days(calendar: Calendar, first_year: int) -> dict[dt.date, str]:
    """The holidays of a calendar's sets with their names, by date. Two on one day have both
    names.
    """
    names: dict[dt.date, list[str]] = {}
    for chosen in calendar.holidays:
        for day, name in _days_of(
            chosen, calendar.code, range(first_year - YEARS_BEFORE, first_year + YEARS_AFTER + 1)
        ):
            if name not in names.setdefault(day, []):
                names[day].append(name)
    return {day: "; ".join(names[day]) for day in sorted(names)}


def _newly_chosen(calendar: Calendar, old: Calendar | None) -> bool:
    """Whether a working calendar names holiday sets that it did not name before.

    At a meeting holidays play no part.
    """
    return _names_days(calendar) and (old is None or old.holidays != calendar.holidays)


def _names_days(calendar: Calendar) -> bool:
    """Whether a calendar gets days from holiday sets: a working one that names some."""
    return bool(calendar.holidays) and not calendar.recurrence


def _brought(calendar: Calendar, days: Container[dt.date], given: Sequence[CalendarDay]) -> bool:
    """Whether a folder that says nothing of it brings the days itself: it turns off one of them."""
    return any(d.calendar == calendar.code and d.works is False and d.date in days for d in given)


def _days_of(chosen: str, calendar: str, years: Iterable[int]) -> list[tuple[dt.date, str]]:
    """The days of one set. ProblemError if the library does not know it."""
    import holidays

    country, dash, state = chosen.partition("-")
    supported = holidays.list_supported_countries(include_aliases=False)
    if country not in supported or (dash and state not in supported[country]):
        states = (
            f"; the states of {country} are {', '.join(supported[country])}"
            if supported.get(country)
            else ""
        )
        do = f"name a country, or a country and its state, like US or US-GA{states}"
        raise ProblemError(
            Problem(
                what="no such holidays are known",
                do=do,
                table="calendars",
                key=calendar,
                column="holidays",
                value=chosen,
            )
        )
    found = holidays.country_holidays(country, subdiv=state or None, years=years)
    return [(day, str(name)) for day, name in found.items()]


def _missing(
    calendar: Calendar, days: Mapping[dt.date, str], there: Sequence[CalendarDay]
) -> list[CalendarDay]:
    """Rows for the holidays on which the calendar has no row yet."""
    taken = {d.date for d in there if d.calendar == calendar.code}
    off = {day: name for day, name in days.items() if day not in taken}
    return [
        new(CalendarDay, calendar=calendar.code, date=day, works=False, reason=name)
        for day, name in off.items()
    ]
