"""Draws: Whom may I pay, and will the lender fund it?"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tracker.screens import draws_loan, draws_words
from tracker.screens.actions import bindings
from tracker.screens.parts_view import Part, PartsView


class DrawsView(PartsView):
    """Friday's payments, cash by week, applications with their gates, draws with their package, the balance."""

    CODE = "draws"
    CAUTION = "Paying without a waiver can mean paying twice; lien dates: an attorney."
    BINDINGS = bindings("draws")
    HELP = (
        "On the left Friday's payments, cash by week, pay applications, each draw and the loan; on the right the rows, below "
        "what stops a payment and what a draw's package lacks. Enter opens the row, t shows all tables."
    )

    def load(self) -> Any:
        """The answer of Draws."""
        from tracker.answers.draws import answer

        return answer(self.project, self.today)

    def headline_of(self, answer: Any) -> str:
        """In balance or short; the next Friday."""
        return draws_words.headline(answer)

    def parts_of(self, answer: Any, wide: bool) -> Sequence[Part]:
        """Payments first, then what is asked of the lender."""
        return [
            draws_words.payments_part(answer, wide),
            draws_words.weeks_part(answer),
            draws_words.applications_part(answer, wide),
            *draws_loan.draw_parts(answer),
            draws_loan.next_part(answer),
            draws_loan.balance_part(answer),
            draws_words.ahead_part(answer),
        ]

    # What happens to the row under the cursor

    @property
    def _application(self) -> Any:
        """The application that the row under the cursor is about; None where it is about none."""
        row = self.row_shown
        if row is None or row.table != "applications":
            return None
        return next((one for one in self.answer.applications if f"{one.contract}/{one.number}" == row.key), None)

    def action_verify(self) -> None:
        """Enter what was seen, line by line."""
        from tracker.screens.verify_entry import Verifying

        self.app.push_screen(Verifying(self.desk, self._application))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """A key that the row under the cursor does not take does not show."""
        if action == "verify":
            return self._application is not None
        return True
