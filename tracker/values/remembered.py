"""What was computed lately from the very same rows is given again.

A project file hands out the same tuples until somebody writes, and several views ask the same rule
of them. A rule stays a pure function: remembering changes when it works, never what it says.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from functools import wraps
from typing import Any, ParamSpec, TypeVar

P = ParamSpec("P")
T = TypeVar("T")

PLAIN = (dt.date, int, str, type(None))
"""Arguments that are compared by what they say; all others by being the same one."""


def remembered(
    keep: int, tables: Sequence[str] | None = None
) -> Callable[[Callable[P, T]], Callable[P, T]]:
    """Remember the last `keep` results of a function of rows, frozen values and plain arguments, by
    position.

    Rows (a mapping of tables) are the same if they have the same tables and each is the same tuple;
    tables: the only ones that the function reads, where it is handed more. What comes with a list,
    which may change, or by name, is computed each time.
    """

    def part(given: Any) -> Any:
        """What is held of an argument, and compared: of rows a copy of the mapping, which the
        caller may change.
        """
        if not isinstance(given, Mapping):
            return given
        return dict(given) if tables is None else {name: given.get(name, ()) for name in tables}

    def remembering(compute: Callable[P, T]) -> Callable[P, T]:
        known: tuple[tuple[tuple[Any, ...], T], ...] = ()

        @wraps(compute)
        def asked(*given: P.args, **named: P.kwargs) -> T:
            nonlocal known
            parts = tuple(map(part, given))
            for were, result in known:
                if not named and len(were) == len(parts) and all(map(is_same, were, parts)):
                    return result
            made = compute(*given, **named)
            if not named and all(map(lasts, parts)):
                known = ((parts, made), *known[: keep - 1])
            return made

        return asked

    return remembering


def is_same(one: Any, other: Any) -> bool:
    """Whether two arguments are one and the same, for a function that only reads them."""
    if one is other:
        return True
    if isinstance(one, Mapping) and isinstance(other, Mapping):
        return one.keys() == other.keys() and all(
            table is other[name] for name, table in one.items()
        )
    return isinstance(one, PLAIN) and type(one) is type(other) and one == other


def lasts(given: Any) -> bool:
    """Whether an argument can't change while it is held: rows in tuples, frozen values,
    plain ones.
    """
    if isinstance(given, Mapping):
        return all(isinstance(table, tuple) for table in given.values())
    return not isinstance(given, (list, set))
