"""Trades: Who does what, for how much, and can I trust their papers?"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tracker.screens import trades_words as words
from tracker.screens.parts_view import Part, PartsView
from tracker.screens.trades_bids import package_part


class TradesView(PartsView):
    """Contractors with contract, money, papers and words; contracts; each package with its bids side by side."""

    CODE = "trades"
    CAUTION = "Check license and insurance before work; electrical, gas: licensed trades."
    HELP = (
        "On the left contractors, contracts, words given and each bid package. A package shows its bids side by side, leveled: "
        "+ marks a plug, what we add where a bid leaves an item out or unclear. Enter opens the row, t shows all tables."
    )

    def load(self) -> Any:
        """The answer of Trades."""
        from tracker.answers.trades import answer

        return answer(self.project, self.today)

    def headline_of(self, answer: Any) -> str:
        """Whose papers are missing or run out, who is paid ahead."""
        return words.headline(answer)

    def parts_of(self, answer: Any, wide: bool) -> Sequence[Part]:
        """People first, then contracts and words, then bids."""
        return [
            words.contractors_part(answer, wide),
            words.contracts_part(answer),
            words.words_part(answer),
            *(package_part(one) for one in answer.packages),
        ]
