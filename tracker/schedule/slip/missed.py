"""Cut-offs that went by in a window although the plan meant to file for them."""

from __future__ import annotations

import datetime as dt

from tracker.schedule.path.network import CUTOFF
from tracker.schedule.progress import DONE
from tracker.schedule.slip.windows import Taken
from tracker.values.frozen import value


@value
class MissedCutoff:
    """A filing that was not done by the cut-off that the plan had it aim at.

    filing, hearing: the activities. meeting: the one that was aimed at. filed: the day of the
    filing, if it is done since.
    """

    filing: str
    hearing: str
    meeting: dt.date
    cutoff: dt.date
    filed: dt.date | None


def missed_cutoffs(before: Taken, after: Taken) -> tuple[MissedCutoff, ...]:
    """The cut-offs of a window, by row order of the hearings, whose filing was not done in time."""
    g, t, low = before.plan.gathered, before.plan.times, before.plan.low
    later = after.by_code()
    found = []
    for i, arcs in enumerate(g.network.other_before):
        if g.mode[i] == DONE or not t.works[i].meets or not t.works[i].cutoffs:
            continue
        place = t.works[i].before[t.begin[i]]
        cutoff = dt.date.fromordinal(low + t.works[i].cutoffs[place])
        for p, kind, _ in arcs or ():
            filing = later.get(g.activities[p].code)
            if (
                kind != CUTOFF
                or g.mode[p] == DONE
                or filing is None
                or not before.date < cutoff <= after.date
            ):
                continue
            if filing.actual_finish is None or filing.actual_finish > cutoff:
                meeting = dt.date.fromordinal(low + t.works[i].days[place])
                found.append(
                    MissedCutoff(
                        filing.code, g.activities[i].code, meeting, cutoff, filing.actual_finish
                    )
                )
    return tuple(found)
