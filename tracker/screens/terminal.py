"""Whether a terminal can show the screens."""

from __future__ import annotations

from tracker.values.problems import Problem


def refusal(term: str, stdin_is_terminal: bool, stdout_is_terminal: bool) -> Problem | None:
    """Why the screens can't be shown here, or None where they can. term: the TERM of the environment."""
    if not (stdin_is_terminal and stdout_is_terminal):
        return Problem(
            what="the screen needs a terminal, and this is none",
            do="run it in a terminal, or use `tracker show FILE morning`",
        )
    if term in ("", "dumb"):
        return Problem(
            what="this terminal can't place a cursor (TERM is " + (f"{term})" if term else "not set)"),
            do="use another terminal, or `tracker show FILE morning`",
        )
    return None
