"""What an entry does, told before it is kept: a few lines, and the answers that one can give."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Button, Static

from tracker.screens.table.plain import plain
from tracker.screens.table.sections import Section, content_of


@dataclass(frozen=True)
class Choice:
    """One answer: its key, what is said of it, and what it stands for."""

    key: str
    label: str
    value: str


Choices = Sequence[Choice]


def look_at(notes: Sequence[str], title: str = "Look at") -> Section:
    """Notes as a section; without any it does not show."""
    return Section(title, [f"· {note}" for note in notes])


class PreviewDialog(ModalScreen[str | None]):
    """Sections to read, then an answer; escape gives None, which changes nothing."""

    CSS_PATH = "preview_dialog.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", "back"),
        Binding("down", "move(1)", "down", show=False),
        Binding("up", "move(-1)", "up", show=False),
        Binding("pagedown", "move(8)", "page down", show=False),
        Binding("pageup", "move(-8)", "page up", show=False),
    ]

    def __init__(
        self,
        sections: Sequence[Section],
        choices: Sequence[Choice],
        back: str = "back to the entry",
    ) -> None:
        """The first choice is the one that Enter takes."""
        super().__init__()
        self.sections, self.choices, self.back = sections, choices, back

    def compose(self) -> ComposeResult:
        """The lines above, the answers below."""
        from textual.content import Content

        with Vertical(id="preview"):
            with VerticalScroll(id="preview-lines", can_focus=False):
                yield Static(Content("\n").join(content_of(self.sections)))
            with Horizontal(classes="buttons"):
                for choice in self.choices:
                    yield Button(
                        plain(f"{choice.key}  {choice.label}"),
                        id=f"take-{choice.value}",
                        compact=True,
                    )
                yield Button(plain(f"Esc  {self.back}"), id="take-", compact=True)

    def on_mount(self) -> None:
        """The first answer has the focus."""
        next(iter(self.query(Button))).focus()

    def on_key(self, event: events.Key) -> None:
        """A choice's own key takes it."""
        found = next((choice for choice in self.choices if choice.key == event.character), None)
        if found:
            event.stop()
            self.dismiss(found.value)

    @on(Button.Pressed)
    def pressed(self, event: Button.Pressed) -> None:
        """A button was pressed."""
        event.stop()
        self.dismiss((event.button.id or "").removeprefix("take-") or None)

    def action_move(self, by: int) -> None:
        """Scroll the lines."""
        self.query_one("#preview-lines", VerticalScroll).scroll_relative(y=by, animate=False)

    def action_back(self) -> None:
        """Change nothing."""
        self.dismiss(None)
