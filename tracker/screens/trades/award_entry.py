"""A bid is awarded: contract and schedule of values in one step, told before they are kept."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tracker.actions.codes import next_code
from tracker.screens.entry.entering import Ask, Entering, Values
from tracker.screens.entry.money_words import amount, with_and_without
from tracker.screens.entry.preview_dialog import Choice
from tracker.screens.frame.open_project import OpenProject
from tracker.screens.table.sections import Line, Section
from tracker.values.kinds import Choice as OneOf
from tracker.values.kinds import Code, Day, Rate
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows

OPEN = ("received", "passed over")
"""States of a bid that can be awarded."""


class Awarding(Entering):
    """One package, one winner."""

    HELP = (
        "The bid becomes a contract whose schedule of values comes from the scope items; the others"
        " are passed over. What the bid leaves out stays out of the contract and is told. Leave the"
        " day of signing empty while it is not signed: it counts from that day on. Ctrl S tells all"
        " of it before it is kept; u takes it back in one step."
    )

    def __init__(self, desk: OpenProject, package: Any) -> None:
        """package: the row of the view's answer."""
        super().__init__(desk)
        self.package = package
        self.bids: dict[str, Any] = {}

    def heading(self) -> str:
        """Which package."""
        return f"Award {self.package.code} {self.package.name}"

    def cautions(self) -> Sequence[str]:
        """License and insurance first."""
        return (
            (
                "Check license and insurance before you sign; electrical, gas and plumbing need"
                " licensed trades. Ask an attorney."
            ),
        )

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """Who, under which code, when signed, what is held back."""
        self.bids = {
            b.contractor: b
            for b in rows.get("bids", ())
            if b.package == self.package.code and b.state in OPEN
        }
        if not self.bids:
            do = "enter a bid as received, with its price"
            raise ProblemError(
                Problem("no bid of the package can be awarded", do, "packages", self.package.code)
            )
        best = min(
            (
                b
                for b in self.package.bids
                if b.contractor in self.bids and b.leveled_cents is not None
            ),
            key=lambda b: b.leveled_cents,
            default=None,
        )
        only = next(iter(self.bids)) if len(self.bids) == 1 else ""
        help = f"lowest leveled: {best.contractor}, {amount(best.leveled_cents)}" if best else ""
        code = next_code(rows, "contracts", "C")
        return (
            Ask("contractor", OneOf(tuple(self.bids)), help, only, True),
            Ask("contract", Code(), "the code of the new contract", code, True, column="code"),
            Ask("signed", Day(), "blank: not signed yet, it does not count until it is"),
            Ask("held_back", Rate(), "percent of work in place; blank: none", column="retainage"),
        )

    def tried(self, values: Values) -> Any:
        """What the award would do."""
        return self._do(values, only_try=True)

    def _do(self, values: Values, only_try: bool = False) -> Any:
        from tracker.actions.award import AwardEntry, award

        return award(
            self.desk.project,
            AwardEntry(
                self.package.code,
                values["contractor"],
                values["contract"],
                values["signed"],
                retainage=values["held_back"],
            ),
            self.desk.today,
            expected=self.bids[values["contractor"]],
            only_try=only_try,
        )

    def told(self, found: Any) -> Sequence[Section]:
        """The schedule of values, the forecast, who is passed over, what to look at."""
        lines: list[Line | str] = [
            f"{amount(one.value):>14}  {one.line} {one.name}, on {one.cost_line}"
            for one in found.lines
        ]
        lines.append(
            Line(
                f"{amount(found.contract.sum):>14}  contract {found.contract.code}"
                f" {found.contract.contractor}",
                "strong",
            )
        )
        rows = [("will cost", amount(found.forecast_before), amount(found.forecast_after))]
        passed = [f"· passed over: {', '.join(found.passed_over)}"] if found.passed_over else []
        bid = next(
            (b for b in self.package.bids if b.contractor == found.contract.contractor), None
        )
        return [
            Section("The schedule of values", lines),
            Section("What it does", [*with_and_without(rows, "now", "then"), *passed]),
            Section("Look at", [*bid_remarks(bid), *(f"· {note}" for note in found.notes)]),
        ]

    def choices(self, found: Any) -> Sequence[Choice]:
        """One way."""
        return (Choice("k", "award it", "keep"),)

    def keep(self, values: Values, choice: str) -> Any:
        """Award it."""
        return self._do(values)

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """What was made."""
        one = result.contract
        words = (
            f"Contract {one.code} with {one.contractor} over {amount(one.sum)} is made. u takes"
            " contract and award back."
        )
        return words, result.notes[:2]


def bid_remarks(bid: Any) -> list[Line | str]:
    """What leveling says of the bid that is to win."""
    if bid is None:
        return []
    said: list[Line | str] = []
    if bid.far_below:
        said.append(Line("! far below the others: ask what was left out before you sign", "warn"))
    if bid.explain:
        names = {item.item: item.name or item.item for item in bid.items}
        off = ", ".join(names[item] for item in bid.explain)
        said.append(Line(f"~ 10 % or more off your own estimate: {off}; ask why", "warn"))
    if bid.plugs_cents:
        said.append(
            f"· leveled {amount(bid.leveled_cents)}: {amount(bid.plugs_cents)} of plugs is not in"
            " the contract"
        )
    return said


class Signing(Entering):
    """An awarded contract is signed."""

    HELP = (
        "From the day of signing on the contract counts: its sum is signed, and what was entered as"
        " still to buy for its work comes off. Lines and sum stand from then on; what changes is a"
        " change to the contract. Ctrl S tells what it does."
    )

    def __init__(self, desk: OpenProject, code: str, who: str) -> None:
        super().__init__(desk)
        self.code, self.who = code, who
        self.seen: Any = None

    def heading(self) -> str:
        """Which contract."""
        return f"Contract {self.code} with {self.who} is signed"

    def cautions(self) -> Sequence[str]:
        """License and insurance first."""
        return (
            "Check license and insurance before you sign; have an attorney read what you sign.",
        )

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """The day."""
        self.seen = next((c for c in rows.get("contracts", ()) if c.code == self.code), None)
        return (
            Ask("signed", Day(), "the day on which both signed", self.desk.today.isoformat(), True),
        )

    def tried(self, values: Values) -> Any:
        """What it would do."""
        return self._do(values, only_try=True)

    def _do(self, values: Values, only_try: bool = False) -> Any:
        from tracker.actions.sign_contract import sign_contract

        return sign_contract(
            self.desk.project, self.code, values["signed"], self.desk.today, self.seen, only_try
        )

    def told(self, found: Any) -> Sequence[Section]:
        """The forecast before and after, what to look at."""
        rows = [("will cost", amount(found.forecast[0]), amount(found.forecast[1]))]
        lines = [
            f"{amount(found.contract.sum)} is signed from {found.contract.signed.isoformat()} on"
        ]
        return [
            Section("What it does", [*lines, *with_and_without(rows, "now", "then")]),
            Section("Look at", [f"· {note}" for note in found.notes]),
        ]

    def choices(self, found: Any) -> Sequence[Choice]:
        """One way."""
        return (Choice("k", "it is signed", "keep"),)

    def keep(self, values: Values, choice: str) -> Any:
        """Keep it."""
        return self._do(values)

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """That it counts."""
        return f"Contract {self.code} is signed and counts. u takes it back.", result.notes[:2]
