"""What every screen that one types into has in common: fields, problems above them, choosing a
code, and leaving only after a question.
"""

from __future__ import annotations

import asyncio
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path, PurePath
from typing import ClassVar

from textual import events, on
from textual.actions import SkipAction
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widget import Widget
from textual.widgets import Input, Select, Static

from tracker.screens.entry.dialogs import ask_before_leaving
from tracker.screens.entry.fields import Field
from tracker.screens.entry.line_sheet import LineSheet
from tracker.screens.entry.lines_field import LinesField
from tracker.screens.entry.picking import Picking
from tracker.screens.frame.project_screen import ProjectScreen
from tracker.screens.table.plain import plain, plain_lines
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows

AnyField = Field | LinesField

PATIENCE = 2.0
"""Seconds for a field to take what was typed before the next key goes on without it."""

TOLD = 3
"""How many problems are written out above the fields."""


class TypingScreen(ProjectScreen):
    """A screen with fields and a line for problems above them."""

    CSS_PATH: ClassVar[list[str | PurePath]] = [
        Path(__file__).with_name(name) for name in ("form.tcss", "line_sheet.tcss")
    ]
    AUTO_FOCUS = ""
    LOOK_AGAIN: ClassVar[str] = "Please"
    """How one is asked to look at a field again."""

    table = ""
    """The table from which a code is chosen where a field names none."""

    # For each screen to write

    def heading(self) -> str:
        """What is entered."""
        return ""

    def cautions(self) -> Sequence[str]:
        """What can hurt or lose a right here."""
        return ()

    def opened(self, rows: Rows) -> None:
        """The rows are read: make the fields."""
        raise NotImplementedError

    def unable(self, error: ProblemError) -> None:
        """The rows can't be read, or nothing can be entered here."""
        self.complain(error)

    def follow(self, chosen: bool) -> None:
        """Something was typed, or chosen from a list: let the other fields follow."""

    def save(self) -> None:
        """Go on with what was entered; each field is fine by itself."""
        raise NotImplementedError

    def place_of(self, problem: Problem) -> AnyField | None:
        """The field that a problem is about."""
        raise NotImplementedError

    def beside(self, problem: Problem) -> str:
        """A problem as it stands beside its field."""
        return f"{problem.what}; {problem.do}" if problem.do else problem.what

    def above(self, problem: Problem, place: AnyField | None) -> str:
        """A problem as it stands above the fields; place: the field that it is about."""
        return problem.sentence()

    # The fields

    def compose_body(self) -> ComposeResult:
        """What is entered, cautions, what is wrong, the fields."""
        yield Static(plain(self.heading()), id="form-title")
        cautions = Static(plain_lines("\n".join(self.cautions())), id="entry-cautions")
        cautions.display = bool(self.cautions())
        yield cautions
        yield Static("", id="form-problems")
        yield VerticalScroll(id="fields", can_focus=False)

    def on_mount(self) -> None:
        """Read what the fields need."""
        self.in_thread(self.desk.rows, self.opened, self.unable)

    async def put_fields(self, made: Sequence[Widget]) -> None:
        """Put the fields on the screen; they are complete before anything is shown in them."""
        await self.query_one("#fields", VerticalScroll).mount(*made)
        self.query_one("#form-title", Static).update(plain(self.heading()))
        self.follow(False)
        for one in self.fields:
            one.check()

    @property
    def fields(self) -> Sequence[AnyField]:
        """All fields in their order."""
        return [one for one in self.query(".field") if isinstance(one, AnyField)]

    @property
    def shown(self) -> list[AnyField]:
        """The fields that are asked now."""
        return [one for one in self.fields if one.display]

    def field(self, name: str) -> AnyField | None:
        """The field of a name, or of a column; None where there is none."""
        return next((one for one in self.fields if one.key == name), None)

    def loses_text(self) -> bool:
        """Whether something was typed that is not kept."""
        return any(one.unkept for one in self.shown)

    @on(Input.Changed)
    @on(Select.Changed)
    def typed(self, event: Input.Changed | Select.Changed) -> None:
        """Show back what the field will be kept as."""
        self.follow(isinstance(event, Select.Changed))
        for one in event.control.ancestors:
            if isinstance(one, AnyField):
                one.check()

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """The field in which one types stays in sight."""
        (self._around(event.widget) or event.widget).scroll_visible(animate=False)
        self.refresh_bindings()

    def _around(self, widget: Widget | None) -> Field | None:
        """The field of one value to which a widget belongs."""
        above = widget.ancestors if widget is not None else ()
        return next((one for one in above if isinstance(one, Field)), None)

    # What is wrong

    def problems(self, words: str) -> None:
        """Write above the fields; nothing takes the line away."""
        line = self.query_one("#form-problems", Static)
        line.update(plain_lines(words))
        line.set_class(bool(words), "-shown")

    def refused(self, error: ProblemError) -> None:
        """Say what is wrong, beside its field where it is about one; what was typed stays."""
        said = []
        for problem in error.problems:
            place = self.place_of(problem)
            if place is not None:
                place.say(self.beside(problem))
            said.append(self.above(problem, place))
        more = f"\nand {len(said) - TOLD} more" if len(said) > TOLD else ""
        self.problems("Not kept: " + "\n".join(said[:TOLD]) + more)

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

    # The other keys

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """A field without rows to choose from has nothing to choose."""
        if action == "pick":
            field = self._around(self.focused)
            return field is not None and field.known is not None
        return True

    def action_pick(self) -> None:
        """Choose a code from the rows that are there."""
        field = self._around(self.focused)
        if field is None or field.known is None:
            return

        def chosen(code: str | None) -> None:
            if code:
                field.put_code(code)

        codes = field.known.under(field.before)
        self.app.push_screen(Picking(field.column.refers or self.table, codes), chosen)

    def action_save(self) -> None:
        """Check every field; if all are fine, go on."""
        wrong = [one for one in self.shown if not one.check(insist=True)]
        if wrong:
            names = ", ".join(one.label for one in wrong)
            self.problems(f"{self.LOOK_AGAIN} look at {names} again.")
            wrong[0].control.focus()
            return
        self.save()

    def action_back(self) -> None:
        """Leave; what was typed is not lost without a question."""
        if self.loses_text():
            ask_before_leaving(self.app, lambda: self.dismiss(None))
        else:
            self.dismiss(None)
