"""What every screen that one types into has in common: problems above the fields, and leaving only after a question."""

from __future__ import annotations

from textual.widgets import Static

from tracker.screens.dialogs import ask_before_leaving
from tracker.screens.frame import Framed
from tracker.screens.plain import plain_lines


class Filling(Framed):
    """A screen with fields and a line for problems above them; it shows a Static named form-problems."""

    def problems(self, words: str) -> None:
        """Write above the fields; nothing takes the line away."""
        line = self.query_one("#form-problems", Static)
        line.update(plain_lines(words))
        line.set_class(bool(words), "-shown")

    def action_back(self) -> None:
        """Leave; what was typed is not lost without a question."""
        if self.loses_text():
            ask_before_leaving(self.app, lambda: self.dismiss(None))
        else:
            self.dismiss(None)
