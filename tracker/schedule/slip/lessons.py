"""What to do next time: how long gates were waited for, and what durations came to.

From actual dates alone.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping

from tracker.schedule.path.plan import Plan
from tracker.schedule.path.reinspection import is_work
from tracker.schedule.records import Activity
from tracker.values.frozen import value
from tracker.values.records import Rows


@value
class GateWait:
    """Waits for gates of one kind, in calendar days from the day on which the last of what they
    wait for was over.

    count: gates passed. still_waiting: gates begun and not yet passed, counted so far. days: all
    waits together. longest: the longest one, that of `code`.
    """

    kind: str
    count: int
    still_waiting: int
    days: int
    longest: int
    code: str
    name: str


@value
class TradeDurations:
    """Work of one trade that was finished: working days as they were planned at first, and as they
    were taken.
    """

    trade: str
    count: int
    planned: int
    taken: int


def gate_waits(rows: Rows, kinds: Mapping[str, str], to: dt.date) -> list[GateWait]:
    """The waits by kind of gate, the longest first. kinds: by code of each gate its kind. to: the
    status date.
    """
    known = {a.code: a for a in rows.get("activities", ())}
    before: dict[str, list[str]] = {}
    for link in rows.get("links", ()):
        if link.type == "FS" and link.from_ in known:
            before.setdefault(link.to, []).append(link.from_)
    found: dict[str, list[tuple[int, bool, Activity]]] = {}
    for code, kind in kinds.items():
        gate = known[code]
        begun = waited_from(gate, [known[p] for p in before.get(code, ())])
        end = gate.actual_finish or (to if gate.actual_start else None)
        if begun is not None and end is not None and begun <= end <= to:
            found.setdefault(kind, []).append(
                ((end - begun).days, gate.actual_finish is None, gate)
            )
    waits = []
    for kind, those in found.items():
        days, _, gate = max(those, key=lambda one: (one[0], one[2].code))
        still = sum(open_ for _, open_, _ in those)
        total = sum(one[0] for one in those)
        waits.append(
            GateWait(
                kind, len(those) - still, still, total, days, gate.code, gate.name or gate.code
            )
        )
    return sorted(waits, key=lambda wait: (-wait.longest, wait.kind))


def waited_from(gate: Activity, predecessors: list[Activity]) -> dt.date | None:
    """The day on which a gate could first have been passed: what it waits for was over, or else it
    began itself.
    """
    over = [p.actual_finish for p in predecessors]
    if over and all(over):
        return max(day for day in over if day is not None)
    return gate.actual_start or gate.actual_finish


def trade_durations(
    plan: Plan, rows: Rows, planned: Mapping[str, int], since: dt.date, to: dt.date
) -> list[TradeDurations]:
    """Planned against taken, by trade, of work finished after `since`, by `to`; the largest overrun
    first.

    plan: of the rows. planned: working days by activity as they were planned at first.
    """
    if plan.run is None:
        return []
    found: dict[str, tuple[int, int, int]] = {}
    for place, a in enumerate(rows.get("activities", ())):
        first, last = a.actual_start, a.actual_finish
        if (
            not a.trade
            or not is_work(a)
            or a.code not in planned
            or first is None
            or last is None
            or not since < last <= to
        ):
            continue
        works, low = plan.run.times.works[place].before, plan.run.low
        days = works[last.toordinal() + 1 - low] - works[first.toordinal() - low]
        count, was, real = found.get(a.trade, (0, 0, 0))
        found[a.trade] = (count + 1, was + planned[a.code], real + days)
    by_trade = [TradeDurations(trade, *sums) for trade, sums in found.items()]
    return sorted(by_trade, key=lambda one: (one.planned - one.taken, one.trade))
