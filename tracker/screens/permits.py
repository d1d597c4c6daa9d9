"""Permits: What must be inspected, and what did the inspector say?"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tracker.screens import permits_words as words
from tracker.screens.parts_view import Part, PartsView


class PermitsView(PartsView):
    """Permits with their clocks, inspections in order, what may not be covered, what the certificate lacks."""

    CODE = "permits"
    CAUTION = "Do not cover work before its inspection passed; the inspector decides."
    HELP = (
        "On the left permits, inspections in their order, what may not be covered up yet, corrections that are open, and what "
        "a certificate of occupancy lacks. Enter opens the row, t shows all tables."
    )

    def load(self) -> Any:
        """The answer of Permits."""
        from tracker.answers.permits import answer

        return answer(self.project, self.today)

    def headline_of(self, answer: Any) -> str:
        """What may not be covered up, what is to be asked for, what failed."""
        return words.headline(answer)

    def parts_of(self, answer: Any, wide: bool) -> Sequence[Part]:
        """Permits first, then inspections and what they hold."""
        return [
            words.permits_part(answer),
            words.inspections_part(answer, wide),
            words.cover_part(answer),
            words.items_part(answer),
            words.certificate_part(answer),
            *words.warnings_parts(answer),
        ]
