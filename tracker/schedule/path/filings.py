"""Cases that were filed after the cut-off of the meeting that they aimed at.

A case that is filed reaches the first meeting whose cut-off lies on or after the day of its filing,
and none before it (gathering.py holds the hearing until then). One that has an outcome asks nothing
any more: what the body did is a fact.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator

from tracker.schedule.cutoffs import meetings_between
from tracker.schedule.path.passes import forward_one
from tracker.schedule.path.plan import Plan, Run
from tracker.schedule.remarks import Remark
from tracker.values.days import full_day
from tracker.values.frozen import value


@value
class LateFiling:
    """A case filed after the cut-off of its meeting.

    missed: the meeting aimed at, by the row of the case, else by the plan as it were without this
    filing. cutoff: its last day of filing. reached: the meeting that the plan has the hearing on
    now.
    """

    case: str
    activity: str
    calendar: str
    filed_on: dt.date
    missed: dt.date
    cutoff: dt.date
    reached: dt.date

    def words(self, hour: str = "") -> str:
        """What was missed and what is reached, in a sentence. hour: until which filings are taken
        on the last day, if known.
        """
        until = f"{full_day(self.cutoff)}, {hour}" if hour else full_day(self.cutoff)
        return (
            f"{self.case} was filed on {full_day(self.filed_on)}, after the cut-off ({until}) for"
            f" the meeting of {full_day(self.missed)}: the plan takes the meeting of"
            f" {full_day(self.reached)}"
        )


DO = (
    "ask the office; if it takes the filing all the same, enter that day as the cut-off of the"
    " meeting (calendar_days)"
)


def late_filings(plan: Plan) -> tuple[LateFiling, ...]:
    """The cases of a plan that were filed too late for the meeting that they aimed at, in the order
    of their activities.
    """
    r = plan.run
    return (
        tuple(one for i in sorted(r.gathered.filed) for one in _late(r, i)) if r is not None else ()
    )


def held_back(plan: Plan) -> dict[str, dt.date]:
    """By activity the meeting that it waits for only because of the day of its filing; for a plan
    kept without its cases.
    """
    r = plan.run
    if r is None:
        return {}
    return {
        r.gathered.activities[i].code: dt.date.fromordinal(r.low + r.times.begin[i])
        for i in sorted(r.gathered.filed)
        if _begin_without(r, i) < r.times.begin[i]
    }


def late_remarks(plan: Plan) -> list[Remark]:
    """What the plan has to say of them."""
    return [
        Remark("filed_late", one.activity, f"{one.words()}; {DO}") for one in late_filings(plan)
    ]


def _late(r: Run, i: int) -> Iterator[LateFiling]:
    """The cases of one activity that were filed too late."""
    reached = r.low + r.times.begin[i]
    otherwise = r.low + _begin_without(r, i)
    now = dt.date.fromordinal(reached)
    for filed in r.gathered.filed[i]:
        aims = (filed.hearing_on.toordinal() if filed.hearing_on else otherwise, otherwise)
        known = (
            meetings_between(r.gathered.calendars, filed.calendar, day, day + 1)
            for day in aims
            if day < reached
        )
        for meeting in (one for found in known for one in found):
            if meeting.cutoff < filed.filed_on:
                code = r.gathered.activities[i].code
                yield LateFiling(
                    filed.case,
                    code,
                    filed.calendar,
                    filed.filed_on,
                    meeting.day,
                    meeting.cutoff,
                    now,
                )
                break


def _begin_without(r: Run, i: int) -> int:
    """The moment (of the horizon) at which a hearing would begin if nothing were on record of its
    filing.
    """
    t = r.times
    lists = (t.floor, t.begin, t.finish, t.place, t.driver)
    was = [one[i] for one in lists]
    t.floor[i] = r.gathered.floor_unfiled[i] - r.low
    try:
        forward_one(r.gathered.network, t, i)
        return t.begin[i]
    finally:
        for one, old in zip(lists, was, strict=True):
            one[i] = old
