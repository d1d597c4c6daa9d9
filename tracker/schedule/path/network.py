"""The network: activities and links as plain lists, ordered once so that each comes after all its
predecessors.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

FS, SS, FF, SF = 0, 1, 2, 3
WORKING = 4
"""Added to a link's type where its lag is counted in working days of the predecessor's calendar."""
CUTOFF = 8
"""The type of a cut-off link."""
TYPES = {"FS": FS, "SS": SS, "FF": FF, "SF": SF}

Arc = tuple[int, int, int]
"""The activity at the other end, the type (see above), the lag in days."""


@dataclass(slots=True)
class Network:
    """Activities are numbered in row order.

    order: their numbers so that each comes after all its predecessors. before[i], after[i]:
    predecessors and successors by plain finish-to-start links without lag, the common kind. Each
    number is one object wherever it stands, and each tuple lies beside its neighbors: the passes
    over a large network wait for memory more than for anything else. other_before[i],
    other_after[i]: all other links, as arcs; None where there are none.
    """

    size: int
    order: list[int]
    before: list[tuple[int, ...]]
    after: list[tuple[int, ...]]
    other_before: list[list[Arc] | None]
    other_after: list[list[Arc] | None]

    def arcs_before(self, i: int) -> list[Arc]:
        """All links into an activity, as arcs."""
        return [(p, FS, 0) for p in self.before[i]] + (self.other_before[i] or [])

    def arcs_after(self, i: int) -> list[Arc]:
        """All links out of an activity, as arcs."""
        return [(s, FS, 0) for s in self.after[i]] + (self.other_after[i] or [])


class LoopError(Exception):
    """The links go round in a circle; members: the activities of one whole loop, in order."""

    def __init__(self, members: list[int]) -> None:
        self.members = members
        super().__init__("links go round in a circle")


def network(size: int, links: Sequence[tuple[int, int, int, int]]) -> Network:
    """Order a network of `size` activities. links: (predecessor, successor, type, lag).

    LoopError on a loop.
    """
    numbers = list(range(size))
    befores: list[list[int]] = [[] for _ in numbers]
    afters: list[list[int]] = [[] for _ in numbers]
    other_before: list[list[Arc] | None] = [None] * size
    other_after: list[list[Arc] | None] = [None] * size
    forward_only = True
    for p, s, kind, lag in links:
        if p >= s:
            forward_only = False
        if lag or kind:
            add(other_before, s, (p, kind, lag))
            add(other_after, p, (s, kind, lag))
        else:
            befores[s].append(numbers[p])
            afters[p].append(numbers[s])
    before, after = list(map(tuple, befores)), list(map(tuple, afters))
    if forward_only:  # the rows stand in order already, as people mostly write them
        return Network(size, numbers, before, after, other_before, other_after)
    waits_for = [len(plain) for plain in before]
    for i, arcs in enumerate(other_before):
        if arcs is not None:
            waits_for[i] += len(arcs)
    order = [i for i in numbers if not waits_for[i]]
    for i in order:  # grows while we walk it
        for s in after[i]:
            left = waits_for[s] - 1
            waits_for[s] = left
            if not left:
                order.append(s)
        arcs = other_after[i]
        if arcs is not None:
            for s, _, _ in arcs:
                waits_for[s] -= 1
                if not waits_for[s]:
                    order.append(s)
    if len(order) < size:
        raise LoopError(loop(before, other_before, waits_for))
    return Network(size, order, before, after, other_before, other_after)


def add(arcs: list[list[Arc] | None], place: int, arc: Arc) -> None:
    """Append an arc where there may be no list yet."""
    there = arcs[place]
    if there is None:
        arcs[place] = [arc]
    else:
        there.append(arc)


def loop(
    before: list[tuple[int, ...]], other_before: list[list[Arc] | None], waits_for: list[int]
) -> list[int]:
    """One whole loop among the activities that could not be ordered, in the order in which work
    would go.

    Walks back along predecessors that are themselves stuck until one comes up again.
    """
    at = next(i for i, count in enumerate(waits_for) if count)
    seen: dict[int, int] = {}
    walk: list[int] = []
    while at not in seen:
        seen[at] = len(walk)
        walk.append(at)
        stuck = [p for p in before[at] if waits_for[p]] + [
            p for p, _, _ in other_before[at] or () if waits_for[p]
        ]
        at = min(stuck)
    members = walk[seen[at] :][::-1]
    least = members.index(min(members))
    return members[least:] + members[:least]
