"""A bid that came in: its price, and what it says about each scope item, beside our own
estimate.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from tracker.actions.enter_bid import BidEntry, Entered, decline_bid, enter_bid
from tracker.actions.rows import Saved
from tracker.screens.entry.declared import Entry, EntryField, Given, Lines, Opened, Texts, Values
from tracker.screens.entry.line_sheet import SheetCol, SheetLine
from tracker.screens.entry.money_words import amount
from tracker.screens.entry.preview_dialog import look_at
from tracker.screens.entry.typed_text import percent, read_day, read_money
from tracker.screens.table.sections import Line, Section
from tracker.trades.records import Bid, BidAnswer
from tracker.values.kinds import Cents, Day, Text
from tracker.values.kinds import Choice as OneOf
from tracker.values.money import cents_of
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import columns_of

if TYPE_CHECKING:
    from tracker.answers.trade_rows import PackageRow
    from tracker.trades.leveling import LeveledItem

CELLS = ("answer", "price", "plug")
CAME, DECLINED = "bid", "declined"
SHORT = {"i": "included", "e": "excluded", "a": "allowance", "u": "unclear"}
"""What one letter stands for in an answer."""

Came = Entered | Saved
"""A bid that came in, or that they declined."""


def bid_came(package: PackageRow, contractor: str, name: str) -> Entry[Came]:
    """One bid of a package."""
    title = f"The bid of {name or contractor} for {package.code} {package.name}"

    def fields(opened: Opened) -> Sequence[EntryField]:
        items = opened.rows.get("package_items", ())
        if not any(item.package == package.code for item in items):
            do = "enter its items first: t, then package items"
            raise ProblemError(
                Problem("the package has no scope items", do, "packages", package.code)
            )
        one = opened.found(Bid, package=package.code, contractor=contractor)
        they = OneOf((CAME, DECLINED) if one else (CAME,))
        received = one.received if one and one.received else opened.today
        holds, price = (
            "the last day on which it holds",
            "dollars; blank: the items carry the prices",
        )
        return (
            EntryField("they", they, "", CAME, True, column="state"),
            EntryField("received", Day(), "", received, True),
            EntryField("valid_until", Day(), holds, one.valid_until if one else None),
            EntryField("lump_sum", Cents(), price, one.amount if one else None, column="amount"),
            EntryField("note", Text(), "", one.note if one else ""),
        )

    def act(given: Given) -> Came:
        project, note, only_try = given.project, given["note"], given.only_try
        if given["they"] == DECLINED:
            return decline_bid(project, package.code, contractor, note, only_try)
        entry = BidEntry(
            package.code,
            contractor,
            given["lines"],
            given["received"],
            amount=given["lump_sum"],
            valid_until=given["valid_until"],
            note=note,
        )
        seen = given.found(Bid, package=package.code, contractor=contractor)
        return enter_bid(project, entry, given.today, seen, only_try)

    def kept(done: Came) -> str | tuple[str, Sequence[str]]:
        if isinstance(done, Saved):
            return f"{contractor} declined. u takes it back."
        words = f"The bid of {contractor} is in: {bid_total(done)}. u takes it back."
        return words, done.notes[:2]

    return Entry(
        title=title,
        help=(
            "What the bid says about each scope item: included (i), excluded (e), allowance (a) or"
            " unclear (u), with its price where there is one; a plug is our own figure for what it"
            " leaves out. Blank prices lie in the lump sum. Beside each item stands what leveling"
            " adds, or how far the price is off our own estimate. Ctrl S tells how the bid"
            " compares."
        ),
        fields=fields,
        act=act,
        preview=lambda found: bid_sections(title, found),
        keep="keep the bid",
        kept=kept,
        lines=Lines(
            columns=bid_columns,
            lines=lambda opened: bid_lines(package, contractor, opened),
            behind=("leveling", 16),
            figures=leveling,
            total=bid_total,
            about=lambda line, found: (
                line.about,
                "answer: i included · e excluded · a allowance · u unclear",
            ),
            as_typed=as_typed,
        ),
    )


def bid_columns(wide: int) -> Sequence[SheetCol]:
    """Answer, price, plug."""
    known = {column.name: column for column in columns_of(BidAnswer)}
    short = SHORT | {word: word for word in SHORT.values()}
    return (
        SheetCol(known["answer"], "answer", 11, short),
        SheetCol(known["price"], "price", 12),
        SheetCol(known["plug"], "our plug", 12),
    )


def bid_lines(package: PackageRow, contractor: str, opened: Opened) -> Sequence[SheetLine]:
    """Every scope item of the package."""
    known = {column.name: column for column in columns_of(BidAnswer)}
    own = {
        a.item: {name: known[name].kind.write(getattr(a, name)) for name in CELLS}
        for a in opened.rows.get("bid_answers", ())
        if (a.package, a.contractor) == (package.code, contractor)
    }
    return [
        SheetLine(
            item.item,
            item.name or item.item,
            own.get(item.item, {}),
            f"{item.name or item.item}, on {item.cost_line or 'no cost line'}: own estimate"
            f" {amount(item.own_estimate)}",
        )
        for item in opened.rows.get("package_items", ())
        if item.package == package.code
    ]


def as_typed(texts: Texts, opened: Opened) -> Values:
    """The price as it is typed, if it is one."""
    text = texts["lump_sum"].strip()
    return {
        "they": texts["they"],
        "lump_sum": cents_of(read_money(text)) if text else None,
        "received": read_day(texts["received"], opened.near),
        "valid_until": None,
        "note": "",
    }


def leveling(found: Came) -> Mapping[str, str]:
    """By item, the plug that leveling adds, or how far it is off our own estimate."""
    if isinstance(found, Saved):
        return {}
    return {item.item: item_words(item) for item in found.leveled.items}


def item_words(item: LeveledItem) -> str:
    """What leveling makes of an item, in a few cells."""
    if item.plug is not None:
        return f"+{amount(item.plug)} {'plug' if item.plug_from == 'entered' else item.plug_from}"
    if item.plug_from == "unknown":
        return "not known"
    if item.off_estimate_bp is None:
        return ""
    return f"{percent(item.off_estimate_bp)} off{' ~' if item.explain else ''}"


def bid_total(found: Came) -> str:
    """As bid, leveled, against the others."""
    if isinstance(found, Saved):
        return "they declined"
    one = found.leveled
    leveled = "not known" if one.leveled is None else amount(one.leveled)
    spread = f" · {percent(one.spread_bp)} off the median" if one.spread_bp is not None else ""
    return f"as bid {amount(one.as_bid)} · leveled {leveled}{spread}"


def bid_sections(title: str, found: Came) -> list[Section]:
    """How it compares, what to ask."""
    if isinstance(found, Saved):
        return [Section(title, ["they do not bid; the note is kept with it"])]
    others = [
        f"{amount(one.leveled):>14}  {one.contractor}, {one.state}"
        for one in sorted(found.package.bids, key=lambda b: (b.leveled is None, b.leveled or 0))
        if one.contractor != found.bid.contractor and one.as_bid is not None
    ]
    few = ["fewer than three bids to compare"] if found.package.few else []
    return [
        Section(title, [Line(bid_total(found), "strong")]),
        Section("The others, leveled", [*others, *few]),
        look_at(found.notes, "Ask"),
    ]
