"""Planned value: what a baseline planned to have in place by a day.

A contract line's value spreads evenly over the planned working days of its activities, over several
activities by their durations. A line without activities has no plan and is left out. Cents; each
line is rounded once.
"""

from __future__ import annotations

import datetime as dt
from bisect import bisect_right
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from tracker.money.schedule_of_values import ValueLine
from tracker.values.money import divide


@dataclass(frozen=True, slots=True)
class PlannedWork:
    """One activity as the baseline plans it: its duration as a weight, and its working days,
    ascending.
    """

    duration: int
    days: Sequence[dt.date]

    def share_by(self, day: dt.date) -> Fraction:
        """Which part of it is planned to be done by the end of a day."""
        return Fraction(bisect_right(self.days, day), len(self.days))


def planned_by(line: ValueLine, work: Mapping[str, PlannedWork], day: dt.date) -> int:
    """What the baseline planned of one line by the end of a day, in cents."""
    known = [work[code] for code in line.activities if code in work and work[code].days]
    if not known:
        return 0
    weights = [activity.duration for activity in known]
    if not any(weights):
        weights = [1] * len(known)
    parts = (
        weight * activity.share_by(day) for weight, activity in zip(weights, known, strict=True)
    )
    planned = line.value * sum(parts, Fraction(0)) / sum(weights)
    return divide(planned.numerator, planned.denominator)


def budgeted_cost_scheduled(
    lines: Mapping[str, Iterable[ValueLine]],
    work: Mapping[str, PlannedWork],
    day: dt.date,
    contracts: Iterable[str] | None = None,
) -> int:
    """BCWS by the end of a day, in cents: over some contracts, or over all (None)."""
    chosen = lines.keys() if contracts is None else [c for c in contracts if c in lines]
    return sum(planned_by(line, work, day) for code in chosen for line in lines[code])
