"""A pane of short sections: a title, then lines; it scrolls, and grows while it has the focus."""

from __future__ import annotations

from collections.abc import Iterable

from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from tracker.pages.page import Line as Line
from tracker.pages.page import Section as Section
from tracker.screens.table.plain import plain

STYLES = {
    "": "",
    "strong": "bold",
    "muted": "dim",
    "accent": "bold $text-accent",
    "warn": "bold $text-warning",
}
"""How a line can be drawn."""


class SectionsPane(VerticalScroll, can_focus=True):
    """Sections one under the other."""

    def __init__(self, id: str | None = None, classes: str = "sections") -> None:
        super().__init__(Static("", classes="sections-text"), id=id, classes=classes)

    def put(self, sections: Iterable[Section]) -> None:
        """Show these sections; those without a line are left out."""
        self.query_one(Static).update(Content("\n").join(content_of(sections)))
        self.scroll_home(animate=False)


def content_of(sections: Iterable[Section]) -> list[Content]:
    """The lines of sections as content, cleaned."""
    made: list[Content] = []
    for section in sections:
        if not section.lines:
            continue
        if made:
            made.append(Content(""))
        if section.title:
            made.append(plain(section.title, "bold underline"))
        for line in section.lines:
            made.append(
                plain(line)
                if isinstance(line, str)
                else plain(line.text, STYLES.get(line.tone, ""))
            )
    return made
