"""What if: change an activity on a copy, and see the opening move while one types."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from textual.app import ComposeResult
from textual.widget import Widget
from textual.widgets import Input, Static

from tracker.screens.entry.fields import CleanInput, Labeled
from tracker.screens.path.edits import link_edits, links_text, unknown_codes, with_edits
from tracker.screens.path.effect_form import EffectForm
from tracker.screens.table.plain import plain
from tracker.tables.row_edits import Edit

COLUMNS = ("duration", "remaining", "not_before", "finish_by", "calendar")
LINKS_HINT = "predecessors: CODE, CODE/SS, CODE/FS/3, CODE/FS/3/calendar, CODE/FS/cutoff"


class LinksField(Labeled):
    """What the activity waits for, in one line that can be typed over."""

    def __init__(self, links: Sequence[Any], names: Mapping[str, str]) -> None:
        super().__init__(classes="field", id="field-links")
        self.links, self.names = links, names
        self.start = links_text(links)

    def compose(self) -> ComposeResult:
        """Label, line, echo."""
        yield Static("waits for", classes="field-label")
        yield CleanInput(self.start, compact=True)
        yield Static(plain(LINKS_HINT), classes="field-echo")

    @property
    def typed(self) -> str:
        """What stands in the line."""
        return self.query_one(Input).value

    def check(self) -> bool:
        """Say what it will be, or what is wrong with it."""
        try:
            missing = unknown_codes(self.typed, self.names)
            wrong = f"has no such activity: {missing[0]}" if missing else ""
        except ValueError as error:
            wrong = str(error)
        self.query_one(".field-echo", Static).update(plain(f"! {wrong}" if wrong else LINKS_HINT))
        self.set_class(bool(wrong), "-wrong")
        return not wrong


class WhatIfForm(EffectForm):
    """The fields of one activity that a what-if may change.

    Dismisses with all changes so far, or None.
    """

    TITLE_WORDS = "What if"
    HINT = "Enter shows it in the table · Esc goes back · nothing is kept yet"
    LEAVING = "Leave without trying what you typed?"

    def columns(self) -> Sequence[str]:
        """What remains only of work that has begun."""
        return [
            name
            for name in COLUMNS
            if name != "remaining" or self.activity.actual_start is not None
        ]

    def first_field(self) -> str:
        """What remains of work that has begun; of other work how long it takes."""
        return "remaining" if self.activity.actual_start is not None else "duration"

    def more_fields(self) -> Iterator[Widget]:
        """What it waits for."""
        links = [link for link in self.rows.get("links", ()) if link.to == self.code]
        yield LinksField(links, {one.code: one.name for one in self.rows["activities"]})

    def more_edits(self) -> Sequence[Edit] | None:
        """The links that come and go."""
        field = self.query_one(LinksField)
        return link_edits(self.code, field.links, field.typed) if field.check() else None

    def unkept(self) -> bool:
        """Whether leaving would lose what somebody typed."""
        field = self.query_one(LinksField)
        return field.typed != field.start or super().unkept()

    def together(self, more: Sequence[Edit]) -> tuple[Edit, ...]:
        """All changes so far; what is as it stands in the project falls away."""
        return with_edits(self.edits, more, self.loaded.rows)
