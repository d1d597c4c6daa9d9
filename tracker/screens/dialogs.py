"""Short questions: yes or no, and one line of text. Escape is always the answer that loses nothing."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.screen import ModalScreen
from textual.widgets import Button, Input, Static

from tracker.screens.fields import CleanInput
from tracker.screens.plain import plain, plain_lines


class Question(ModalScreen[bool]):
    """A question with two answers; no is the safe one, and escape means no."""

    CSS_PATH = "dialogs.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("y", "answer(True)", "yes"),
        Binding("n,escape", "answer(False)", "no"),
    ]

    def __init__(self, question: str, yes: str, no: str) -> None:
        super().__init__()
        self.question, self.yes, self.no = question, yes, no

    def compose(self) -> ComposeResult:
        """The question above its two answers."""
        with Vertical(classes="dialog"):
            yield Static(plain_lines(self.question), id="question")
            with Horizontal(classes="buttons"):
                yield Button(plain(f"n  {self.no}"), id="no", compact=True)
                yield Button(plain(f"y  {self.yes}"), id="yes", compact=True)

    def on_mount(self) -> None:
        """The safe answer has the focus."""
        self.query_one("#no", Button).focus()

    @on(Button.Pressed)
    def pressed(self, event: Button.Pressed) -> None:
        """A button was pressed."""
        self.dismiss(event.button.id == "yes")

    def action_answer(self, yes: bool) -> None:
        """Answer by key."""
        self.dismiss(yes)


class OneLine(ModalScreen[str | None]):
    """One line of text; escape gives None, unless something was typed: then it asks first."""

    CSS_PATH = "dialogs.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "back", "back")]

    def __init__(self, question: str, value: str = "", needed: bool = False) -> None:
        super().__init__()
        self.question, self.value, self.needed = question, value, needed

    def compose(self) -> ComposeResult:
        """The question above its line."""
        with Vertical(classes="dialog"):
            yield Static(plain_lines(self.question), id="question")
            yield CleanInput(self.value, id="line", compact=True)
            yield Static("Enter keeps it · Esc goes back", classes="hint")

    @on(Input.Submitted)
    def submitted(self, event: Input.Submitted) -> None:
        """The line is complete."""
        if self.needed and not event.value.strip():
            self.query_one(".hint", Static).update(plain("It needs a few words · Esc goes back"))
            return
        self.dismiss(event.value)

    def action_back(self) -> None:
        """Leave; typed text is not lost without a question."""
        if self.query_one(Input).value == self.value:
            self.dismiss(None)
            return

        def answered(leave: bool | None) -> None:
            if leave:
                self.dismiss(None)

        self.app.push_screen(Question("Leave without keeping what you typed?", "leave it", "go on typing"), answered)
