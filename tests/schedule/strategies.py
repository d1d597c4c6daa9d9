"""Random projects for property tests: all link types, lags both ways and in both units, milestones,
calendars, hearings.
"""

import datetime as dt
from dataclasses import replace

from hypothesis import strategies as st

from tracker.schedule.records import Activity, Calendar, CalendarDay, Link

START = dt.date(2026, 3, 2)
ONE = dt.timedelta(days=1)
NAMES = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
FIVE = Calendar(code="FIVE", weekdays=NAMES[:5])
SIX = Calendar(code="SIX", weekdays=NAMES[:6])
BODY = Calendar(
    code="BODY",
    recurrence="FREQ=WEEKLY;INTERVAL=2;BYDAY=TU",
    recurrence_from=dt.date(2026, 1, 6),
    cutoff_days=8,
    cutoff_calendar="FIVE",
)
CALENDARS = (FIVE, SIX, BODY)


@st.composite
def days_off(draw):
    days = draw(st.sets(st.integers(0, 60), max_size=8))
    return [CalendarDay(calendar="FIVE", date=START + d * ONE, works=False) for d in sorted(days)]


@st.composite
def networks(draw, most=9, hearings=True):
    """(activities, links): links only go from earlier to later rows, so that there is no loop."""
    size = draw(st.integers(2, most))
    activities = []
    for i in range(size):
        duration = draw(st.sampled_from([0, 1, 1, 2, 3, 5, 8]))
        hearing = hearings and duration == 1 and draw(st.booleans())
        not_before = (
            START + draw(st.integers(0, 20)) * ONE if draw(st.integers(0, 6)) == 0 else None
        )
        activities.append(
            Activity(
                code=f"A{i}",
                kind="milestone" if duration == 0 else "gate" if hearing else "work",
                duration=duration,
                calendar="BODY" if hearing else draw(st.sampled_from(["FIVE", "SIX"])),
                not_before=not_before,
            )
        )
    pairs = [(i, j) for j in range(size) for i in range(j)]
    links = [
        draw(links_between(activities[i], activities[j]))
        for i, j in draw(st.lists(st.sampled_from(pairs), unique=True, max_size=2 * size))
    ]
    return activities, links


@st.composite
def links_between(draw, p, s):
    """One link; into a hearing it may be a filing before the cut-off; after one, a lag counts
    calendar days.
    """
    if s.calendar == "BODY" and draw(st.booleans()):
        return Link(from_=p.code, to=s.code, type="FS", lag_unit="cutoff")
    lag = draw(st.sampled_from([0, 0, 0, 1, 2, 4, -1, -3]))
    unit = "calendar" if p.calendar == "BODY" else draw(st.sampled_from(["working", "calendar"]))
    kind = draw(st.sampled_from(["FS", "FS", "SS", "FF", "SF"]))
    return Link(from_=p.code, to=s.code, type=kind, lag=lag, lag_unit=unit)


@st.composite
def progress(draw, activities, status):
    """The same activities, some of them done or under way by a status date."""
    found = []
    for a in activities:
        state = draw(st.sampled_from(["ahead", "ahead", "under way", "done"]))
        begun = status - draw(st.integers(0, 12)) * ONE
        if state == "done":
            ended = begun + draw(st.integers(0, (status - begun).days)) * ONE
            found.append(
                replace(a, actual_start=ended if a.duration == 0 else begun, actual_finish=ended)
            )
        elif state == "under way" and a.duration and a.calendar != "BODY":
            found.append(replace(a, actual_start=begun, remaining=draw(st.integers(1, 6))))
        else:
            found.append(a)
    return found


def working_days(calendar, off, low, high):
    """The days on which a calendar works, or its body meets, as a set; written independently of the
    program.
    """
    gone = {d.date for d in off if d.calendar == calendar.code}
    days = [low + n * ONE for n in range((high - low).days)]
    if calendar.recurrence:
        return {
            d
            for d in days
            if d >= calendar.recurrence_from and (d - calendar.recurrence_from).days % 14 == 0
        }
    return {day for day in days if NAMES[day.weekday()] in calendar.weekdays and day not in gone}


def cutoffs_of(meetings, week):
    """The last day of filing for each meeting of the body: 8 days before, rolled back to a working
    day.
    """
    found = {}
    for meeting in meetings:
        day = meeting - 8 * ONE
        while day not in week and day > min(week):
            day -= ONE
        found[meeting] = day
    return found
