"""Bid packages with their bids side by side, leveled: on the page of Trades, and as a document."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterator

from tracker.answers.trade_rows import BidItemRow, BidRow, PackageRow
from tracker.pages.cells import NOTHING, amount, day, share
from tracker.pages.marks import ASKS, AT_RISK, BLOCKS
from tracker.pages.page import (
    CODE,
    DAY,
    MONEY,
    NARROW,
    NUMBER,
    ON_PAPER,
    ON_SCREEN,
    ON_TEXT,
    SHARE,
    WIDE,
    Cell,
    Column,
    Line,
    Paper,
    Part,
    Piece,
    Row,
    Section,
    cells_of,
    hint,
    plain_rows,
    total,
)
from tracker.values.money import dollars, plain_rate
from tracker.values.problems import Problem, ProblemError
from tracker.values.project import Project
from tracker.values.records import Rows, new

PLUG = "+"
"""Stands before what leveling adds to a bid."""
LEGEND = (
    f"{PLUG} a plug: what we add where a bid leaves an item out or unclear, as entered or the"
    " others' median · ~ explain: off our estimate"
)
SHORT = 9
"""Letters of a bidder's name where there is little room."""
LONGEST_HEAD = 90
"""So many letters of a bidder's name stand over its columns; a heading taller than the page can't
be printed.
"""
BESIDE = 3
"""Bids that stand beside one another on a page; more go into a further table."""
ANSWERED = ("received", "awarded", "passed over")
NEXT = (
    "b enters a bid, item by item; w awards one: contract and schedule of values in one step. P"
    " prints the bids."
)

SUMMARY = (
    Column("package", "package", CODE, on=ON_PAPER),
    Column("name", "bid of"),
    Column("state", "state", CODE),
    Column("received", "received", DAY, on=ON_PAPER),
    Column("valid_until", "valid until", DAY, on=ON_PAPER),
    Column("as_bid", "as bid", MONEY),
    Column("plugs", "added by us", MONEY),
    Column("leveled", "leveled", MONEY, "", "{as_bid}+{plugs}"),
    Column("spread", "against the median", SHARE),
    Column("remarks", "remarks", on=ON_PAPER),
)
"""The columns of a list of bids; as text the remarks stand below it."""


def package_parts(one: PackageRow) -> tuple[Part, Part]:
    """A package on the page of Trades: item by item on the screen, bid by bid as text."""
    return on_screen(one), bid_by_bid(one)


def bid_by_bid(one: PackageRow) -> Part:
    """The bids of a package, a row each."""
    return Part(
        f"bids:{one.code}",
        f"package {one.code}: {one.name}",
        SUMMARY,
        tuple(bid_row(one, bid) for bid in one.bids),
        words=tuple(line.text for line in head(one)),
        note="; ".join(f"{bid.name}: {said}" for bid in one.bids if (said := remarks(bid))),
        empty="No bid yet.",
        on=ON_TEXT,
    )


def bid_row(one: PackageRow, bid: BidRow) -> Row:
    """One bid in the columns of a list."""
    leveled: Cell = bid.leveled_cents
    if leveled is None and bid.unknown_because:
        leveled = "not known"
    return Row(cells_of(bid, SUMMARY, package=one.code, leveled=leveled, remarks=remarks(bid)))


def head(one: PackageRow) -> list[Line]:
    """What a person should know of a package."""
    said = [f"Trade: {one.trade}."] if one.trade else []
    if one.due:
        said.append(f"Bids due {day(one.due)}.")
    if one.own_estimate_cents is not None:
        said.append(f"Our estimate {dollars(one.own_estimate_cents)}.")
    if one.median_cents is not None:
        said.append(f"Median of the leveled bids {dollars(one.median_cents)}.")
    asked = [bid.name for bid in one.bids if bid.state == "asked"]
    found = [Line(" ".join(said))] if said else []
    if one.remark:
        words = f"{one.remark[0].upper()}{one.remark[1:]}."
        found.append(Line(words, "" if one.awarded_to else "warn"))
    return [*found, Line(f"Asked: {', '.join(asked)}.")] if asked else found


def remarks(bid: BidRow) -> str:
    """What to know of a bid before comparing it, in one line."""
    return "; ".join(words for _, words in to_know(bid))


def to_know(bid: BidRow) -> Iterator[tuple[str, str]]:
    """The same point by point, each with its mark."""
    if bid.as_bid_cents is not None and bid.leveled_cents is None:
        nobody = f": nobody else priced {', '.join(bid.unknown_because)}"
        yield BLOCKS, f"leveled price not known{nobody if bid.unknown_because else ''}"
    if bid.far_below:
        yield BLOCKS, "far below the others: ask what was left out"
    if bid.valid_until and not bid.valid and bid.state == "received":
        yield BLOCKS, f"no longer valid: held until {day(bid.valid_until)}"
    if bid.explain:
        names = {item.item: item.name or item.item for item in bid.items}
        off = ", ".join(names[item] for item in bid.explain)
        yield AT_RISK, f"10 % or more off our own estimate, to be explained: {off}"
    if bid.missing_papers:
        yield ASKS, f"missing papers: {', '.join(bid.missing_papers)}"


