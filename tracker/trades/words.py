"""Words given: what somebody said would be done, for which day, and what came of it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from tracker.trades.records import WordGiven
from tracker.values.days import day_and_month


@dataclass(frozen=True, slots=True)
class WordsKept:
    """How often somebody came on the day (or before it), of the words whose day is over."""

    kept: int
    due: int

    def words(self) -> str:
        """The figure as people read it; blank while no word has fallen due."""
        return f"came on the day: {self.kept} of {self.due}" if self.due else ""


def state_of(word: WordGiven, today: dt.date) -> str:
    """kept, came late, not kept, today, to come, or no day where none was said.

    A word is kept by coming on its day or before; one without a coming is not kept once its day is
    over.
    """
    if word.for_date is None:
        return "no day"
    if word.came_on is not None and word.came_on <= today:
        return "kept" if word.came_on <= word.for_date else "came late"
    if word.for_date < today:
        return "not kept"
    return "today" if word.for_date == today else "to come"


def kept(words: Iterable[WordGiven], today: dt.date) -> WordsKept:
    """How many words were kept, of those that were kept or whose day is over."""
    states = [state_of(word, today) for word in words]
    over = [state for state in states if state in ("kept", "came late", "not kept")]
    return WordsKept(kept=over.count("kept"), due=len(over))


def sentence(word: WordGiven, today: dt.date) -> str:
    """A word as people tell it: "said Fri 05 Mar, came Tue 09 Mar"."""
    said = f"said {day_and_month(word.for_date)}" if word.for_date else "said no day"
    if word.came_on is not None and word.came_on <= today:
        return f"{said}, came {day_and_month(word.came_on)}"
    return f"{said}, did not come" if state_of(word, today) == "not kept" else said
