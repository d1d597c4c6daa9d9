"""A bid came in: its price, its last day, and what it says about each scope item, in one step."""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from tracker.actions.keeping import Sound, row_there, sound, step
from tracker.actions.rows import Saved
from tracker.project_file.store import ProjectFile, StaleError, Step
from tracker.tables.row_edits import with_cells, with_row
from tracker.trades.leveling import LeveledBid, LeveledPackage, leveled_package
from tracker.trades.papers import missing_kinds
from tracker.trades.records import Bid, BidAnswer, Package
from tracker.values.money import dollars
from tracker.values.problems import Problem, ProblemError
from tracker.values.project import Project
from tracker.values.records import Rows, key_of, new, row_of

OPEN = ("asked", "received")
"""States in which a bid can be entered, or corrected."""


def decline_bid(
    project: ProjectFile, package: str, contractor: str, note: str = "", only_try: bool = False
) -> Saved:
    """Who was asked does not bid. only_try: write nothing.

    ProblemError where there is no such bid, or it is decided already.
    """

    def change(before: Rows) -> tuple[Sound, Saved]:
        do = "choose somebody who was asked"
        old = row_there(before, Bid, "bid", do, package=package, contractor=contractor)
        if old.state not in OPEN:
            what, do = f"the bid is {old.state} already", "nothing is to be done"
            key = f"{package}/{contractor}"
            raise ProblemError(Problem(what, do, "bids", key, "state", old.state))
        bid = dataclasses.replace(old, state="declined", note=note.strip() or old.note)
        return sound(before, with_row(before, bid, old)), Saved(None, (), bid)

    return step(project, f"{contractor} declined {package}"[:120], change, note.strip(), only_try)


@dataclass(frozen=True, slots=True)
class Entered:
    """A bid as it stands among the others. step: None where all was so already, or it was tried
    only. notes: what to ask.
    """

    step: Step | None
    bid: Bid
    leveled: LeveledBid
    package: LeveledPackage
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BidEntry:
    """A bid as it came in.

    answers: by item the cells that are given: answer (included, excluded, allowance, unclear),
    price and plug as plain decimal dollars; an empty answer takes the item's answer out. Items and
    cells that are not named stay. amount: the lump sum in cents, None where the items carry the
    prices.
    """

    package: str
    contractor: str
    answers: Mapping[str, Mapping[str, str]]
    received: dt.date
    amount: int | None = None
    valid_until: dt.date | None = None
    note: str = ""


def enter_bid(
    project: ProjectFile,
    entry: BidEntry,
    today: dt.date,
    expected: Bid | None = None,
    only_try: bool = False,
) -> Entered:
    """Enter a bid as received, with its answers.

    expected: the bid as it was shown, StaleError if it is no longer so. only_try: tell how it would
    stand and write nothing. ProblemError where there is no such package, contractor or item, the
    bid is decided already, the day lies ahead, or a cell is wrong.
    """
    what = f"bid of {entry.contractor} for {entry.package}"[:120]
    return step(
        project, what, lambda before: _entered(before, entry, today, expected), only_try=only_try
    )


def _entered(
    before: Rows, entry: BidEntry, today: dt.date, expected: Bid | None
) -> tuple[Sound, Entered]:
    """The rows with the bid, and how it stands then."""
    package, contractor, received = entry.package, entry.contractor, entry.received
    key = f"{package}/{contractor}"
    chosen = row_there(before, Package, "package", "choose one of the bid packages", code=package)
    old = row_of(before, Bid, package=package, contractor=contractor)
    blank = new(Bid, package=package, contractor=contractor)
    bid = dataclasses.replace(
        old or blank,
        state="received",
        received=received,
        valid_until=entry.valid_until,
        amount=entry.amount,
        note=entry.note.strip(),
    )
    if expected is not None and expected != old:
        raise StaleError(expected, old, bid)
    if old is not None and old.state not in OPEN:
        do = (
            "undo the award, or the answer that declined"
            if old.state != "declined"
            else "set its state to asked first"
        )
        raise ProblemError(
            Problem(f"the bid is {old.state} already", do, "bids", key, "state", old.state)
        )
    if received > today:
        raise ProblemError(
            Problem(
                "the day lies ahead",
                f"give a day through {today}",
                "bids",
                key,
                "received",
                str(received),
            )
        )
    answers = _with_answers(before, package, contractor, entry.answers)
    after = sound(before, {**with_row(before, bid, old), "bid_answers": answers})
    owner = next(iter(before.get("project", ())), None) or new(Project)
    level = leveled_package(after, chosen, owner.low_bid_share)
    leveled = next(one for one in level.bids if one.contractor == contractor)
    return after, Entered(None, bid, leveled, level, _notes(after, bid, leveled, today))


def _with_answers(
    rows: Rows, package: str, contractor: str, answers: Mapping[str, Mapping[str, str]]
) -> tuple[BidAnswer, ...]:
    """The answers of all bids with these among them. ProblemError with each cell that is wrong."""
    known: dict[Any, BidAnswer] = {key_of(row): row for row in rows.get("bid_answers", ())}
    problems: list[Problem] = []
    for item, cells in answers.items():
        at = (package, contractor, item)
        texts = {name: text.strip() for name, text in cells.items()}
        if texts.get("answer") == "" or (at not in known and not texts.get("answer")):
            if any(text for name, text in texts.items() if name != "answer"):
                do = "say included, excluded, allowance or unclear"
                problems.append(
                    Problem(
                        "an item has a price and no answer",
                        do,
                        "bid_answers",
                        "/".join(at),
                        "answer",
                    )
                )
            known.pop(at, None)
            continue
        try:
            known[at] = with_cells(BidAnswer, at, known.get(at), texts, rows)
        except ProblemError as error:
            problems.extend(error.problems)
    if problems:
        raise ProblemError(problems)
    return tuple(known.values())


def _notes(rows: Rows, bid: Bid, leveled: LeveledBid, today: dt.date) -> tuple[str, ...]:
    """What to ask before the bid is compared."""
    notes = []
    if leveled.as_bid is None:
        notes.append(
            "its price is not known: give the lump sum, or a price for each item that it includes"
        )
    priced = [
        line.price
        for line in leveled.items
        if line.price is not None and line.answer in ("included", "allowance")
    ]
    if bid.amount is not None and len(priced) == len(leveled.items) and sum(priced) != bid.amount:
        notes.append(
            f"its items add up to {dollars(sum(priced))}, its lump sum is {dollars(bid.amount)}:"
            " ask which holds"
        )
    if leveled.unknown_because:
        notes.append(
            f"nobody else priced {', '.join(leveled.unknown_because)}: the leveled price is not"
            " known without a plug"
        )
    if silent := [line.name for line in leveled.items if line.answer == "not answered"]:
        notes.append(f"nothing is said about {', '.join(silent)}: ask")
    if explain := [line.name for line in leveled.items if line.explain]:
        notes.append(f"10 % or more off your own estimate: {', '.join(explain)}; ask why")
    if leveled.far_below:
        notes.append("far below the others: ask what was left out")
    if bid.valid_until is None:
        notes.append("it is not said until when it holds")
    papers = [p for p in rows.get("papers", ()) if p.contractor == bid.contractor]
    if missing := missing_kinds(papers, today):
        notes.append(f"no {', no '.join(missing)} on file")
    return tuple(notes)
