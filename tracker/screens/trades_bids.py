"""A bid package with its bids side by side: one row a scope item, one column a bid."""

from __future__ import annotations

from typing import Any

from tracker.screens.money_words import NOTHING, amount
from tracker.screens.parts_view import Part, PartRow
from tracker.screens.rezoning_words import day
from tracker.screens.rows_table import Cell, Col, Piece
from tracker.screens.sections import Line, Section
from tracker.screens.typing import percent

PLUG = "+"
"""Stands before what leveling adds to a bid."""
ANSWERED = ("received", "awarded", "passed over")
NEXT = "b enters a bid, item by item; w awards one: contract and schedule of values in one step. P prints the bids."


def package_part(package: Any) -> Part:
    """A package: items down, bids across, totals at the foot."""
    bids = [bid for bid in package.bids if bid.state in ANSWERED]
    columns = [Col("scope item", most=26, grow=True)]
    columns += [Col(bid.name or bid.contractor, right=True, most=18) for bid in bids]
    columns.append(Col("own estimate", right=True))
    first = bids[0].items if bids else ()
    rows = []
    for at, item in enumerate(first):
        cells: list[Cell] = [item.name or item.item, *(item_cell(bid.items[at]) for bid in bids), amount(item.own_estimate_cents)]
        answers = [(bid, bid.items[at]) for bid in bids]
        rows.append(
            PartRow(
                "package_items",
                f"{package.code}/{item.item}",
                cells,
                lambda item=item, answers=answers: item_about(item, answers),  # type: ignore[misc]
            )
        )
    count = "awarded" if package.awarded_to else f"{len(bids)} bids"
    about = package_about(package)
    name = f"bid: {package.name}"
    return Part(f"package:{package.code}", name, "bids", columns, rows, count, feet(package, bids), 1, about, ("open", "add"))


def item_cell(item: Any) -> Cell:
    """A price, a plug with its mark, or the answer in a word."""
    if item.plug_cents is not None:
        return Piece(f"{PLUG}{amount(item.plug_cents)} {item.answer}", "accent")
    if item.price_cents is not None:
        return Piece(f"{amount(item.price_cents)}{' ~' if item.explain else ''}", "strong" if item.explain else "")
    return item.answer or NOTHING


def feet(package: Any, bids: list[Any]) -> list[list[Cell]]:
    """As bid, leveled, spread against the median."""
    return [
        ["as bid", *(amount(bid.as_bid_cents) for bid in bids), amount(package.own_estimate_cents)],
        ["leveled", *("not known" if bid.leveled_cents is None else amount(bid.leveled_cents) for bid in bids), ""],
        [f"against the median {amount(package.median_cents)}", *(percent(bid.spread_bp) for bid in bids), ""],
    ]


def item_about(item: Any, answers: list[tuple[Any, Any]]) -> list[Section]:
    """What each bid says about a scope item."""
    lines: list[Line | str] = []
    for bid, one in answers:
        plug = f"; plug {PLUG}{amount(one.plug_cents)} ({one.plug_from})" if one.plug_cents is not None else ""
        off = f"; {percent(one.off_estimate_bp)} off our estimate: explain" if one.explain else ""
        price = f" {amount(one.price_cents)}" if one.price_cents is not None else ""
        lines.append(Line(f"{bid.name or bid.contractor}: {one.answer or 'no answer'}{price}{plug}{off}", "warn" if off else ""))
    return [Section(f"{item.item} {item.name}", lines)]


def package_about(package: Any) -> list[Section]:
    """What a person should know of the package and of each bid."""
    lines: list[Line | str] = [f"{package.trade} · bids due {day(package.due)}"]
    if package.remark:
        lines.append(Line(package.remark, "" if package.awarded_to else "warn"))
    for bid in package.bids:
        lines.extend(bid_lines(bid))
    lines.append(
        Line(f"{PLUG} a plug: what we add where a bid leaves an item out or unclear · ~ explain: off our estimate", "muted")
    )
    return [Section(package.name, lines), Section("", [] if package.awarded_to else [Line(NEXT, "muted")])]


def bid_lines(bid: Any) -> list[Line | str]:
    """One bid's state, validity and what is missing."""
    last = f", holds until {day(bid.valid_until)}{'' if bid.valid else ': run out'}" if bid.valid_until else ""
    lines: list[Line | str] = [f"{bid.name or bid.contractor}: {bid.state}{last}"]
    if bid.unknown_because:
        lines.append(Line(f"  leveled price not known: nobody else priced {', '.join(bid.unknown_because)}", "warn"))
    if bid.explain:
        names = {item.item: item.name or item.item for item in bid.items}
        off = ", ".join(names[item] for item in bid.explain)
        lines.append(Line(f"  ~ 10 % or more off our own estimate, to be explained: {off}", "warn"))
    if bid.far_below:
        lines.append(Line("  ! far below the others: ask what was left out", "warn"))
    if bid.missing_papers:
        lines.append(Line(f"  ? missing papers: {', '.join(bid.missing_papers)}", "warn"))
    return lines
