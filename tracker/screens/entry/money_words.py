"""Money on screen: negative amounts carry a minus sign and a word, a missing figure is a dash."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.screens.table.sections import Line
from tracker.values.money import dollars

NOTHING = "–"


def amount(cents: int | None) -> str:
    """An amount with separators and cents."""
    return NOTHING if cents is None else dollars(cents)


def room(cents: int | None) -> str:
    """Room left, or what is short: a sign and a word."""
    if cents is None:
        return NOTHING
    return f"{dollars(cents)} short" if cents < 0 else f"{dollars(cents)} left "


def with_and_without(
    rows: Sequence[tuple[str, str, str]], first: str = "without", second: str = "with it"
) -> list[Line | str]:
    """A small table of names with two figures each, under their heads."""
    wide = max((len(name) for name, _, _ in rows), default=0)
    cells = max(16, *(len(text) for row in rows for text in row[1:]))
    head = Line(f"{'':{wide}} {first:>{cells}} {second:>{cells}}", "muted")
    return [head, *(f"{name:<{wide}} {one:>{cells}} {two:>{cells}}" for name, one, two in rows)]