def priced(one: PackageRow) -> list[BidRow]:
    """The bids that came."""
    return [
        bid
        for bid in one.bids
        if bid.state in ANSWERED or any(item.price_cents is not None for item in bid.items)
    ]


def on_screen(one: PackageRow) -> Part:
    """A package: items down, bids across, totals at the foot. Where there is little room, with
    short names; without cents where there are none.
    """
    bids = priced(one)
    show = dollars_alone if whole(one, bids) else amount
    columns = [Column("item", "scope item", most=26, grow=True)]
    for bid in bids:
        short = bid.name if len(bid.name) <= SHORT else f"{bid.name[: SHORT - 1]}…"
        columns.append(Column("wide", bid.name, NUMBER, most=18, on=(WIDE,)))
        columns.append(Column("narrow", short, NUMBER, on=(NARROW,)))
    columns.append(Column("own", "own estimate", NUMBER, most=12))
    rows = tuple(
        item_row(one, item, bids, [bid.items[at] for bid in bids], show)
        for at, item in enumerate(one.bids[0].items if one.bids else ())
    )
    return Part(
        f"package:{one.code}",
        f"bid: {one.name}",
        tuple(columns),
        rows,
        feet(one, bids, show),
        count="awarded" if one.awarded_to else f"{len(bids)} bid{'s' * (len(bids) != 1)}",
        table="bids",
        offers=("open", "add"),
        preset={"package": one.code, "state": "asked"},
        frozen=1,
        about=package_about(one),
        on=ON_SCREEN,
    )


def item_row(
    one: PackageRow,
    item: BidItemRow,
    bids: list[BidRow],
    answers: list[BidItemRow],
    show: Callable[[int | None], str],
) -> Row:
    """A scope item with what each bid asks for it. answers: of the bids, in their order."""
    cells = [cell for x in answers for cell in (price(x, show, True), price(x, show, False))]
    return Row(
        (item.name or item.item, *cells, show(item.own_estimate_cents)),
        "package_items",
        f"{one.code}/{item.item}",
        about=lambda: item_about(item, bids, answers),
    )


def whole(one: PackageRow, bids: list[BidRow]) -> bool:
    """Whether every figure of a package is in whole dollars."""
    figures = [one.own_estimate_cents, one.median_cents]
    for bid in bids:
        figures += [bid.as_bid_cents, bid.leveled_cents]
        for item in bid.items:
            figures += [item.price_cents, item.plug_cents, item.own_estimate_cents]
    return all(cents % 100 == 0 for cents in figures if cents is not None)


def dollars_alone(cents: int | None) -> str:
    """An amount of whole dollars."""
    return NOTHING if cents is None else dollars(cents, cents_too=False)


def price(item: BidItemRow, show: Callable[[int | None], str], in_words: bool) -> Cell:
    """A price, a plug with its mark, or the answer in a word."""
    if item.plug_cents is not None:
        said = f" {item.answer}" if in_words else ""
        return Piece(f"{PLUG}{show(item.plug_cents)}{said}", "accent")
    if item.price_cents is None:
        return item.answer or NOTHING
    if item.explain:
        return Piece(f"{show(item.price_cents)} {AT_RISK}", "strong")
    return show(item.price_cents)


def feet(
    one: PackageRow, bids: list[BidRow], show: Callable[[int | None], str]
) -> tuple[tuple[Cell, ...], ...]:
    """As bid, leveled, spread against the median."""

    def across(name: str, of: Callable[[BidRow], str], last: str = "") -> tuple[Cell, ...]:
        return (name, *(text for bid in bids for text in (of(bid), of(bid))), last)

    return (
        across("as bid", lambda bid: show(bid.as_bid_cents), show(one.own_estimate_cents)),
        across(
            "leveled",
            lambda bid: "not known" if bid.leveled_cents is None else show(bid.leveled_cents),
        ),
        across(f"against the median {show(one.median_cents)}", lambda bid: share(bid.spread_bp)),
    )


def item_about(item: BidItemRow, bids: list[BidRow], answers: list[BidItemRow]) -> list[Section]:
    """What each bid says about a scope item."""
    lines: list[Line | str] = []
    for bid, one in zip(bids, answers, strict=True):
        said = f"{bid.name}: {one.answer or 'no answer'}"
        if one.price_cents is not None:
            said += f" {amount(one.price_cents)}"
        if one.plug_cents is not None:
            said += f"; plug {PLUG}{amount(one.plug_cents)} ({one.plug_from})"
        if one.explain:
            said += f"; {share(one.off_estimate_bp)} off our estimate: explain"
        lines.append(Line(said, "warn" if one.explain else ""))
    return [Section(f"{item.item} {item.name}", lines)]


