"""Short questions: yes or no. Escape is always the answer that loses nothing."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, ClassVar

from textual import on
from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.screen import ModalScreen
from textual.widgets import Button, Static

from tracker.screens.table.plain import plain, plain_lines

LOOKS = Path(__file__).with_name("dialogs.tcss")
"""Named in full: a dialog of another folder looks like these."""

LEAVING = "Leave without keeping what you typed?"


class Question(ModalScreen[bool]):
    """A question with two answers; no is the safe one, and escape means no."""

    CSS_PATH = LOOKS
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


def ask_before_leaving(app: App[Any], leave: Callable[[], Any], question: str = LEAVING) -> None:
    """Ask whether to leave what was typed; a yes leaves."""

    def answered(yes: bool | None) -> None:
        if yes:
            leave()

    app.push_screen(Question(question, "leave it", "go on typing"), answered)
