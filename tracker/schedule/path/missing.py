"""What missing a meeting (or its filing cut-off) costs: through the network, not by the days to the
next meeting.

The meeting is struck out for the activities that aim at it, the forward pass runs again, and the
opening moves or not. An activity aims at the meeting that its early dates cover.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from tracker.schedule.lateness import cost_of_move
from tracker.schedule.path.plan import Plan, Run, run
from tracker.schedule.progress import DONE
from tracker.schedule.records import StepCost
from tracker.values.frozen import value


@value
class Missed:
    """What happens if one meeting is missed.

    aiming: the codes of the activities that aim at it. next_dates: their early finish then, by
    code. opening_days_lost: calendar days by which the opening moves. cost_cents: of that move,
    step costs included.
    """

    aiming: tuple[str, ...]
    next_dates: dict[str, dt.date]
    opening_days_lost: int
    cost_cents: int


def miss(
    plan: Plan, calendar: str, meeting: dt.date, cost_of_a_day: int, steps: Iterable[StepCost]
) -> Missed | None:
    """The effect of missing a body's meeting.

    None for a body at which no unfinished activity meets; nothing is lost where some meet, but none
    at that meeting. cost_of_a_day in cents.
    """
    before = plan.run
    if before is None or plan.opening is None:
        return None
    codes, times, low = before.gathered.calendar_codes, before.times, before.low
    meeting_here = [
        i
        for i, code in enumerate(codes)
        if code == calendar and times.mode[i] != DONE and times.works[i].meets
    ]
    if not meeting_here:
        return None
    day = meeting.toordinal() - low
    aiming = [
        i
        for i in meeting_here
        if times.begin[i] <= day < times.finish[i] and covers(before, i, day)
    ]
    if not aiming:
        return Missed((), {}, 0, 0)
    struck = frozenset({meeting.toordinal()})
    after = run(before.gathered, late=False, struck=dict.fromkeys(aiming, struck))
    moved = after.opening_moment() - before.opening_moment()
    opening = plan.opening + dt.timedelta(days=moved)
    activities = before.gathered.activities
    return Missed(
        aiming=tuple(activities[i].code for i in aiming),
        next_dates={
            activities[i].code: dt.date.fromordinal(after.low + after.times.finish[i] - 1)
            for i in aiming
        },
        opening_days_lost=moved,
        cost_cents=cost_of_move(steps, plan.opening, opening, cost_of_a_day),
    )


def covers(r: Run, i: int, day: int) -> bool:
    """Whether the body meets on a day (of the horizon) for activity i."""
    before = r.times.works[i].before
    return 0 <= day < len(before) - 1 and before[day + 1] > before[day]


def meeting_of(r: Run, i: int) -> tuple[dt.date, dt.date]:
    """The meeting that an activity on a meeting calendar reaches with its early dates, and its
    cut-off.
    """
    works, place = r.times.works[i], r.times.place[i]
    return (
        dt.date.fromordinal(r.low + works.days[place]),
        dt.date.fromordinal(max(1, r.low + works.cutoffs[place])),
    )
