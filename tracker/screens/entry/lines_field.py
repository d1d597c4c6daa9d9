"""A field of several lines: one text a line, Enter makes the next one."""

from __future__ import annotations

from collections.abc import Sequence

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.widgets import Input, Static

from tracker.screens.entry.fields import CleanInput
from tracker.screens.table.plain import plain


class LinesField(Horizontal):
    """Texts, one a line. name: as in the entry; label and help as people read them."""

    def __init__(
        self, name: str, label: str, help: str, needed: bool = False, start: Sequence[str] = ()
    ) -> None:
        super().__init__(id=f"field-{name}", classes="field")
        self.key, self.label, self.help, self.needed = name, label, help, needed
        self.start = tuple(start)

    def compose(self) -> ComposeResult:
        """Label, lines, what belongs here."""
        yield Static(plain(self.label + (" *" if self.needed else "")), classes="field-label")
        with Vertical(classes="lines"):
            for text in (*self.start, ""):
                yield CleanInput(text, compact=True)
        yield Static(plain(self.help), classes="field-echo")

    @property
    def texts(self) -> tuple[str, ...]:
        """The lines in which something stands."""
        return tuple(line.value.strip() for line in self.query(Input) if line.value.strip())

    @property
    def unkept(self) -> bool:
        """Whether leaving would lose what somebody typed here."""
        return self.texts != self.start

    def check(self, insist: bool = False) -> bool:
        """Show what will be kept. insist: an empty one that is needed is wrong."""
        count = len(self.texts)
        wrong = self.needed and not count and insist
        words = (
            "! needs at least one line"
            if wrong
            else self.help
            if not count
            else f"→ {count} line{'s' * (count != 1)}"
        )
        self.query_one(".field-echo", Static).update(plain(words))
        self.set_class(wrong, "-wrong")
        self.set_class(bool(count), "-kept")
        return not wrong

    def say(self, words: str) -> None:
        """Show what somebody else found wrong with it."""
        self.query_one(".field-echo", Static).update(plain(f"! {words}"))
        self.add_class("-wrong")

    @property
    def control(self) -> Input:
        """The line in which one begins to type."""
        return next(iter(self.query(Input)))

    async def more_after(self, line: Input) -> bool:
        """Go on to one more line behind the last one, if something stands in that; whether there is
        one now.
        """
        if line is not list(self.query(Input))[-1] or not line.value.strip():
            return False
        new = CleanInput(compact=True)
        await self.query_one(".lines", Vertical).mount(new)
        self.screen.set_focus(new)
        return True
