"""Changes: What changed, who agreed, what does it do to money and time?"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tracker.screens import changes_words as words
from tracker.screens.parts_view import Part, PartsView


class ChangesView(PartsView):
    """Each change with its reason, price, days and state; below, what it does before it is approved."""

    CODE = "changes"
    CAUTION = "A change by word of mouth is a dispute to come: write, price and sign it."
    HELP = (
        "Each change with who asked, its price, its days and its state; below, forecast, contingency and opening without it "
        "and with it, while it is asked for. ? nags until it is priced. Enter opens a change, t shows the lines of its price."
    )

    def load(self) -> Any:
        """The answer of Changes."""
        from tracker.answers.changes import answer

        return answer(self.project, self.today)

    def headline_of(self, answer: Any) -> str:
        """What is approved and what is asked for."""
        return words.headline(answer)

    def parts_of(self, answer: Any, wide: bool) -> Sequence[Part]:
        """All changes in one list."""
        return [words.changes_part(answer, wide)]
