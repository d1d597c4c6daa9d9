"""Trades: Who does what, for how much, and can I trust their papers?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tracker.screens.frame.keymap import bindings
from tracker.screens.table.parts_view import PartsView

if TYPE_CHECKING:
    from tracker.answers.trade_rows import ContractRow, PackageRow
    from tracker.answers.trades import TradesAnswer

OPEN = ("asked", "received")
"""States of a bid that can still be entered or corrected."""


class TradesView(PartsView):
    """Contractors with contract, money, papers and words; contracts; each package with its bids
    side by side.
    """

    CODE = "trades"
    CAUTION = "Check license and insurance before work; electrical, gas: licensed trades."
    BINDINGS = bindings("trades")
    HELP = (
        "On the left contractors, contracts, words given and each bid package. A package shows its"
        " bids side by side, leveled: + marks a plug, what we add where a bid leaves an item out or"
        " unclear. b enters a bid, item by item, and w awards one: contract and schedule of values"
        " in one step. On a contract s enters that it was signed, l releases retainage and p pays a"
        " deposit. P prints the bids of a package. Enter opens the row, t shows all tables."
    )

    # What happens to the part or row under the cursor

    @property
    def _package(self) -> PackageRow | None:
        """The bid package that is shown; None where none is."""
        answer: TradesAnswer | None = self.answer if self.is_mounted else None
        part = self.part if answer is not None else None
        kind, _, code = part.code.partition(":") if part else ("", "", "")
        if answer is None or kind != "package":
            return None
        return next((one for one in answer.packages if one.code == code), None)

    @property
    def _contract(self) -> ContractRow | None:
        """The contract under the cursor; None where there is none."""
        row = self.row_shown
        if row is None or row.table != "contracts":
            return None
        answer: TradesAnswer = self.answer
        return next((one for one in answer.contracts if one.code == row.key), None)

    @property
    def to_print(self) -> tuple[str, str]:
        """The bids of the package that is shown."""
        return ("bids", self._package.code) if self._package is not None else ("", "")

    def action_bid_came(self) -> None:
        """Enter a bid: of one who was asked, or of another contractor."""
        from tracker.screens.entry.picking import Picking
        from tracker.screens.trades.bid_entry import bid_came

        package = self._package
        if package is None:
            return
        names = {who.code: who.name for who in self.answer.contractors}
        asked = {
            bid.contractor: f"{names.get(bid.contractor, '')} ({bid.state})"
            for bid in package.bids
            if bid.state in OPEN
        }
        decided = {bid.contractor for bid in package.bids} - set(asked)
        others = {
            code: name for code, name in names.items() if code not in asked and code not in decided
        }

        def chosen(code: str | None) -> None:
            if code:
                self.framed.enter(bid_came(package, code, names.get(code, "")))

        self.app.push_screen(Picking("contractors", asked | others), chosen)

    def action_award(self) -> None:
        """Award the package."""
        from tracker.screens.trades.award_entry import awarding

        if package := self._package:
            self.framed.enter(awarding(package))

    def action_sign(self) -> None:
        """The contract is signed."""
        from tracker.screens.trades.award_entry import signing

        one = self._contract
        if one is not None:
            self.framed.enter(signing(one.code, one.contractor))

    def action_release(self) -> None:
        """Release retainage."""
        from tracker.screens.draws.pay_entry import releasing

        one = self._contract
        if one is not None:
            self.framed.enter(releasing(one.code, one.contractor, one.held_cents))

    def action_deposit(self) -> None:
        """Pay a deposit."""
        from tracker.screens.draws.pay_entry import paying
        from tracker.screens.draws.to_pay import ToPay

        one = self._contract
        if one is None:
            return
        names = {who.code: who.name for who in self.answer.contractors}
        payee = names.get(one.contractor) or one.contractor
        self.framed.enter(paying(ToPay("deposit", one.code, payee, None)))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """A key that the part or row does not take does not show."""
        if action in ("award", "bid_came"):
            return self._package is not None and not self._package.awarded_to
        if action == "release":
            return self._contract is not None and self._contract.held_cents > 0
        if action == "deposit":
            return self._contract is not None and self._contract.is_signed
        if action == "sign":
            return self._contract is not None and self._contract.signed is None
        return True
