"""What every screen that one types into has in common: problems above the fields, and leaving only
after a question.
"""

from __future__ import annotations

import asyncio
from contextlib import suppress

from textual.actions import SkipAction
from textual.widgets import Input, Static

from tracker.screens.entry.dialogs import ask_before_leaving
from tracker.screens.entry.line_sheet import LineSheet
from tracker.screens.entry.lines_field import LinesField
from tracker.screens.frame.project_screen import ProjectScreen
from tracker.screens.table.plain import plain_lines

PATIENCE = 2.0
"""Seconds for a field to take what was typed before the next key goes on without it."""


class Filling(ProjectScreen):
    """A screen with fields and a line for problems above them; it shows a Static named
    form-problems.
    """

    def problems(self, words: str) -> None:
        """Write above the fields; nothing takes the line away."""
        line = self.query_one("#form-problems", Static)
        line.update(plain_lines(words))
        line.set_class(bool(words), "-shown")

    # Moving on: the keys for it work before the next letter is handed on, so that it lands in the
    # next field

    async def all_typed(self) -> None:
        """Wait until the field has taken the letters that were typed before."""
        taken = asyncio.Event()
        if self.focused is not None and self.focused.call_later(taken.set):
            with suppress(TimeoutError):
                await asyncio.wait_for(taken.wait(), PATIENCE)

    async def action_next_field(self) -> None:
        """Go on to the next field."""
        await self.all_typed()
        self.focus_next()

    async def action_field_before(self) -> None:
        """Go back to the field before."""
        await self.all_typed()
        self.focus_previous()

    async def action_entered(self) -> None:
        """Enter in a field: the cell below, one more line, or the next field.

        Elsewhere the key does what it does there.
        """
        field = self.focused
        if not isinstance(field, Input):
            raise SkipAction
        await self.all_typed()
        sheet = next((one for one in field.ancestors if isinstance(one, LineSheet)), None)
        lines = next((one for one in field.ancestors if isinstance(one, LinesField)), None)
        if sheet is not None:
            sheet.action_go(1)
        elif lines is None or not await lines.more_after(field):
            self.focus_next()

    def action_back(self) -> None:
        """Leave; what was typed is not lost without a question."""
        if self.loses_text():
            ask_before_leaving(self.app, lambda: self.dismiss(None))
        else:
            self.dismiss(None)
