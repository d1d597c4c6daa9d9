"""A bid that came in: its price, and what it says about each scope item, beside our own
estimate.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from tracker.screens.entry.entering import Ask, Values
from tracker.screens.entry.entering_lines import EnteringLines
from tracker.screens.entry.line_sheet import SheetCol, SheetLine
from tracker.screens.entry.money_words import amount
from tracker.screens.entry.preview_dialog import Choice
from tracker.screens.entry.typed_text import percent, read_day, read_money
from tracker.screens.frame.open_project import OpenProject
from tracker.screens.table.sections import Line, Section
from tracker.trades.records import BidAnswer
from tracker.values.kinds import Cents, Day, Text
from tracker.values.kinds import Choice as OneOf
from tracker.values.money import cents_of, plain_dollars
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows, columns_of

CELLS = ("answer", "price", "plug")
CAME, DECLINED = "bid", "declined"
SHORT = {"i": "included", "e": "excluded", "a": "allowance", "u": "unclear"}
"""What one letter stands for in an answer."""


class BidCame(EnteringLines):
    """One bid of a package."""

    HELP = (
        "What the bid says about each scope item: included (i), excluded (e), allowance (a) or"
        " unclear (u), with its price where there is one; a plug is our own figure for what it"
        " leaves out. Blank prices lie in the lump sum. Beside each item stands what leveling adds,"
        " or how far the price is off our own estimate. Ctrl S tells how the bid compares."
    )

    def __init__(self, desk: OpenProject, package: Any, contractor: str, name: str) -> None:
        """package: the row of the view's answer."""
        super().__init__(desk)
        self.package, self.contractor, self.called = package, contractor, name
        self.seen: Any = None

    def heading(self) -> str:
        """Whose bid, for what."""
        return (
            f"The bid of {self.called or self.contractor} for {self.package.code}"
            f" {self.package.name}"
        )

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """When it came, how long it holds, its price."""
        key = self.package.code, self.contractor
        self.seen = next(
            (b for b in rows.get("bids", ()) if (b.package, b.contractor) == key), None
        )
        if not any(item.package == self.package.code for item in rows.get("package_items", ())):
            do = "enter its items first: t, then package items"
            raise ProblemError(
                Problem("the package has no scope items", do, "packages", self.package.code)
            )
        one = self.seen
        received = one.received if one and one.received else self.desk.today
        answers = (CAME, DECLINED) if one is not None else (CAME,)
        return (
            Ask("they", OneOf(answers), "", CAME, True, column="state"),
            Ask("received", Day(), "", received.isoformat(), True),
            Ask(
                "valid_until",
                Day(),
                "the last day on which it holds",
                one.valid_until.isoformat() if one and one.valid_until else "",
            ),
            Ask(
                "lump_sum",
                Cents(),
                "dollars; blank: the items carry the prices",
                plain(one.amount if one else None),
                column="amount",
            ),
            Ask("note", Text(), "", one.note if one else ""),
        )

    def sheet_columns(self) -> Sequence[SheetCol]:
        """Answer, price, plug."""
        known = {column.name: column for column in columns_of(BidAnswer)}
        return (
            SheetCol(
                known["answer"], "answer", 11, SHORT | {word: word for word in SHORT.values()}
            ),
            SheetCol(known["price"], "price", 12),
            SheetCol(known["plug"], "our plug", 12),
        )

    def sheet_lines(self, rows: Rows) -> Sequence[SheetLine]:
        """Every scope item of the package."""
        known = {column.name: column for column in columns_of(BidAnswer)}
        own = {
            a.item: a
            for a in rows.get("bid_answers", ())
            if (a.package, a.contractor) == (self.package.code, self.contractor)
        }
        return tuple(
            SheetLine(
                item.item,
                item.name or item.item,
                (
                    {name: known[name].kind.write(getattr(own[item.item], name)) for name in CELLS}
                    if item.item in own
                    else {}
                ),
                f"{item.name or item.item}, on {item.cost_line or 'no cost line'}: own estimate"
                f" {amount(item.own_estimate)}",
            )
            for item in rows.get("package_items", ())
            if item.package == self.package.code
        )

    def follows(self) -> tuple[str, int]:
        """What leveling makes of it."""
        return "leveling", 16

    def as_typed(self, texts: Mapping[str, str]) -> Values | None:
        """The price as it is typed, if it is one."""
        try:
            text = texts["lump_sum"].strip()
            received = read_day(texts["received"], self._near)
            return {
                "they": texts["they"],
                "lump_sum": cents_of(read_money(text)) if text else None,
                "received": received,
                "valid_until": None,
                "note": "",
            }
        except ValueError:
            return None

    def tried(self, values: Values) -> Any:
        """How it would stand among the others; None where they declined."""
        return None if values["they"] == DECLINED else self._do(values, only_try=True)

    def _do(self, values: Values, only_try: bool = False) -> Any:
        from tracker.actions.enter_bid import BidEntry, decline_bid, enter_bid

        if values["they"] == DECLINED:
            return decline_bid(
                self.desk.project, self.package.code, self.contractor, values["note"]
            )
        return enter_bid(
            self.desk.project,
            BidEntry(
                self.package.code,
                self.contractor,
                values["lines"],
                values["received"],
                amount=values["lump_sum"],
                valid_until=values["valid_until"],
                note=values["note"],
            ),
            self.desk.today,
            expected=self.seen,
            only_try=only_try,
        )

    def figures(self, found: Any) -> Mapping[str, str]:
        """By item, the plug that leveling adds, or how far it is off our own estimate."""
        return (
            {} if found is None else {item.item: item_words(item) for item in found.leveled.items}
        )

    def total(self, found: Any) -> str:
        """As bid, leveled, against the others."""
        if found is None:
            return "they declined"
        one = found.leveled
        leveled = "not known" if one.leveled is None else amount(one.leveled)
        spread = f" · {percent(one.spread_bp)} off the median" if one.spread_bp is not None else ""
        return f"as bid {amount(one.as_bid)} · leveled {leveled}{spread}"

    def about(self, key: str, found: Any | None) -> Sequence[str]:
        """The item with our own estimate."""
        words = next(one.about for one in self._lines if one.key == key)
        return (words, "answer: i included · e excluded · a allowance · u unclear")

    def told(self, found: Any) -> Sequence[Section]:
        """How it compares, what to ask."""
        if found is None:
            return [Section(self.heading(), ["they do not bid; the note is kept with it"])]
        others = [
            f"{amount(one.leveled):>14}  {one.contractor}, {one.state}"
            for one in sorted(found.package.bids, key=lambda b: (b.leveled is None, b.leveled or 0))
            if one.contractor != self.contractor and one.as_bid is not None
        ]
        few = ["fewer than three bids to compare"] if found.package.few else []
        return [
            Section(self.heading(), [Line(self.total(found), "strong")]),
            Section("The others, leveled", [*others, *few]),
            Section("Ask", [f"· {note}" for note in found.notes]),
        ]

    def choices(self, found: Any) -> Sequence[Choice]:
        """One way."""
        return (Choice("k", "keep the bid", "keep"),)

    def keep(self, values: Values, choice: str) -> Any:
        """Keep it."""
        return self._do(values)

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """That it is in, or that they declined."""
        if hasattr(result, "row"):
            return f"{self.contractor} declined. u takes it back.", ()
        return (
            f"The bid of {self.contractor} is in: {self.total(result)}. u takes it back.",
            result.notes[:2],
        )


def item_words(item: Any) -> str:
    """What leveling makes of an item, in a few cells."""
    if item.plug is not None:
        return f"+{amount(item.plug)} {'plug' if item.plug_from == 'entered' else item.plug_from}"
    if item.plug_from == "unknown":
        return "not known"
    if item.off_estimate_bp is None:
        return ""
    return f"{percent(item.off_estimate_bp)} off{' ~' if item.explain else ''}"


def plain(cents: int | None) -> str:
    """An amount as a field begins with it."""
    return "" if cents is None else plain_dollars(cents)
