"""A bid package with its bids side by side: one row a scope item, one column a bid."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from tracker.pages.cells import day
from tracker.screens.entry.money_words import NOTHING, amount
from tracker.screens.entry.typed_text import percent
from tracker.screens.table.parts_view import Part, PartRow
from tracker.screens.table.plain import cut
from tracker.screens.table.rows_table import Cell, Col, Piece
from tracker.screens.table.sections import Line, Section
from tracker.values.money import dollars

PLUG = "+"
"""Stands before what leveling adds to a bid."""
SHORT = 9
"""Cells of a bidder's name where there is little room."""
ANSWERED = ("received", "awarded", "passed over")
NEXT = (
    "b enters a bid, item by item; w awards one: contract and schedule of values in one step. P"
    " prints the bids."
)


def package_part(package: Any, wide: bool = True) -> Part:
    """A package: items down, bids across, totals at the foot.

    Where there is little room, short names and whole dollars.
    """
    bids = [bid for bid in package.bids if bid.state in ANSWERED]
    items = package.bids[0].items if package.bids else ()
    show = amount if wide or not whole(package, bids) else dollars_alone
    columns = [Col("scope item", most=26 if wide else 15, grow=True)]
    names = [bid.name or bid.contractor for bid in bids]
    columns += [Col(name if wide else cut(name, SHORT), right=True, most=18) for name in names]
    columns.append(Col("own estimate" if wide else "our own", right=True))
    rows = []
    for at, item in enumerate(items):
        answers = [(bid, bid.items[at]) for bid in bids]
        cells: list[Cell] = [
            item.name or item.item,
            *(item_cell(one, show, wide) for _, one in answers),
        ]
        cells.append(show(item.own_estimate_cents))
        rows.append(
            PartRow(
                "package_items",
                f"{package.code}/{item.item}",
                cells,
                lambda item=item, answers=answers: item_about(item, answers),  # type: ignore[misc]
            )
        )
    count = "awarded" if package.awarded_to else f"{len(bids)} bid{'s' * (len(bids) != 1)}"
    about = package_about(package)
    foot = feet(package, bids, show)
    code, name, preset = (
        f"package:{package.code}",
        f"bid: {package.name}",
        {"package": package.code, "state": "asked"},
    )
    return Part(code, name, "bids", columns, rows, count, foot, 1, about, ("open", "add"), preset)


def whole(package: Any, bids: list[Any]) -> bool:
    """Whether every figure of a package is in whole dollars, so that nothing is lost without the
    cents.
    """
    figures = [package.own_estimate_cents, package.median_cents]
    for bid in bids:
        figures += [bid.as_bid_cents, bid.leveled_cents]
        for item in bid.items:
            figures += [item.price_cents, item.plug_cents, item.own_estimate_cents]
    return all(cents % 100 == 0 for cents in figures if cents is not None)


def dollars_alone(cents: int | None) -> str:
    """An amount of whole dollars."""
    return NOTHING if cents is None else dollars(cents, cents_too=False)


def item_cell(item: Any, show: Callable[[int | None], str] = amount, wide: bool = True) -> Cell:
    """A price, a plug with its mark, or the answer in a word."""
    if item.plug_cents is not None:
        said = f" {item.answer}" if wide else ""
        return Piece(f"{PLUG}{show(item.plug_cents)}{said}", "accent")
    if item.price_cents is not None:
        return Piece(
            f"{show(item.price_cents)}{' ~' if item.explain else ''}",
            "strong" if item.explain else "",
        )
    return item.answer or NOTHING


def feet(
    package: Any, bids: list[Any], show: Callable[[int | None], str] = amount
) -> list[list[Cell]]:
    """As bid, leveled, spread against the median."""
    return [
        ["as bid", *(show(bid.as_bid_cents) for bid in bids), show(package.own_estimate_cents)],
        [
            "leveled",
            *(
                "not known" if bid.leveled_cents is None else show(bid.leveled_cents)
                for bid in bids
            ),
            "",
        ],
        [
            f"against the median {show(package.median_cents)}",
            *(percent(bid.spread_bp) for bid in bids),
            "",
        ],
    ]


def item_about(item: Any, answers: list[tuple[Any, Any]]) -> list[Section]:
    """What each bid says about a scope item."""
    lines: list[Line | str] = []
    for bid, one in answers:
        plug = (
            f"; plug {PLUG}{amount(one.plug_cents)} ({one.plug_from})"
            if one.plug_cents is not None
            else ""
        )
        off = f"; {percent(one.off_estimate_bp)} off our estimate: explain" if one.explain else ""
        price = f" {amount(one.price_cents)}" if one.price_cents is not None else ""
        lines.append(
            Line(
                f"{bid.name or bid.contractor}: {one.answer or 'no answer'}{price}{plug}{off}",
                "warn" if off else "",
            )
        )
    return [Section(f"{item.item} {item.name}", lines)]


def package_about(package: Any) -> list[Section]:
    """What a person should know of the package and of each bid."""
    lines: list[Line | str] = [f"{package.trade} · bids due {day(package.due)}"]
    if package.remark:
        lines.append(Line(package.remark, "" if package.awarded_to else "warn"))
    for bid in package.bids:
        lines.extend(bid_lines(bid))
    lines.append(
        Line(
            f"{PLUG} a plug: what we add where a bid leaves an item out or unclear · ~ explain: off"
            " our estimate",
            "muted",
        )
    )
    return [
        Section(package.name, lines),
        Section("", [] if package.awarded_to else [Line(NEXT, "muted")]),
    ]


def bid_lines(bid: Any) -> list[Line | str]:
    """One bid's state, validity and what is missing."""
    last = (
        f", holds until {day(bid.valid_until)}{'' if bid.valid else ': run out'}"
        if bid.valid_until
        else ""
    )
    lines: list[Line | str] = [f"{bid.name or bid.contractor}: {bid.state}{last}"]
    if bid.unknown_because:
        lines.append(
            Line(
                f"  leveled price not known: nobody else priced {', '.join(bid.unknown_because)}",
                "warn",
            )
        )
    if bid.explain:
        names = {item.item: item.name or item.item for item in bid.items}
        off = ", ".join(names[item] for item in bid.explain)
        lines.append(Line(f"  ~ 10 % or more off our own estimate, to be explained: {off}", "warn"))
    if bid.far_below:
        lines.append(Line("  ! far below the others: ask what was left out", "warn"))
    if bid.missing_papers:
        lines.append(Line(f"  ? missing papers: {', '.join(bid.missing_papers)}", "warn"))
    return lines
