"""The interest of a month is entered as a bill."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tracker.screens.entry.entering import Ask, Entering, Values
from tracker.screens.entry.money_words import amount
from tracker.screens.entry.preview_dialog import Choice
from tracker.screens.table.sections import Section
from tracker.values.kinds import Cents, Code
from tracker.values.money import plain_dollars
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows


class InterestCame(Entering):
    """The oldest month whose interest is not entered yet."""

    HELP = (
        "Interest is posted at the end of each month, on the daily balance by the loan's day count."
        " Entered as a bill on the reserve line it can enter the next draw. The amount is what the"
        " loan's terms make it; change it to what the lender's statement says, and ask where they"
        " differ."
    )
    due: Any = None

    def heading(self) -> str:
        """What it is."""
        return "The interest of a month"

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """Amount and lender of the oldest month."""
        from tracker.actions.enter_interest import lender_of, not_billed

        self.due = next(iter(not_billed(rows, self.desk.today)), None)
        if self.due is None:
            do = "the month under way is posted when it ends"
            raise ProblemError(Problem("no month's interest is left to enter", do, "invoices"))
        source = next(s for s in rows["sources"] if s.code == self.due.source)
        words = f"of {source.name or source.code} for {self.due.month:%B %Y}"
        return (
            Ask("amount", Cents(), words, plain_dollars(self.due.amount), True),
            Ask(
                "lender",
                Code(),
                "who sends the statement",
                lender_of(rows, source),
                refers="contractors",
                column="contractor",
            ),
        )

    def tried(self, values: Values) -> Any:
        """What it would write."""
        return self._do(values, only_try=True)

    def _do(self, values: Values, only_try: bool = False) -> Any:
        from tracker.actions.enter_interest import enter_interest

        due, desk = self.due, self.desk
        return enter_interest(
            desk.project,
            due.source,
            due.month,
            values["amount"],
            values["lender"],
            desk.today,
            only_try,
        )

    def told(self, found: Any) -> Sequence[Section]:
        """The bill, and what to look at."""
        bill = found.bill
        line = (
            f"{amount(bill.amount)} on {bill.cost_line}, bill {bill.code} of"
            f" {bill.date.isoformat()}"
        )
        return [
            Section(
                f"Interest for {self.due.month:%B %Y}",
                [line, f"the loan's terms make it {amount(found.computed)}"],
            ),
            Section("Look at", [f"· {note}" for note in found.notes]),
        ]

    def choices(self, found: Any) -> Sequence[Choice]:
        """One way."""
        return (Choice("k", "enter it", "keep"),)

    def keep(self, values: Values, choice: str) -> Any:
        """Enter it."""
        return self._do(values)

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """That it is entered."""
        return (
            f"{result.bill.code}: {amount(result.bill.amount)}. u takes it back.",
            result.notes[:1],
        )
