"""Whether a terminal can show the screens."""

from __future__ import annotations

from collections.abc import Iterable

from tracker.values.problems import Problem


def refusal(term: str, are_terminals: Iterable[bool]) -> Problem | None:
    """Why the screens can't be shown here, or None where they can.

    term: the TERM of the environment. are_terminals: whether each of input, output and error output
    is one; the screen is drawn on the last.
    """
    if not all(are_terminals):
        return Problem(
            what="the screen needs a terminal, and this is none",
            do="run it in a terminal, or use `tracker show FILE morning`",
        )
    if term in ("", "dumb"):
        return Problem(
            what="this terminal can't place a cursor (TERM is "
            + (f"{term})" if term else "not set)"),
            do="use another terminal, or `tracker show FILE morning`",
        )
    return None
