"""Random projects for property tests: all link types, lags both ways and in both units, milestones, two calendars."""

import datetime as dt

from hypothesis import strategies as st

from tracker.schedule.records import Activity, Calendar, CalendarDay, Link

START = dt.date(2026, 3, 2)
FIVE = Calendar(code="FIVE", weekdays=("mon", "tue", "wed", "thu", "fri"))
SIX = Calendar(code="SIX", weekdays=("mon", "tue", "wed", "thu", "fri", "sat"))


@st.composite
def days_off(draw):
    days = draw(st.sets(st.integers(0, 60), max_size=8))
    return [CalendarDay(calendar="FIVE", date=START + dt.timedelta(days=d), works=False) for d in sorted(days)]


@st.composite
def networks(draw, most=9):
    """(activities, links): links only go from earlier to later rows, so that there is no loop."""
    size = draw(st.integers(2, most))
    activities = []
    for i in range(size):
        duration = draw(st.sampled_from([0, 1, 1, 2, 3, 5, 8]))
        not_before = START + dt.timedelta(days=draw(st.integers(0, 20))) if draw(st.integers(0, 6)) == 0 else None
        activities.append(
            Activity(
                code=f"A{i}",
                kind="milestone" if duration == 0 else "work",
                duration=duration,
                calendar=draw(st.sampled_from(["FIVE", "SIX"])),
                not_before=not_before,
            )
        )
    pairs = [(i, j) for j in range(size) for i in range(j)]
    links = []
    for i, j in draw(st.lists(st.sampled_from(pairs), unique=True, max_size=2 * size)):
        lag = draw(st.sampled_from([0, 0, 0, 1, 2, 4, -1, -3]))
        unit = draw(st.sampled_from(["working", "calendar"]))
        links.append(
            Link(from_=f"A{i}", to=f"A{j}", type=draw(st.sampled_from(["FS", "FS", "SS", "FF", "SF"])), lag=lag, lag_unit=unit)
        )
    return activities, links
