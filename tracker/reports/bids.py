"""Bids side by side, leveled: what each would cost if all of them covered the same scope."""

from __future__ import annotations

import datetime as dt

from tracker.answers.trade_rows import BidItemRow, BidRow, PackageRow
from tracker.answers.trades import packages
from tracker.approvals.cautions import for_view
from tracker.reports.document import CODE, DAY, MONEY, SHARE, Cell, Column, Document, Part, day
from tracker.reports.making import document_of
from tracker.values.money import dollars, plain_rate
from tracker.values.problems import Problem, ProblemError
from tracker.values.project import Project
from tracker.values.records import Rows, new

BESIDE = 3
"""Bids that stand beside one another on a page; more go into a further table."""

SUMMARY = (
    Column("package", "Package", CODE),
    Column("bid", "Bid of"),
    Column("state", "State", CODE),
    Column("received", "Received", DAY),
    Column("valid_until", "Valid until", DAY),
    Column("as_bid", "As bid", MONEY),
    Column("plugs", "Added by us", MONEY),
    Column("leveled", "Leveled", MONEY, "", "{as_bid}+{plugs}"),
    Column("spread", "Against the median", SHARE),
    Column("remarks", "Remarks"),
)

LONGEST_HEAD = 90
"""So many letters of a bidder's name stand over its columns; a heading taller than the page can't
be printed.
"""


def documents(rows: Rows, today: dt.date, number: str | None) -> Document:
    """All packages with their bids, or the package of a code."""
    project = next(iter(rows.get("project", ())), None) or new(Project)
    known = packages(rows, today, project.low_bid_share)
    if not known:
        raise ProblemError(
            Problem(
                what="there is no bid package yet",
                do="enter one, or import packages.csv and bids.csv",
            )
        )
    chosen = [one for one in known if number in (None, one.code)]
    if not chosen:
        there = ", ".join(one.code for one in known)
        raise ProblemError(
            Problem(
                what="there is no such bid package", value=number or "", do=f"there are {there}"
            )
        )
    parts = [summary(chosen)]
    for one in chosen:
        parts += items(one)
    cautions = [
        (
            "The lowest leveled price is not yet the best bid: what is added by us is an estimate;"
            " papers and references count."
        ),
        *(c.text for c in for_view("trades") if not c.works),
    ]
    title = "Bids side by side" if number is None else f"Bids side by side: {chosen[0].name}"
    return document_of(title, rows, today, parts, cautions, main="summary")


def summary(chosen: list[PackageRow]) -> Part:
    """A row a bid."""
    rows = tuple(
        (
            one.code,
            bid.name,
            bid.state,
            bid.received,
            bid.valid_until,
            bid.as_bid_cents,
            bid.plugs_cents,
            bid.leveled_cents,
            bid.spread_bp,
            "; ".join(remarks(bid)),
        )
        for one in chosen
        for bid in one.bids
    )
    note = (
        "Leveled: as bid, and what we add for each item that a bid excludes or leaves unclear: as"
        " entered, or the others' median."
    )
    return Part(
        "summary", "All bids", SUMMARY, rows, note=note, empty="No bid is asked for yet.", wide=True
    )


def remarks(bid: BidRow) -> list[str]:
    """What a person should know of a bid."""
    found = []
    if bid.as_bid_cents is not None and bid.leveled_cents is None:
        unknown = ", ".join(bid.unknown_because)
        found.append(
            f"leveled price unknown: nobody else priced {unknown}"
            if unknown
            else "leveled price unknown"
        )
    if bid.far_below:
        found.append("far below the others: ask whether something was forgotten")
    if not bid.valid and bid.state == "received":
        found.append("no longer valid")
    if bid.explain:
        found.append(f"10 % or more off our estimate: {', '.join(bid.explain)}")
    if bid.missing_papers:
        found.append(f"missing papers: {', '.join(bid.missing_papers)}")
    return found


def items(one: PackageRow) -> list[Part]:
    """The items of a package with the bids beside one another, some at a time."""
    bids = [
        bid
        for bid in one.bids
        if bid.as_bid_cents is not None or any(i.price_cents is not None for i in bid.items)
    ]
    asked = [bid.name for bid in one.bids if bid.state == "asked"]
    words = [f"Trade: {one.trade}."] if one.trade else []
    if one.due:
        words.append(f"Bids were due {day(one.due)}.")
    if one.remark:
        words.append(f"{one.remark[0].upper()}{one.remark[1:]}.")
    if asked:
        words.append(f"Asked: {', '.join(asked)}.")
    if one.own_estimate_cents is not None:
        words.append(f"Our estimate {dollars(one.own_estimate_cents)}.")
    if one.median_cents is not None:
        words.append(f"Median of the leveled bids {dollars(one.median_cents)}.")
    groups = [bids[start : start + BESIDE] for start in range(0, len(bids), BESIDE)] or [[]]
    return [
        side_by_side(
            one,
            group,
            place,
            f"{one.code} {one.name}" if place == 0 else f"{one.code}, further bids",
            words if place == 0 else [],
        )
        for place, group in enumerate(groups)
    ]


def side_by_side(
    one: PackageRow, group: list[BidRow], place: int, title: str, words: list[str]
) -> Part:
    """A table of items and bids."""
    columns = [Column("item", "Item"), Column("own", "Our estimate", MONEY)]
    for number, bid in enumerate(group):
        over = bid.name if len(bid.name) <= LONGEST_HEAD else bid.name[: LONGEST_HEAD - 1] + "…"
        columns += [
            Column(f"answer{number}", "Answer", CODE, over),
            Column(f"price{number}", "Price", MONEY, over),
            Column(f"added{number}", "Added by us", MONEY, over),
        ]
    rows: list[tuple[Cell, ...]] = []
    for number, item in enumerate(group[0].items if group else ()):
        cells: list[Cell] = [item.name or item.item, item.own_estimate_cents]
        for bid in group:
            cells += answered(bid.items[number])
        rows.append(tuple(cells))
    foot: list[Cell] = ["As bid, and added by us", one.own_estimate_cents]
    for bid in group:
        foot += ["", bid.as_bid_cents, bid.plugs_cents]
    table = tuple(rows)
    return Part(
        f"items-{one.code}-{place}",
        title,
        tuple(columns) if rows else (),
        table,
        tuple(foot) if rows else (),
        words=(" ".join(words),) if words else (),
        empty="No bid with a price is in yet.",
        wide=True,
    )


def answered(item: BidItemRow) -> list[Cell]:
    """A bid's answer to an item: its word, its price, what we add and from where."""
    off = (
        f", {plain_rate(abs(item.off_estimate_bp) * 10)} %"
        f" {'over' if item.off_estimate_bp > 0 else 'under'}"
        if item.explain and item.off_estimate_bp
        else ""
    )
    origin = f" ({item.plug_from})" if item.plug_from else ""
    return [f"{item.answer}{origin}{off}", item.price_cents, item.plug_cents]