def package_about(one: PackageRow) -> tuple[Section | Part, ...]:
    """What a person should know of a package and of each bid."""
    lines: list[Line | str] = [*head(one)]
    for bid in one.bids:
        ended = "" if bid.valid else ": run out"
        last = f", holds until {day(bid.valid_until)}{ended}" if bid.valid_until else ""
        lines.append(f"{bid.name}: {bid.state}{last}")
        lines += [Line(f"  {mark} {words}", "warn") for mark, words in to_know(bid)]
    lines.append(Line(LEGEND, "muted"))
    return Section(one.name, lines), hint("" if one.awarded_to else NEXT)


def document(rows: Rows, today: dt.date, number: str | None) -> Paper:
    """All packages with their bids, or the package of a code. ProblemError where there is none."""
    from tracker.answers.trades import packages
    from tracker.approvals.cautions import for_view

    project = next(iter(rows.get("project", ())), None) or new(Project)
    known = packages(rows, today, project.low_bid_share)
    if not known:
        do = "enter one, or import packages.csv and bids.csv"
        raise ProblemError(Problem(what="there is no bid package yet", do=do))
    chosen = [one for one in known if number in (None, one.code)]
    if not chosen:
        do = f"there are {', '.join(one.code for one in known)}"
        raise ProblemError(Problem(what="there is no such bid package", value=number or "", do=do))
    summary = Part(
        "summary",
        "all bids",
        SUMMARY,
        tuple(bid_row(one, bid) for one in chosen for bid in one.bids),
        note=(
            "Leveled: as bid, and what we add for each item that a bid excludes or leaves unclear:"
            " as entered, or the others' median."
        ),
        empty="No bid is asked for yet.",
        wide=True,
    )
    cautions = (
        "The lowest leveled price is not yet the best bid: what is added by us is an estimate;"
        " papers and references count.",
        *(c.text for c in for_view("trades") if not c.works),
    )
    title = "Bids side by side" if number is None else f"Bids side by side: {chosen[0].name}"
    parts = (summary, *(part for one in chosen for part in on_paper(one)))
    return Paper(title, parts, cautions, main="summary")


def on_paper(one: PackageRow) -> list[Part]:
    """The items of a package with the bids beside one another, some at a time."""
    bids = priced(one)
    groups = [bids[start : start + BESIDE] for start in range(0, len(bids), BESIDE)] or [[]]
    return [side_by_side(one, group, place) for place, group in enumerate(groups)]


def side_by_side(one: PackageRow, group: list[BidRow], place: int) -> Part:
    """A table of items and bids. place: which of the package's tables."""
    columns = [Column("item", "item"), Column("own", "our estimate", MONEY)]
    for number, bid in enumerate(group):
        over = bid.name if len(bid.name) <= LONGEST_HEAD else bid.name[: LONGEST_HEAD - 1] + "…"
        columns += [
            Column(f"answer{number}", "answer", CODE, over),
            Column(f"price{number}", "price", MONEY, over),
            Column(f"added{number}", "added by us", MONEY, over),
        ]
    rows: list[tuple[Cell, ...]] = []
    for number, item in enumerate(group[0].items if group else ()):
        answers = [bid.items[number] for bid in group]
        cells = [cell for x in answers for cell in (answer_of(x), x.price_cents, x.plug_cents)]
        rows.append((item.name or item.item, item.own_estimate_cents, *cells))
    sums: dict[str, Cell] = {"own": one.own_estimate_cents}
    for number, bid in enumerate(group):
        sums |= {f"price{number}": bid.as_bid_cents, f"added{number}": bid.plugs_cents}
    words = " ".join(line.text for line in head(one)) if place == 0 else ""
    return Part(
        f"items-{one.code}-{place}",
        f"{one.code} {one.name}" if place == 0 else f"{one.code}, further bids",
        tuple(columns) if rows else (),
        plain_rows(rows),
        (total(columns, "as bid, and added by us", **sums),) if rows else (),
        words=(words,) if words else (),
        empty="No bid with a price is in yet.",
        wide=True,
    )


def answer_of(item: BidItemRow) -> str:
    """A bid's answer to an item in a word, from where what we add is, and how far off it is."""
    origin = f" ({item.plug_from})" if item.plug_from else ""
    if not item.explain or not item.off_estimate_bp:
        return f"{item.answer}{origin}"
    way = "over" if item.off_estimate_bp > 0 else "under"
    return f"{item.answer}{origin}, {plain_rate(abs(item.off_estimate_bp) * 10)} % {way}"
