"""Changes: What changed, who agreed, what does it do to money and time?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tracker.pages.changes import NEXT
from tracker.screens.frame.keymap import bindings
from tracker.screens.table.parts_view import PartsView

if TYPE_CHECKING:
    from tracker.answers.changes import ChangeRow, ChangesAnswer


class ChangesView(PartsView):
    """Each change with its reason, price, days and state; below, what it does before it is
    approved.
    """

    CODE = "changes"
    CAUTION = "A change by word of mouth is a dispute to come: write, price and sign it."
    BINDINGS = bindings("changes")
    HELP = (
        "Each change with who asked, its price, its days and its state; below, forecast,"
        " contingency and opening without it and with it, while it is asked for. a notes a change"
        " as soon as somebody speaks of it; ? nags until p gives it a price. y approves it, money"
        " and days in one step; n refuses it. Enter opens a change, t shows the lines of its price."
    )

    # What happens to the change under the cursor

    @property
    def _change(self) -> ChangeRow | None:
        """The change under the cursor; None where there is none."""
        row = self.row_shown
        if row is None:
            return None
        answer: ChangesAnswer = self.answer
        return next((one for one in answer.changes if one.number == row.key), None)

    def action_price(self) -> None:
        """Give it its price and days."""
        from tracker.screens.changes.steps import pricing

        if self._change is not None:
            self.framed.enter(pricing(self._change))

    def action_approve(self) -> None:
        """Approve it."""
        from tracker.screens.changes.steps import approving

        if self._change is not None:
            self.framed.enter(approving(self._change))

    def action_refuse(self) -> None:
        """Refuse it."""
        from tracker.screens.changes.steps import refusing

        if self._change is not None:
            self.framed.enter(refusing(self._change))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """A decided change takes no step; one without a price is not approved."""
        if action in ("price", "refuse"):
            return self._change is not None and self._change.state in NEXT
        if action == "approve":
            return self._change is not None and self._change.state == "priced"
        return True
