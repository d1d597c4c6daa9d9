"""The checklist for the change of use: what is settled, what waits on what, what is next, what
would stop a purchase.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from tracker.approvals.applies import considered
from tracker.approvals.records import ChecklistItem
from tracker.values.project import AttachedFile
from tracker.values.records import Rows

SOON_DAYS = 14
"""An item whose last day to begin lies this near is at risk. Common practice, no source."""

PURCHASE_WORDS = ("purchase", "buy", "closing")


@dataclass(frozen=True, slots=True)
class Standing:
    """How one item stands on a day.

    waits: items that it waits on and that aren't settled. wanted_by: due, or without one the day on
    which the plan has its gate. begin_by: that day less the days that it usually takes. days_left:
    to wanted_by. mark: "!" overdue, "?" somebody must answer, "~" must be begun soon, "=" settled,
    " " fine.
    """

    item: ChecklistItem
    settled: bool
    waits: tuple[str, ...]
    waits_text: str
    wanted_by: dt.date | None
    begin_by: dt.date | None
    days_left: int | None
    stops_purchase: bool
    files: tuple[str, ...]
    mark: str


@dataclass(frozen=True, slots=True)
class Stage:
    """Progress of one stage: how many of its items are proven or not needed."""

    stage: str
    done: int
    of: int


def settled(item: ChecklistItem) -> bool:
    """Whether an item holds nothing up any more: proven, or not needed."""
    return item.state in ("proven", "not needed")


def papers_of(files: Iterable[AttachedFile], code: str) -> tuple[str, ...]:
    """The attached files that are evidence for an item, by path."""
    return tuple(f.path for f in files if f.table == "checklist" and f.key == code)


def has_evidence(item: ChecklistItem, files: Iterable[AttachedFile]) -> bool:
    """Whether something proves the item: words of evidence, or an attached file."""
    return bool(item.evidence.strip()) or bool(papers_of(files, item.code))


def unsettled_before(item: ChecklistItem, by_code: Mapping[str, ChecklistItem]) -> tuple[str, ...]:
    """The items that an item waits on and that are neither proven nor not needed."""
    return tuple(code for code in item.waits_on if code in by_code and not settled(by_code[code]))


def loop(waits_on: Mapping[str, Sequence[str]]) -> tuple[str, ...]:
    """The first loop of items that wait on each other, in order and closed ("a", "b", "a"); empty
    if there is none.
    """
    state: dict[str, int] = {}
    for begin in waits_on:
        if begin in state:
            continue
        path = [begin]
        left = [iter(waits_on[begin])]
        state[begin] = 1
        while path:
            following = next(
                (code for code in left[-1] if code in waits_on and state.get(code) != 2), None
            )
            if following is None:
                state[path.pop()] = 2
                left.pop()
            elif state.get(following) == 1:
                return (*path[path.index(following) :], following)
            else:
                state[following] = 1
                path.append(following)
                left.append(iter(waits_on[following]))
    return ()


def stops_purchase(item: ChecklistItem) -> bool:
    """Whether an unsettled item should stop the purchase: its stage speaks of the purchase, of
    buying or of closing.
    """
    return any(word in item.stage.lower() for word in PURCHASE_WORDS)


def standings(
    rows: Rows, today: dt.date, planned: Mapping[str, dt.date] | None = None
) -> tuple[Standing, ...]:
    """How each item of the checklist stands on a day, in row order. planned: by activity, its day
    by the plan.
    """
    items: Sequence[ChecklistItem] = considered(rows)
    by_code = {item.code: item for item in items}
    files = tuple(rows.get("files", ()))
    gates = planned or {}
    return tuple(
        _standing(i, by_code, papers_of(files, i.code), i.due or gates.get(i.activity), today)
        for i in items
    )


def _standing(
    item: ChecklistItem,
    by_code: Mapping[str, ChecklistItem],
    papers: tuple[str, ...],
    wanted: dt.date | None,
    today: dt.date,
) -> Standing:
    """How one item stands."""
    done = settled(item)
    waits = () if done else unsettled_before(item, by_code)
    wanted = None if done else wanted
    begin_by = wanted - dt.timedelta(days=item.lead_days or 0) if wanted else None
    return Standing(
        item=item,
        settled=done,
        waits=waits,
        waits_text=waits_text([by_code[code] for code in waits]),
        wanted_by=wanted,
        begin_by=begin_by,
        days_left=(wanted - today).days if wanted else None,
        stops_purchase=not done and stops_purchase(item),
        files=papers,
        mark=_mark(item, done, begin_by, today),
    )


def waits_text(before: Collection[ChecklistItem]) -> str:
    """What an item waits on, in words; empty if on nothing."""
    if not before:
        return ""
    return "waits on " + ", ".join(f"{item.code} {item.title} ({item.state})" for item in before)


def _mark(item: ChecklistItem, done: bool, begin_by: dt.date | None, today: dt.date) -> str:
    """The mark in the first column."""
    if done:
        return "="
    if item.due and item.due < today:
        return "!"
    if item.state == "asked":
        return "?"
    if item.state == "open" and begin_by and (begin_by - today).days <= SOON_DAYS:
        return "~"
    return " "


def stages(items: Iterable[ChecklistItem]) -> tuple[Stage, ...]:
    """Progress by stage, in the order in which the stages first appear."""
    counts: dict[str, list[int]] = {}
    for item in items:
        count = counts.setdefault(item.stage, [0, 0])
        count[0] += settled(item)
        count[1] += 1
    return tuple(Stage(stage, done, of) for stage, (done, of) in counts.items())


def next_items(known: Sequence[Standing]) -> tuple[Standing, ...]:
    """What can be worked on now: unsettled and waiting on nothing.

    "Before you buy" first, then by last day to begin.
    """
    ready = [
        (place, standing)
        for place, standing in enumerate(known)
        if not standing.settled and not standing.waits
    ]
    ready.sort(
        key=lambda pair: (not pair[1].stops_purchase, pair[1].begin_by or dt.date.max, pair[0])
    )
    return tuple(standing for _, standing in ready)


def gates_held(items: Iterable[ChecklistItem]) -> dict[str, tuple[str, ...]]:
    """By activity, the items that must be settled before that gate can be marked done."""
    held: dict[str, list[str]] = {}
    for item in items:
        if item.activity and not settled(item):
            held.setdefault(item.activity, []).append(item.code)
    return {activity: tuple(codes) for activity, codes in held.items()}
