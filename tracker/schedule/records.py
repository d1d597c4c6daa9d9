"""The schedule's tables: calendars, activities, links, deliveries, risks, delays, snapshots."""

from __future__ import annotations

import datetime as dt

from tracker.values.kinds import (
    Cents,
    Choice,
    Code,
    Codes,
    Day,
    Number,
    Party,
    Rate,
    Text,
    Weekdays,
    YesNo,
)
from tracker.values.records import column, record

CAUSES = (
    "no-show",
    "slow work",
    "failed inspection",
    "waiting on authority",
    "hearing missed",
    "late decision by owner",
    "change",
    "late delivery",
    "weather",
    "hidden condition",
    "plan revised",
    "other",
)
MOST = 10_000_000_000
LONGEST = 9_999
"""The longest duration or lag, in days."""


@record("step_costs", "Dates that cost a lump sum when the opening passes them")
class StepCost:
    """A lump sum that falls due when the opening is later than a date."""

    code: str = column(Code(), key=True)
    date: dt.date | None = column(Day(), required=True)
    amount: int = column(Cents(), required=True, help="dollars, once")
    reason: str = column(Text())


@record("calendars", "Working calendars, and the meeting calendars of boards and councils")
class Calendar:
    """A working calendar (blank recurrence) or a meeting calendar (the dates on which a body
    meets).
    """

    code: str = column(Code(), key=True)
    name: str = column(Text())
    weekdays: tuple[str, ...] = column(
        Weekdays(), help="days of the week that work; blank only on a meeting calendar"
    )
    holidays: tuple[str, ...] = column(
        Codes(), help="holiday sets like US or US-GA, kept as days when chosen"
    )
    recurrence: str = column(Text(), help="RRULE value of RFC 5545; blank: a working calendar")
    recurrence_from: dt.date | None = column(Day(), help="the day from which the recurrence counts")
    cutoff_days: int | None = column(
        Number(0, LONGEST), help="calendar days before the meeting by which one must have filed"
    )
    cutoff_calendar: str = column(
        Code(), refers="calendars", help="the cut-off rolls back to a working day of this calendar"
    )
    continued_share: int | None = column(
        Rate(), help="percent of cases that are continued, by experience"
    )
    members: int | None = column(Number(1, 999), help="all members of the body")


@record("calendar_days", "Single days of a calendar, on or off, and published cut-offs")
class CalendarDay:
    """One day that differs from the calendar's rule, or carries the cut-off published for that
    meeting.
    """

    calendar: str = column(Code(), key=True, refers="calendars")
    date: dt.date = column(Day(), key=True)
    works: bool | None = column(
        YesNo(), help="yes: works or meets, no: does not, blank: as the rule says"
    )
    cutoff: dt.date | None = column(
        Day(), help="the filing date that the body published for this meeting"
    )
    reason: str = column(Text())
    because: str = column(Code(), help="the change, inspection or delay event behind it")


@record("weather", "Working days of a month that weather is expected to take")
class Weather:
    """Expected weather days: the last ones of each month are off in the forecast."""

    calendar: str = column(Code(), key=True, refers="calendars")
    month: int = column(Number(1, 12), key=True)
    expected_days: int = column(Number(0, 31), required=True, help="working days")


@record("activities", "What is to be done, waited for or delivered")
class Activity:
    """An activity, gate, delivery or milestone. Durations in working days of its own calendar."""

    code: str = column(Code(), key=True)
    name: str = column(Text(), help="blank: the code")
    kind: str = column(
        Choice(("work", "gate", "delivery", "milestone")),
        help="blank: work, or milestone if duration is 0",
    )
    trade: str = column(Text(), help="who does it, by trade")
    contract: str = column(Code(), refers="contracts")
    permit: str = column(Code(), refers="permits")
    space: str = column(Code(), refers="spaces")
    calendar: str = column(Code(), refers="calendars", help="blank: the first working calendar")
    duration: int | None = column(
        Number(0, LONGEST), help="working days; blank: 1, or 0 for a milestone"
    )
    not_before: dt.date | None = column(Day(), help="does not start before")
    finish_by: dt.date | None = column(Day(), help="shall be finished by the end of this day")
    optimistic: int | None = column(
        Number(0, LONGEST), help="working days that remain if all goes well"
    )
    pessimistic: int | None = column(
        Number(0, LONGEST), help="working days that remain if things go badly"
    )
    actual_start: dt.date | None = column(Day(), fact=True)
    actual_finish: dt.date | None = column(Day(), fact=True)
    remaining: int | None = column(
        Number(0, LONGEST), help="working days left of work under way; blank: computed"
    )
    held: str = column(Text(), help="why it is held, if it is")
    because: str = column(
        Code(),
        help="the change, inspection or delay event because of which it was added or revised",
    )
    note: str = column(Text())


