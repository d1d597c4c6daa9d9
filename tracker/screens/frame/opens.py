"""What the screens ask of the app that they lie in, so that none of them knows a form, an entry or
another screen by name.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING, Any, Protocol

from tracker.values.problems import ProblemError

if TYPE_CHECKING:
    from tracker.actions.rows import Saved
    from tracker.screens.entry.declared import ShortEntry
    from tracker.screens.frame.project_screen import ProjectScreen


class Opens(Protocol):
    """The app, as its screens see it."""

    def open_form(
        self, table: str, key: str | None = None, preset: Mapping[str, str] | None = None
    ) -> None:
        """Open the form of a row, or of a new one with the cells of preset filled in."""

    def open_entry(self, entry: ShortEntry[Any]) -> None:
        """Open the form of an entry."""

    def open_history(self) -> None:
        """Show every change."""

    def offer_another_way(self, screen: ProjectScreen, error: ProblemError) -> bool:
        """Where something was refused and an entry offers another way, offer it; whether that says
        all that is wrong.
        """

    def ask_remove(self, table: str, key: str, then: Callable[[Saved], None] | None = None) -> None:
        """Ask, then remove a row. then: what follows once it is gone."""

    def kept(self, words: str, notes: Iterable[str] = ()) -> None:
        """Something was kept: say so, with what followed from it."""

    def project_changed(self) -> None:
        """One of our own actions changed the project: show it as it is now."""
