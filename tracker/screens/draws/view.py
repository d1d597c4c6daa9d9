"""Draws: Whom may I pay, and will the lender fund it?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tracker.screens.draws.to_pay import ToPay
from tracker.screens.frame.keymap import bindings
from tracker.screens.table.parts_view import PartsView

if TYPE_CHECKING:
    from tracker.answers.draw_rows import DrawState, DueRow, PayApplication


class DrawsView(PartsView):
    """Friday's payments, cash by week, applications with their gates, draws with their package, the
    balance.
    """

    CODE = "draws"
    CAUTION = "Paying without a waiver can mean paying twice; lien dates: an attorney."
    BINDINGS = bindings("draws")
    HELP = (
        "On the left Friday's payments, cash by week, pay applications, waivers that are missing,"
        " each draw with its package, and the loan; on the right the rows, below what stops a"
        " payment. c makes the next application of a contract, v verifies it line by line, w"
        " records a waiver, o sets a closed gate aside for a reason, p pays. n prepares the next"
        " draw, m marks a paper of its package, s sends it, f enters what was funded, r that it"
        " came back; P prints it. On the loan i enters the interest of a month. Retainage is"
        " released on Trades, at its contract. Enter opens the row, t shows all tables."
    )

    # What happens to the row under the cursor

    @property
    def _application(self) -> PayApplication | None:
        """The application that the row under the cursor is about; None where it is about none."""
        row = self.row_shown
        if row is None or row.table != "applications":
            return None
        return next(
            (one for one in self.answer.applications if f"{one.contract}/{one.number}" == row.key),
            None,
        )

    @property
    def _release(self) -> DueRow | None:
        """The row of the payment list under the cursor where it pays a release; else None."""
        if self.row_shown is None or self.part is None or self.part.code != "payments":
            return None
        one = self.answer.payments_due[self.list.cursor]
        return one if one.release else None

    @property
    def _to_pay(self) -> ToPay | None:
        """What the row under the cursor would pay; None where it is nothing to pay."""
        part, row = self.part, self.row_shown
        if part is None or row is None:
            return None
        if part.code == "payments":
            one = self.answer.payments_due[self.list.cursor]
            return to_pay_of(one)
        asked = self._application if part.code == "applications" else None
        if asked is None or asked.state == "paid":
            return None
        listed = next(
            (d for d in self.answer.payments_due if d.key == row.key and d.kind == "application"),
            None,
        )
        if listed is not None:
            return to_pay_of(listed)
        return ToPay("application", row.key, asked.contractor, asked.left_to_pay_cents)

    @property
    def _draw(self) -> DrawState | None:
        """The draw whose lines or package are shown; None where neither is."""
        part = self.part if self.row_shown is not None else None
        kind, _, number = part.code.partition(":") if part else ("", "", "")
        if kind not in ("draw", "package"):
            return None
        return next((one for one in self.answer.draws if str(one.number) == number), None)

    @property
    def to_print(self) -> tuple[str, str]:
        """The draw that is shown, or the application under the cursor."""
        if self._draw is not None:
            return "draw", str(self._draw.number)
        one = self._application
        return ("application", f"{one.contract}/{one.number}") if one is not None else ("", "")

    def action_verify(self) -> None:
        """Enter what was seen, line by line."""
        from tracker.screens.draws.verify_entry import verifying

        if asked := self._application:
            self.framed.enter(verifying(asked))

    def action_claim(self) -> None:
        """The next application of the contract under the cursor came in: its form, then v enters
        its lines.
        """
        asked = self._application
        if asked is None:
            return
        contract = asked.contract
        number = max(one.number for one in self.answer.applications if one.contract == contract) + 1
        preset = {"contract": contract, "number": str(number), "period_to": "today"}
        self.app.open_form("applications", None, preset)  # type: ignore[attr-defined]

    def action_pay(self) -> None:
        """Pay what the row is about."""
        from tracker.screens.draws.pay_entry import paying

        due = self._to_pay
        if due is not None:
            self.framed.enter(paying(due))

    def action_waiver(self) -> None:
        """Put a waiver on record: the one of the row, else the first that is missing for its
        application.
        """
        from tracker.screens.draws.waiver_entry import waiver_came

        asked, part = self._application, self.part
        if asked is None:
            return
        missing = [w for w in self.answer.waivers_missing if w.contract == asked.contract]
        own = [w for w in missing if w.application == asked.number] or missing
        one = (
            self.answer.waivers_missing[self.list.cursor]
            if part and part.code == "waivers"
            else next(iter(own), None)
        )
        if self._release is not None:
            self.framed.enter(waiver_came(asked, "conditional final", self._release.cents))
        elif one is None:
            self.framed.enter(waiver_came(asked, "conditional progress", asked.payable_cents))
        else:
            cents = asked.payable_cents if one.amount_cents is None else one.amount_cents
            self.framed.enter(waiver_came(asked, one.kind, cents, one.from_party, one.application))

    def action_set_aside(self) -> None:
        """Set a closed gate aside."""
        from tracker.screens.draws.waiver_entry import setting_aside

        if asked := self._application:
            self.framed.enter(setting_aside(asked, self._release))

    def action_interest(self) -> None:
        """Enter the interest of a month."""
        from tracker.screens.draws.interest_entry import interest_came

        self.framed.enter(interest_came())

    def action_prepare(self) -> None:
        """Prepare the next draw, or the draft anew."""
        from tracker.screens.draws.draw_entry import preparing

        drafts = [one.number for one in self.answer.draws if one.state == "draft"]
        number = max(drafts, default=max((one.number for one in self.answer.draws), default=0) + 1)
        self.framed.enter(preparing(number))

    def action_send(self) -> None:
        """The draw goes to the lender."""
        from tracker.screens.draws.draw_entry import sending

        if self._draw is not None:
            self.framed.enter(sending(self._draw.number))

    def action_fund(self) -> None:
        """The money came."""
        from tracker.screens.draws.draw_entry import funding

        if self._draw is not None:
            self.framed.enter(funding(self._draw.number))

    def action_came_back(self) -> None:
        """The draw came back."""
        from tracker.screens.draws.draw_entry import returning

        if self._draw is not None:
            self.framed.enter(returning(self._draw.number))

    def action_mark_paper(self) -> None:
        """Mark a paper of the package: the one under the cursor, or one to choose."""
        from tracker.screens.draws.draw_entry import marking

        part, row = self.part, self.row
        what = (
            row.key.partition("/")[2] if part and row and part.code.startswith("package:") else ""
        )
        if self._draw is not None:
            self.framed.enter(marking(self._draw.number, what))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """A key that the row under the cursor does not take does not show."""
        if action in ("verify", "waiver", "claim"):
            return self._application is not None
        if action == "set_aside":
            one, release = self._application, self._release
            if release is not None:
                return any(not gate.open for gate in release.gates)
            return (
                one is not None
                and one.state != "paid"
                and any(not g.open and g.gate != "verified" for g in one.gates)
            )
        if action == "pay":
            return self._to_pay is not None
        if action == "interest":
            return (
                self.row_shown is not None and self.part is not None and self.part.code == "balance"
            )
        if action == "prepare":
            return self.is_mounted and self.answer is not None
        needed = {
            "send": ("draft",),
            "fund": ("sent",),
            "came_back": ("sent",),
            "mark_paper": ("draft", "sent"),
        }
        if action in needed:
            return self._draw is not None and self._draw.state in needed[action]
        return True


def to_pay_of(due: DueRow) -> ToPay:
    """A row of Friday's list as something to pay; a release goes by its event."""
    return ToPay(
        due.kind, due.release or due.key, due.payee, due.cents, due.jointly, due.in_exchange
    )
