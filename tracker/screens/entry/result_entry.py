"""An entry whose action moves the plan and may offer a delay event: tried and told first, then kept
as one step.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tracker.screens.entry.effect_words import LOGGED, kept_words, result_choices, result_sections
from tracker.screens.entry.entering import Entering, Values
from tracker.screens.entry.preview_dialog import Choice
from tracker.screens.table.sections import Section


class ResultEntry(Entering):
    """A kind of it says what is asked, and does its action."""

    def act(self, values: Values, log_delay: bool, only_try: bool) -> Any:
        """The action. log_delay: with its delay event; only_try: say what it would do, and write
        nothing.
        """
        raise NotImplementedError

    def tried(self, values: Values) -> Any:
        """What it would do."""
        return self.act(values, False, True)

    def told(self, found: Any) -> Sequence[Section]:
        """What it does to plan and money."""
        return result_sections(found)

    def choices(self, found: Any) -> Sequence[Choice]:
        """With the delay event or without."""
        return result_choices(found)

    def keep(self, values: Values, choice: str) -> Any:
        """Keep it, as one step."""
        return self.act(values, choice == LOGGED, False)

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """The first thing that it wrote, and the opening."""
        return kept_words(result)
