"""Which activities the Path view shows, and in which order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tracker.answers.path import PathActivity


@dataclass
class Filters:
    """What is left out. driving: all that does not drive the opening; trade: other trades; words:
    what does not hold them.

    by_start: ordered by early start rather than as the rows stand.
    """

    driving: bool = False
    trade: str = ""
    words: str = ""
    by_start: bool = False

    @property
    def any(self) -> bool:
        """Whether something is left out."""
        return bool(self.driving or self.trade or self.words)

    def none(self) -> None:
        """Leave nothing out."""
        self.driving, self.trade, self.words = False, "", ""

    def chosen(self, activities: Sequence[PathActivity]) -> list[PathActivity]:
        """The activities that are left, in the order that is wanted."""
        kept = [a for a in activities if self.keeps(a)] if self.any else list(activities)
        return (
            sorted(kept, key=lambda a: (a.early_start, a.early_finish, a.code))
            if self.by_start
            else kept
        )

    def keeps(self, a: PathActivity) -> bool:
        """Whether an activity is left."""
        return (
            (not self.driving or (a.on_longest_path and a.state != "done"))
            and (not self.trade or a.trade == self.trade)
            and (not self.words or self.words in f"{a.code} {a.name} {a.trade}".lower())
        )

    def said(self, left: int, of: int) -> str:
        """What is left out, in words; empty where nothing is."""
        parts = [
            "only what drives the opening" if self.driving else "",
            f"only {self.trade}" if self.trade else "",
            f"only what holds “{self.words}”" if self.words else "",
            f"{left:,} of {of:,} activities" if self.any else "",
            "by early start" if self.by_start else "",
        ]
        return " · ".join(part for part in parts if part)
