"""What the trials draw from: three-point durations, risk events, hearings that may be continued.

Blank optimistic and pessimistic durations: taken as certain. Expected weather days stand in the
calendars already and are therefore never drawn (never at once in the calendar and as a risk).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from tracker.schedule.path.plan import Run
from tracker.schedule.progress import DONE, POINT
from tracker.schedule.records import Risk
from tracker.schedule.remarks import Remark
from tracker.values.frozen import value
from tracker.values.money import WHOLE_RATE
from tracker.values.project import Project
from tracker.values.records import Rows, new

WHOLE_CORRELATION = 1_000


@value
class ThreePoint:
    """An optimistic, likely and pessimistic number of working days, in this order of size."""

    optimistic: float
    likely: float
    pessimistic: float

    @property
    def certain(self) -> bool:
        """Whether there is nothing to draw."""
        return self.optimistic == self.pessimistic


@value
class Event:
    """A risk event: with its probability (0 to 1) it adds the same days to all unfinished
    activities that it hits.
    """

    code: str
    name: str
    probability: float
    days: ThreePoint
    hits: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class RiskInput:
    """What the trials draw.

    shape: pert or triangular. days: by number of unfinished activity, the working days that remain.
    fellows: by trade, the uncertain activities that share a common cause; correlation: of the
    Gaussian copula between two of them, 0 to 1. continued: by number of a hearing, the chance (0 to
    1) that it takes one meeting more.
    """

    shape: str
    trials: int
    seed: int
    correlation: float
    days: dict[int, ThreePoint]
    fellows: dict[str, tuple[int, ...]]
    events: tuple[Event, ...]
    continued: dict[int, float]
    remarks: tuple[Remark, ...]

    def uncertain(self) -> list[int]:
        """The numbers of the activities whose durations are drawn, in row order."""
        return [i for i, days in self.days.items() if not days.certain]

    def draws_anything(self) -> bool:
        """Whether any trial can differ from the plan."""
        hit = any(
            event.hits and event.probability and event.days.pessimistic for event in self.events
        )
        return bool(self.uncertain() or hit or self.continued)


def risk_input(rows: Rows, r: Run) -> RiskInput:
    """Gather what the trials draw from a project's rows and its computed schedule."""
    project = next(iter(rows.get("project", ())), None) or new(Project)
    g, mode = r.gathered, r.times.mode
    days = {i: remaining_days(r, i) for i, m in enumerate(mode) if m not in (DONE, POINT)}
    fellows: dict[str, list[int]] = {}
    for i, three in days.items():
        trade = g.activities[i].trade.strip().casefold()
        if trade and not three.certain:
            fellows.setdefault(trade, []).append(i)
    number = {a.code: i for i, a in enumerate(g.activities)}
    calendars = g.calendars.calendars
    shares = {
        i: calendars[g.calendar_codes[i]].continued_share for i in days if r.times.works[i].meets
    }
    return RiskInput(
        shape=project.risk_shape,
        trials=project.risk_trials,
        seed=project.risk_seed,
        correlation=project.common_cause / WHOLE_CORRELATION,
        days=days,
        fellows={trade: tuple(them) for trade, them in fellows.items() if len(them) > 1},
        events=tuple(event_of(risk, number, days) for risk in rows.get("risks", ())),
        continued={i: share / WHOLE_RATE for i, share in shares.items() if share},
        remarks=tuple(remarks_on(rows, r, number, days)),
    )


def remaining_days(r: Run, i: int) -> ThreePoint:
    """The days that remain of an activity.

    A bound on the wrong side of what the schedule takes as likely is moved to it.
    """
    activity, likely = r.gathered.activities[i], r.times.days[i]
    low = likely if activity.optimistic is None else min(activity.optimistic, likely)
    high = likely if activity.pessimistic is None else max(activity.pessimistic, likely)
    return ThreePoint(low, likely, high)


def event_of(risk: Risk, number: dict[str, int], days: dict[int, ThreePoint]) -> Event:
    """A risk event as the trials take it."""
    known = [d for d in (risk.optimistic, risk.pessimistic) if d is not None]
    likely = risk.likely if risk.likely is not None else sum(known) / len(known) if known else 0
    low = likely if risk.optimistic is None else min(risk.optimistic, likely)
    high = likely if risk.pessimistic is None else max(risk.pessimistic, likely)
    hits = tuple(number[code] for code in risk.activities if number.get(code, -1) in days)
    return Event(
        risk.code,
        risk.name or risk.code,
        risk.probability / WHOLE_RATE,
        ThreePoint(low, likely, high),
        hits,
    )


def remarks_on(
    rows: Rows, r: Run, number: dict[str, int], days: dict[int, ThreePoint]
) -> Iterator[Remark]:
    """What the trials could not take as it was entered."""
    for i in days:
        activity, likely = r.gathered.activities[i], r.times.days[i]
        low, high = activity.optimistic, activity.pessimistic
        if (low is not None and low > likely) or (high is not None and high < likely):
            bounds = f"{'' if low is None else low} to {'' if high is None else high}"
            what = (
                f"{activity.code}: the likely {likely} days lie outside of {bounds}; the nearer"
                f" bound is taken as {likely}"
            )
            yield Remark("outside_three_point", activity.code, what)
    for risk in rows.get("risks", ()):
        for code in risk.activities:
            i = number.get(code, -1)
            if i >= 0 and r.times.mode[i] == POINT:
                what = (
                    f"risk {risk.code}: {code} is a milestone and takes no days; name the work"
                    " before it"
                )
                yield Remark("risk_hits_milestone", risk.code, what)