@record("links", "What waits for what")
class Link:
    """A predecessor and a successor. The lag is in days of its unit."""

    from_: str = column(Code(), key=True, refers="activities")
    to: str = column(Code(), key=True, refers="activities")
    type: str = column(Choice(("FS", "SS", "FF", "SF")), key=True, empty="FS")
    lag: int | None = column(Number(-LONGEST, LONGEST), help="days; blank: 0")
    lag_unit: str = column(
        Choice(("working", "calendar", "cutoff")),
        help="blank: working, or calendar after a meeting",
    )


@record("deliveries", "Long-lead goods: five dates of one delivery")
class Delivery:
    """The dates of one delivery activity, as they become known."""

    activity: str = column(Code(), key=True, refers="activities")
    submitted: dt.date | None = column(Day(), fact=True)
    approved: dt.date | None = column(Day(), fact=True)
    ordered: dt.date | None = column(Day(), fact=True)
    promised_ship: dt.date | None = column(Day())
    on_site: dt.date | None = column(Day(), fact=True)


@record("risks", "Things that may happen, and the activities that they would hit")
class Risk:
    """A risk event; its effect in working days."""

    code: str = column(Code(), key=True)
    name: str = column(Text())
    probability: int = column(Rate(), required=True, help="percent")
    optimistic: int | None = column(Number(0, LONGEST), help="working days")
    likely: int | None = column(Number(0, LONGEST), help="working days")
    pessimistic: int | None = column(Number(0, LONGEST), help="working days")
    activities: tuple[str, ...] = column(Codes(), refers="activities")


@record("buying_days", "What a working day won on an activity would cost, and how many can be had")
class BuyingDays:
    """An offer to be faster: overtime, a second crew, quicker shipping."""

    activity: str = column(Code(), key=True, refers="activities")
    cost_per_day: int = column(Cents(), required=True, help="dollars for each working day won")
    most_days: int | None = column(
        Number(1, LONGEST), help="working days that can be won; blank: all but one"
    )
    note: str = column(Text(), help="how it would be won")


@record("delays", "What cost time on site, why, and through whom")
class Delay:
    """A delay event of the site log."""

    code: str = column(Code(), key=True)
    activity: str = column(Code(), required=True, refers="activities")
    first: dt.date | None = column(Day(), required=True)
    last: dt.date | None = column(Day())
    days: int = column(Number(0, LONGEST), required=True, help="working days lost")
    cause: str = column(Choice(CAUSES), required=True)
    party: str = column(Party(), required=True)
    direct_cost: int | None = column(Cents(), help="dollars that it cost by itself")
    note: str = column(Text())
    evidence: str = column(Text())


@record("snapshots", "The plan as it stood when a status date was closed")
class Snapshot:
    """The head of a snapshot; its content is kept as the tables stood."""

    date: dt.date = column(Day(), key=True)
    baseline: bool = column(YesNo(), empty=False, help="the plan to be held against")
    note: str = column(Text())
    opening: dt.date | None = column(Day(), help="the forecast opening as it stood")
    cost_of_a_day: int | None = column(Cents(), help="dollars a day, as it stood")
    design_share: int | None = column(
        Rate(-MOST, MOST), help="design contingency in percent of hard cost left"
    )
    construction_share: int | None = column(Rate(-MOST, MOST), help="the same of construction")
    hash: str = column(Text(), help="SHA-256 over the content")
