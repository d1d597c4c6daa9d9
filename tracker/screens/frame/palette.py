"""The command palette: every action of the register that is possible here, and every table by its
name.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from typing import Any

from textual.command import DiscoveryHit, Hit, Hits, Provider

from tracker.screens.frame.keymap import BY_ID, VIEWS, key_words
from tracker.screens.frame.table_help import READ_ONLY, TABLES_OF_VIEWS, about, title_of

NEED_NO_ROW = (
    "close_date",
    "project",
    "site_log",
    "delay",
    "cost_move",
    "code_study",
    "prepare_draw",
)
"""Actions of single views that need no row under the cursor: they can be found from everywhere."""


class Register(Provider):
    """What can be done here."""

    def _all(self) -> Iterator[tuple[str, str, Callable[[], Any]]]:
        """Words, help and what to run."""
        seen = set()
        for node, binding, enabled, _ in self.screen.active_bindings.values():
            act = BY_ID.get(binding.id or "")
            if act is None or not enabled or act.id in seen or act.id in ("palette", "quit_short"):
                continue
            seen.add(act.id)
            yield (
                f"{act.label}  ({key_words(act)})",
                act.help,
                partial(self.app.run_action, binding.action, node),
            )
        if "open_view" in "".join(b.binding.action for b in self.screen.active_bindings.values()):
            yield from self._elsewhere(seen)
            yield from self._tables()

    def _elsewhere(self, here: set[str]) -> Iterator[tuple[str, str, Callable[[], Any]]]:
        """What other views can do without a row; the view is opened for it."""
        app: Any = self.app
        names = {code: name for code, name, _ in VIEWS}
        for act in (BY_ID[id] for id in NEED_NO_ROW if id not in here):
            yield (
                f"{act.label}  (in {names[act.where]}: {key_words(act)})",
                act.help,
                partial(app.do_in_view, act.where, act.do),
            )

    def _tables(self) -> Iterator[tuple[str, str, Callable[[], Any]]]:
        """Every table, to look at and to add to."""
        app: Any = self.app
        for tables in TABLES_OF_VIEWS.values():
            for table in tables:
                yield f"rows of {title_of(table)}", about(table), partial(app.open_table, table)
                if table not in (*READ_ONLY, "project"):
                    yield (
                        f"new row in {title_of(table)}",
                        about(table),
                        partial(app.open_form, table),
                    )

    async def discover(self) -> Hits:
        """Everything, while nothing is typed yet."""
        for words, about_it, run in self._all():
            yield DiscoveryHit(words, run, text=words, help=about_it)

    async def search(self, query: str) -> Hits:
        """What matches the typed words."""
        matcher = self.matcher(query)
        for words, about_it, run in self._all():
            score = max(matcher.match(words), matcher.match(about_it) * 0.6)
            if score > 0:
                yield Hit(score, matcher.highlight(words), run, text=words, help=about_it)
