"""What the trials say: percentiles of the opening, what drives the spread, hearings missed, the
plot's bars.

Percentile q of N trials: the order statistic number ceil(N q), as a day. Nothing is interpolated
between trials.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tracker.schedule.path.plan import Run
from tracker.schedule.risk.calendars import Row
from tracker.schedule.risk.drawing import Certain
from tracker.schedule.risk.input import RiskInput
from tracker.schedule.risk.trials import Trials, Went, run_trials

TENTHS = tuple(range(10, 100, 10))
"""The percentiles that are told."""
SAFE = 80
"""The percentile that is said to be safe: 4 in 5."""
RANK_BINS = 4_096
"""Durations are ranked by their place among so many equal parts of their range; those of one part
share a rank.
"""
MOST_TRIED = {"activity": 5, "hearing": 4, "risk": 3}
"""How many of each kind are tried as certain."""
MOST_CELLS, FEWEST_TRIED = 60_000_000, 3
"""Activities x trials that the tries may take in all; so many things are tried even if they take
more.
"""
WIDTHS = (1, 2, 7, 14, 28, 56, 91, 182, 364)
"""Days that one bar of the plot may stand for."""
MOST_BARS = 16


@dataclass(frozen=True, slots=True)
class Driver:
    """What happens to the percentile that is said to be safe if one thing were certain.

    kind: activity (takes its likely duration), hearing (held at the meeting that the plan reaches)
    or risk (doesn't happen). days: calendar days by which the percentile would come earlier.
    """

    kind: str
    number: int
    days: int


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar of the plot: openings from one day to another, both included; by_then: those up to
    its end.
    """

    first: dt.date
    last: dt.date
    trials: int
    by_then: int


@dataclass(frozen=True, slots=True)
class Outcome:
    """The result of the trials in plain numbers.

    days: of the opening, in order. percentiles: day by percentile. critical: by activity, in how
    many trials it was on the longest path. correlation: by uncertain activity, the rank correlation
    of its duration with the opening. missed: by hearing, in how many trials it came later than
    planned.
    """

    trials: int
    days: NDArray[np.int64]
    percentiles: dict[int, dt.date]
    critical: list[int]
    correlation: dict[int, float]
    missed: dict[int, int]
    drivers: tuple[Driver, ...]
    bars: tuple[Bar, ...]

    def by(self, day: dt.date) -> int:
        """In how many trials the opening is on this day or before."""
        return int(np.searchsorted(self.days, day.toordinal(), side="right"))


def outcome(given: RiskInput, r: Run, went: Went | None = None) -> Outcome:
    """Run the trials, then again for what may drive them, with the same random numbers.

    went: told of the part done, of all; it may raise to stop. ProblemError as in run_trials().
    """
    told = _Parts(went, given.trials)
    found = run_trials(given, r, went=told.went)
    days = np.sort(found.days)
    ranked = centered_ranks(found.moments)
    correlation = {i: correlation_with(ranked, row) for i, row in found.durations.items()}
    tried = worth_trying(
        given,
        found,
        correlation,
        {n: correlation_with(ranked, row) for n, row in found.events.items()},
    )
    told.parts = 1 + len(tried)
    safe = percentile(days, SAFE)
    drivers = []
    for kind, number in tried:
        told.part += 1
        again = run_trials(given, r, certain_of(kind, number), only_days=True, went=told.went)
        drivers.append(Driver(kind, number, safe - percentile(np.sort(again.days), SAFE)))
    return Outcome(
        trials=given.trials,
        days=days,
        percentiles={q: dt.date.fromordinal(percentile(days, q)) for q in TENTHS},
        critical=found.critical.tolist(),
        correlation=correlation,
        missed=found.missed,
        drivers=tuple(sorted(drivers, key=lambda d: -d.days)),
        bars=tuple(bars(days)),
    )


class _Parts:
    """Tells of several runs of trials as of one."""

    def __init__(self, went: Went | None, trials: int) -> None:
        self.told, self.trials = went, trials
        self.part, self.parts = 0, 1 + sum(MOST_TRIED.values())

    def went(self, done: int, of: int) -> None:
        """Pass on how far it is."""
        if self.told is not None:
            self.told(self.part * self.trials + done, self.parts * self.trials)


def percentile(in_order: NDArray[np.int64], q: int) -> int:
    """The order statistic ceil(N q) of sorted days; q in percent."""
    return int(in_order[max(1, -(-len(in_order) * q // 100)) - 1])


def worth_trying(
    given: RiskInput, found: Trials, correlation: dict[int, float], events: dict[int, float]
) -> list[tuple[str, int]]:
    """What may drive the spread most, by kind and number: hearings first, then by rank correlation;
    MOST_TRIED of each kind.
    """
    uncertain = [
        i
        for i in given.uncertain()
        if found.critical[i] and correlation.get(i, 0) > 0 and i not in found.missed
    ]
    hearings = [
        i for i, n in found.missed.items() if found.critical[i] and (n or i in given.continued)
    ]
    risks = [n for n, event in enumerate(given.events) if event.hits and events[n] > 0]
    uncertain.sort(key=lambda i: -correlation[i])
    hearings.sort(key=lambda i: -int(found.critical[i]))
    risks.sort(key=lambda n: -events[n])
    rest = [("activity", i, correlation[i]) for i in uncertain[: MOST_TRIED["activity"]]]
    rest += [("risk", n, events[n]) for n in risks[: MOST_TRIED["risk"]]]
    rest.sort(key=lambda one: -one[2])
    tried = [("hearing", i) for i in hearings[: MOST_TRIED["hearing"]]] + [
        (kind, number) for kind, number, _ in rest
    ]
    return tried[: max(FEWEST_TRIED, MOST_CELLS // (len(found.critical) * given.trials))]


def certain_of(kind: str, number: int) -> Certain:
    """One thing taken as certain."""
    one = frozenset({number})
    if kind == "activity":
        return Certain(activities=one)
    return Certain(hearings=one) if kind == "hearing" else Certain(events=one)


def centered_ranks(values: NDArray[np.float64]) -> NDArray[np.float64]:
    """The ranks of values less their mean; equal values share the mean of their ranks."""
    _, place, counts = np.unique(values, return_inverse=True, return_counts=True)
    shared = np.cumsum(counts) - (counts - 1) / 2
    ranks: NDArray[np.float64] = shared[place] - (len(values) + 1) / 2
    return ranks


def correlation_with(ranked: NDArray[np.float64], row: Row) -> float:
    """Spearman's rank correlation of a row of durations with values already ranked; 0 where one of
    them never varies.
    """
    low, high = float(row.min()), float(row.max())
    if low == high:
        return 0.0
    place = ((row - np.float32(low)) * np.float32((RANK_BINS - 1) / (high - low))).astype(np.intp)
    counts = np.bincount(place)
    shared = np.cumsum(counts) - (counts - 1) / 2 - (len(row) + 1) / 2
    spread = float(np.sqrt((counts * shared**2).sum() * (ranked @ ranked)))
    return float(shared[place] @ ranked) / spread if spread else 0.0


def bars(days: NDArray[np.int64]) -> list[Bar]:
    """The bars of the plot over all trials; days in order. A bar of whole weeks begins on a
    Monday.
    """
    first, last = int(days[0]), int(days[-1])
    width = next((w for w in WIDTHS if (last - first) // w + 2 <= MOST_BARS), WIDTHS[-1])
    begin = first - (first - 1) % 7 if width >= 7 else first
    edges = np.arange(begin, last + width + 1, width)
    below = np.searchsorted(days, edges)
    return [
        Bar(
            dt.date.fromordinal(int(edges[k])),
            dt.date.fromordinal(int(edges[k + 1]) - 1),
            int(below[k + 1] - below[k]),
            int(below[k + 1]),
        )
        for k in range(len(edges) - 1)
        if below[k] < len(days)
    ]
