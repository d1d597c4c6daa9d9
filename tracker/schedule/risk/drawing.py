"""What each trial draws: scores, and from them the days of uncertain activities, risk events,
hearings continued.

Lot number c is drawn from numpy's PCG64 with SeedSequence(seed, spawn_key=(c,)): the same seed
gives the same numbers. A different size of the lots would give other numbers, and so would other
rows, or another order of them.

Common cause: the score of an activity is sqrt(r) x the trade's score + sqrt(1 - r) x its own, so
that any two of a trade have the correlation r (a Gaussian copula).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tracker.schedule.risk.calendars import Row
from tracker.schedule.risk.input import RiskInput
from tracker.schedule.risk.shapes import CELLS, scores, scores_from_edge, tables


@dataclass(frozen=True, slots=True)
class Certain:
    """What a run of trials takes as certain: activities with their likely duration, hearings at the
    meeting that the plan reaches, events (by their place) that do not happen.
    """

    activities: frozenset[int] = frozenset()
    hearings: frozenset[int] = frozenset()
    events: frozenset[int] = frozenset()


NOTHING = Certain()


class Drawing:
    """What is drawn for a lot, with the tables that turn scores into days."""

    def __init__(self, given: RiskInput, trials: int) -> None:
        self.given = given
        self.uncertain = given.uncertain()
        shapes = [given.days[i] for i in self.uncertain] + [event.days for event in given.events]
        different = {days: n for n, days in enumerate(dict.fromkeys(shapes))}
        self.edges, self.steps = tables(given.shape, tuple(different))
        self.table = [different[days] for days in shapes]
        self.common = {i: n for n, them in enumerate(given.fellows.values()) for i in them}
        self.share = np.float32(np.sqrt(given.correlation))
        self.rest = np.float32(np.sqrt(1 - given.correlation))
        self.score = np.empty(trials, np.float32)
        self.whole = np.empty(trials, np.float32)
        self.slope = np.empty(trials, np.float32)
        self.place = np.empty(trials, np.intp)

    def lot(
        self, number: int, into: NDArray[np.float32]
    ) -> tuple[dict[int, Row], dict[int, Row], dict[int, NDArray[np.bool_]]]:
        """Days by uncertain activity, days by event (0: it does not happen), and whether a hearing
        is continued.

        into: where the days of the uncertain activities are written, a row each.
        """
        given, trials, uncertain = self.given, into.shape[1], len(self.uncertain)
        random = np.random.Generator(
            np.random.PCG64(np.random.SeedSequence(given.seed, spawn_key=(number,)))
        )
        count = uncertain + len(given.events) + (len(given.fellows) if given.correlation else 0)
        bits = random.integers(0, 1 << 64, size=-(-count * trials // 4), dtype=np.uint64).view(
            np.dtype("<u2")
        )
        rows = bits[: count * trials].reshape(count, trials)
        middle = np.float32(CELLS / 2)
        shared = [
            scores().take(row) * self.share + middle
            for row in rows[uncertain + len(given.events) :]
        ]
        for n, i in enumerate(self.uncertain):
            self.look_up(rows[n], shared[self.common[i]] if shared and i in self.common else None)
            self.interpolate(self.table[n], into[n])
        events = {}
        for n, event in enumerate(given.events):
            self.look_up(rows[uncertain + n], None)
            effect = np.empty(trials, np.float32)
            self.interpolate(self.table[uncertain + n], effect)
            effect *= random.random(trials) < event.probability
            events[n] = effect
        continued = {
            i: np.less(random.random(trials), share) for i, share in given.continued.items()
        }
        return dict(zip(self.uncertain, into, strict=True)), events, continued

    def look_up(self, bits: NDArray[np.uint16], shared: Row | None) -> None:
        """The scores of a row of random bits, in cells from the tables' first edge; with the part
        shared by the trade.
        """
        np.copyto(self.place, bits)
        if shared is None:
            scores_from_edge().take(self.place, out=self.score, mode="clip")
            return
        scores().take(self.place, out=self.score, mode="clip")
        np.multiply(self.score, self.rest, out=self.score)
        np.add(self.score, shared, out=self.score)

    def interpolate(self, table: int, out: Row) -> None:
        """Days of the scores last looked up, by the table of this number."""
        np.floor(self.score, out=self.whole)
        np.copyto(self.place, self.whole, casting="unsafe")
        np.subtract(self.score, self.whole, out=self.score)
        self.steps[table].take(self.place, out=self.slope, mode="clip")
        self.edges[table].take(self.place, out=out, mode="clip")
        np.multiply(self.slope, self.score, out=self.slope)
        np.add(out, self.slope, out=out)


def durations(
    given: RiskInput,
    certain: Certain,
    drawn: dict[int, Row],
    events: dict[int, Row],
    continued: dict[int, NDArray[np.bool_]],
) -> dict[int, Row]:
    """The days of each activity that differ from trial to trial: as drawn, with events and a
    meeting more on top.
    """
    days = {
        i: row
        for i, row in drawn.items()
        if i not in certain.activities and i not in certain.hearings
    }
    for n, effect in events.items():
        for i in () if n in certain.events else given.events[n].hits:
            if i not in certain.hearings:
                days[i] = (
                    days[i] + effect if i in days else effect + np.float32(given.days[i].likely)
                )
    for i, again in continued.items():
        if i not in certain.hearings:
            days[i] = (days[i] if i in days else np.float32(given.days[i].likely)) + again.astype(
                np.float32
            )
    return days
