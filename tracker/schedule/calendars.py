"""Calendars as index arrays: from a day to the count of working days before it, and back.

A moment is an integer: the start of a day, as the day's proleptic ordinal. Inside an expanded
calendar moments count from the first day of the horizon, so that they can be used as list indexes.

Working calendar: weekdays, single days off or on, expected weather days. Meeting calendar: a
recurrence rule (RFC 5545) with cancelled and added dates; the dates on which the body meets are its
working days.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import accumulate, compress
from typing import Any

from tracker.schedule.records import Calendar, CalendarDay
from tracker.values.kinds import WEEKDAYS
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows, new
from tracker.values.remembered import remembered

SEVEN_DAYS = new(Calendar, code="", name="every day", weekdays=WEEKDAYS)
"""What an activity follows where the project has no working calendar at all."""


@dataclass(slots=True)
class WorkDays:
    """An expanded calendar over a horizon of days counted from its first.

    before[m]: how many working days begin before moment m (one entry more than there are days).
    days[k]: the k-th working day, counted from 0. ends[k]: the moment at which the first k working
    days are over. meets: whether it is a meeting calendar. cutoffs[k]: of a meeting calendar, the
    last day on which one may file for the k-th meeting. best_cutoffs[k]: the latest of
    cutoffs[0..k].
    """

    code: str
    meets: bool
    before: list[int]
    days: list[int]
    ends: list[int]
    cutoffs: list[int] = field(default_factory=list)
    best_cutoffs: list[int] = field(default_factory=list)

    def between(self, first: int, last: int) -> range:
        """The numbers of the working days from one day to another, both included; days outside of
        the horizon hold none.
        """
        most = len(self.before) - 1
        begin, end = (self.before[min(max(moment, 0), most)] for moment in (first, last + 1))
        return range(begin, max(begin, end))


@dataclass(frozen=True, slots=True)
class CalendarSet:
    """The project's calendars as they were entered, with what is needed to expand them.

    first: the code of the calendar that an activity without one follows ("" = all seven days).
    off_or_on: by calendar, single days with their word (True on, False off, None as the rule says).
    published: by calendar, the cut-off that the body published for a meeting (day -> day). weather:
    by calendar and month, working days that weather is expected to take after `weather_from`.
    expansions: what was expanded already, by code and horizon; see plan.work_days().
    """

    calendars: Mapping[str, Calendar]
    first: str
    first_year: int
    off_or_on: Mapping[str, Mapping[int, bool | None]]
    published: Mapping[str, Mapping[int, int]]
    weather: Mapping[str, Mapping[int, int]]
    weather_from: int | None
    expansions: dict[tuple[str, int, int], WorkDays] = field(
        default_factory=dict, compare=False, repr=False
    )

    def of(self, code: str) -> Calendar:
        """The calendar that an activity with this calendar code follows; a blank code means the
        first working one.
        """
        return self.calendars[code or self.first] if (code or self.first) else SEVEN_DAYS

    def meets(self, code: str) -> bool:
        """Whether an activity with this calendar code follows a meeting calendar."""
        return bool(self.of(code).recurrence)


@remembered(keep=16, tables=("calendars", "calendar_days", "weather"))
def calendar_set(rows: Rows, first_year: int, weather_from: int | None = None) -> CalendarSet:
    """Gather the project's calendars. first_year: of the project start; weather_from: the status
    date's ordinal.

    Of the very same rows the same set is given again, so that they need not be expanded anew for
    every plan; enough are kept for a project's own and those of its snapshots while a post-mortem
    goes through them.
    """
    calendars = {c.code: c for c in rows.get("calendars", ())}
    first = next((c.code for c in calendars.values() if not c.recurrence), "")
    off_or_on: dict[str, dict[int, bool | None]] = {}
    published: dict[str, dict[int, int]] = {}
    for day in rows.get("calendar_days", ()):
        remember(day, off_or_on, published)
    weather: dict[str, dict[int, int]] = {}
    for row in rows.get("weather", ()):
        weather.setdefault(row.calendar, {})[row.month] = row.expected_days
    return CalendarSet(calendars, first, first_year, off_or_on, published, weather, weather_from)


def remember(
    day: CalendarDay,
    off_or_on: dict[str, dict[int, bool | None]],
    published: dict[str, dict[int, int]],
) -> None:
    """File one row of calendar_days under its calendar."""
    number = day.date.toordinal()
    off_or_on.setdefault(day.calendar, {})[number] = day.works
    if day.cutoff is not None:
        published.setdefault(day.calendar, {})[number] = day.cutoff.toordinal()


def expand(known: CalendarSet, code: str, low: int, high: int) -> WorkDays:
    """Expand a calendar over the days from low to high (ordinals, high excluded).

    Cut-offs are not filled in here: schedule/cutoffs.py is their home.
    """
    calendar = known.of(code)
    single = known.off_or_on.get(calendar.code, {})
    if calendar.recurrence:
        numbers = meeting_days(calendar, single, known.first_year, low, high)
        flags = bytearray(high - low)
        for number in numbers:
            flags[number - low] = 1
    else:
        flags = weekday_flags(calendar.weekdays, low, high)
        for number, works in single.items():
            if works is not None and low <= number < high:
                flags[number - low] = works
        take_weather(flags, known.weather.get(calendar.code, {}), low, known.weather_from)
    return WorkDays(
        code=calendar.code,
        meets=bool(calendar.recurrence),
        before=list(accumulate(flags, initial=0)),
        days=list(compress(range(high - low), flags)),
        ends=[0, *compress(range(1, high - low + 1), flags)],
    )


def weekday_flags(weekdays: Sequence[str], low: int, high: int) -> bytearray:
    """One byte a day: 1 where the weekday works. Ordinal 1 is a Monday."""
    week = [WEEKDAYS[(low + offset + 6) % 7] in weekdays for offset in range(7)]
    return bytearray(bytes(week) * ((high - low) // 7 + 1))[: high - low]


def take_weather(
    flags: bytearray, expected: Mapping[int, int], low: int, after: int | None
) -> None:
    """Take the last n working days of each month that lie after the status date (ordinal; None:
    all).
    """
    if not any(expected.values()):
        return
    left: dict[tuple[int, int], int] = {}
    for offset in range(len(flags) - 1, -1, -1):
        number = low + offset
        if not flags[offset] or (after is not None and number <= after):
            continue
        day = dt.date.fromordinal(number)
        month = (day.year, day.month)
        if left.setdefault(month, expected.get(day.month, 0)):
            left[month] -= 1
            flags[offset] = 0


def meeting_days(
    calendar: Calendar, single: Mapping[int, bool | None], first_year: int, low: int, high: int
) -> Iterable[int]:
    """The days (ordinals) from low to high on which the body meets: the rule's, less cancelled,
    plus added ones.
    """
    found = set(
        recurring_days(
            calendar.recurrence, calendar.recurrence_from or dt.date(first_year, 1, 1), low, high
        )
    )
    for number, works in single.items():
        if works is False:
            found.discard(number)
        elif works and low <= number < high:
            found.add(number)
    return found


@lru_cache(maxsize=64)
def recurring_days(recurrence: str, begin: dt.date, low: int, high: int) -> tuple[int, ...]:
    """The days (ordinals) of a recurrence rule from low to high, none before `begin`."""
    rule = recurrence_rule(recurrence, begin)
    first, last = dt.date.fromordinal(max(low, 1)), dt.date.fromordinal(high - 1)
    at_midnight = dt.datetime.combine(first, dt.time()), dt.datetime.combine(last, dt.time())
    return tuple(moment.toordinal() for moment in rule.between(*at_midnight, inc=True))


# The largest number of each part of a recurrence, and whether it may count from the end (RFC 5545,
# 3.3.10); none may
# be 0: an interval of 0 would never come to an end. INTERVAL and COUNT have no bound there; 9,999
# is ours.
LARGEST = {
    "INTERVAL": (9_999, False),
    "COUNT": (9_999, False),
    "BYDAY": (53, True),
    "BYMONTHDAY": (31, True),
    "BYYEARDAY": (366, True),
    "BYWEEKNO": (53, True),
    "BYMONTH": (12, False),
    "BYSETPOS": (366, True),
}


def numbers_of(name: str, value: str) -> list[str]:
    """The numbers of one part of a recurrence as they are written; a weekday without one (TU) has
    none.
    """
    listed = value.split(",")
    return [n for n in (item.strip()[:-2] for item in listed) if n] if name == "BYDAY" else listed


def is_within(number: str, largest: int, signed: bool) -> bool:
    """Whether a number of a recurrence lies in 1 to the largest, or, where it may be signed, in
    their negatives.
    """
    digits = number.strip().removeprefix("+").removeprefix("-" if signed else "+")
    return digits.isascii() and digits.isdigit() and len(digits) < 5 and 0 < int(digits) <= largest


def recurrence_rule(recurrence: str, begin: dt.date) -> Any:
    """The rule of an RRULE value (RFC 5545, 3.3.10).

    ValueError says what is wrong, as the end of a sentence.
    """
    from dateutil.rrule import rrulestr

    text = recurrence.strip().upper().removeprefix("RRULE:")
    pairs = [part.partition("=")[::2] for part in text.split(";")]
    parts = dict(pairs)
    if parts.get("FREQ") not in ("DAILY", "WEEKLY", "MONTHLY", "YEARLY"):
        raise ValueError(
            "is no recurrence by days, weeks, months or years, like FREQ=MONTHLY;BYDAY=2TU"
        )
    if any(name in parts for name in ("BYHOUR", "BYMINUTE", "BYSECOND")):
        raise ValueError("names an hour: a body's meetings are counted by days")
    if len(parts) < len(pairs) or {"COUNT", "UNTIL"} <= parts.keys():
        raise ValueError("names a part twice, or both COUNT and UNTIL")
    for name, part in parts.items():
        if name in LARGEST and not all(
            is_within(n, *LARGEST[name]) for n in numbers_of(name, part)
        ):
            raise ValueError(f"has a number in {name} that RFC 5545 does not allow")
    if "UNTIL" in parts:
        parts["UNTIL"] = parts["UNTIL"].removesuffix("Z")
    try:
        rule = rrulestr(
            ";".join(f"{name}={part}" for name, part in parts.items()),
            dtstart=dt.datetime.combine(begin, dt.time()),
        )
    except (ValueError, KeyError, TypeError, AttributeError, IndexError):
        raise ValueError("is no recurrence rule of RFC 5545, like FREQ=MONTHLY;BYDAY=2TU") from None
    if never_comes(parts):
        raise ValueError("gives no date: no month or period has the days that it names")
    return rule


MOST_DATES = {"DAILY": 1, "WEEKLY": 7, "MONTHLY": 31, "YEARLY": 366}
"""How many dates a period can have, of which BYSETPOS picks some."""
ONE_LEAP_YEAR_AND_ANOTHER = [dt.date(2023, 1, 1) + dt.timedelta(days=n) for n in range(365 + 366)]


def never_comes(parts: Mapping[str, str]) -> bool:
    """Whether a recurrence, readable as it is, names days that there are not: the 30th of February,
    the fifth date of a day.

    Such a rule would be looked through for seconds, up to the year 9999.
    """
    period = parts["FREQ"]
    if "BYSETPOS" in parts and all(abs(n) > MOST_DATES[period] for n in listed(parts, "BYSETPOS")):
        return True
    turns = numbers_of("BYDAY", parts.get("BYDAY", ""))
    within_month = period == "MONTHLY" or (period == "YEARLY" and "BYMONTH" in parts)
    if (
        within_month
        and turns
        and len(turns) == len(parts["BYDAY"].split(","))
        and all(abs(int(n)) > 5 for n in turns)
    ):
        return True
    months, days, year_days = (
        listed(parts, name) for name in ("BYMONTH", "BYMONTHDAY", "BYYEARDAY")
    )
    return not any(
        (not months or day.month in months)
        and (not days or places(day, 1) & days)
        and (not year_days or places(day, 12) & year_days)
        for day in ONE_LEAP_YEAR_AND_ANOTHER
    )


def listed(parts: Mapping[str, str], name: str) -> set[int]:
    """The numbers of one part of a recurrence; none where it is not named."""
    return {int(n) for n in parts[name].split(",")} if name in parts else set()


def places(day: dt.date, months: int) -> set[int]:
    """Where a day stands in its month (1) or year (12), counted from 1, and from the end
    from -1.
    """
    first = day.replace(day=1) if months == 1 else dt.date(day.year, 1, 1)
    after = (
        dt.date(day.year + 1, 1, 1)
        if months == 12 or day.month == 12
        else dt.date(day.year, day.month + 1, 1)
    )
    return {(day - first).days + 1, (day - after).days}


def no_working_day(calendar: str, activity: str, after: int) -> ProblemError:
    """The error of a calendar on which nothing can ever be done."""
    day = dt.date.fromordinal(after)
    name = f"calendar {calendar}" if calendar else "the calendar"
    return ProblemError(
        Problem(
            what=(
                f"{name} has no working day within 20 years after {day.isoformat()}, so activity"
                f" {activity} finds no place"
            ),
            do="add working days or meetings to the calendar, or give the activity another one",
            table="activities",
            key=activity,
            column="calendar",
            value=calendar,
        )
    )


def too_late(calendar: str, activity: str) -> ProblemError:
    """The error of a date beyond what the tool counts."""
    name = f" on calendar {calendar}" if calendar else ""
    return ProblemError(
        Problem(
            what=f"activity {activity}{name} would lie after 2199",
            do="check durations, lags and dates before it",
            table="activities",
            key=activity,
            column="duration",
        )
    )
