"""Papers that run out: licenses, insurance, bonds, held against a day and against the days on which
somebody is planned.

Which papers a contractor needs is common practice, no source: a license, liability insurance,
workers' compensation. What the state and the lender ask for governs.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from tracker.trades.records import Paper
from tracker.values.grouped import grouped
from tracker.values.records import Rows

NEEDED = ("license", "liability", "workers comp")
"""Papers that everybody on site needs: common practice, no source; the state and the lender may ask
for more.
"""

WARN_DAYS = 30
"""A paper that runs out within so many days is said to run out soon (common practice, no source).
"""

Span = tuple[dt.date, dt.date]
"""Planned days, from the first through the last."""


@dataclass(frozen=True, slots=True)
class PaperState:
    """A paper on a day. state: holds, runs out soon, ran out, not yet. days_left: None where it
    does not run out.
    """

    paper: Paper
    state: str
    days_left: int | None


@dataclass(frozen=True, slots=True)
class Gap:
    """Planned days of a contractor without a paper that is needed. missing: there is no paper of
    this kind at all.
    """

    contractor: str
    kind: str
    first: dt.date
    last: dt.date
    activity: str
    missing: bool

    def words(self) -> str:
        """The gap as people read it."""
        if self.missing:
            return f"no {self.kind} on file"
        return f"{self.kind} does not cover {self.first.isoformat()} to {self.last.isoformat()}"


def paper_states(rows: Rows, today: dt.date) -> tuple[PaperState, ...]:
    """Each paper as it stands today, in row order."""
    return tuple(
        PaperState(paper, state_of(paper, today), days_left(paper, today))
        for paper in rows.get("papers", ())
    )


def state_of(paper: Paper, today: dt.date) -> str:
    """Whether a paper holds today; the days of `from` and `to` are both covered."""
    if paper.from_ is not None and paper.from_ > today:
        return "not yet"
    left = days_left(paper, today)
    if left is None:
        return "holds"
    return "ran out" if left < 0 else "runs out soon" if left <= WARN_DAYS else "holds"


def days_left(paper: Paper, today: dt.date) -> int | None:
    """Calendar days until the paper's last day; negative once it has run out; None where it does
    not run out.
    """
    return None if paper.to is None else (paper.to - today).days


def missing_kinds(papers: Iterable[Paper], today: dt.date) -> tuple[str, ...]:
    """The needed kinds of which one contractor has no paper that holds today."""
    held = {paper.kind for paper in papers if state_of(paper, today) in ("holds", "runs out soon")}
    return tuple(kind for kind in NEEDED if kind not in held)


def gaps(papers: Sequence[Paper], contractor: str, planned: Mapping[str, Span]) -> tuple[Gap, ...]:
    """Where a contractor's planned days (by activity) lie outside of its papers' validity; by
    activity and kind.

    Of each activity the first and the last day that no paper covers are told.
    """
    by_kind = grouped(papers, "contractor", "kind")
    found = []
    for kind in NEEDED:
        own = by_kind.get((contractor, kind), ())
        for activity, (first, last) in planned.items():
            bare = uncovered(own, first, last)
            if bare:
                found.append(Gap(contractor, kind, bare[0], bare[1], activity, not own))
    return tuple(found)


def uncovered(papers: Sequence[Paper], first: dt.date, last: dt.date) -> Span | None:
    """The first and the last day of a span that none of these papers covers; None where all are
    covered.
    """
    covered = sorted((max(p.from_ or first, first), min(p.to or last, last)) for p in papers)
    covered = [(start, end) for start, end in covered if start <= end]
    day = dt.timedelta(days=1)
    bare: list[dt.date] = []
    reached = first
    for start, end in covered:
        if start > reached:
            bare += [reached, start - day]
        reached = max(reached, end + day)
    if reached <= last:
        bare += [reached, last]
    return (bare[0], bare[-1]) if bare else None
