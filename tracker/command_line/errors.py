"""What a person is told when a command can't be done: one table from the kind of error to exit code
and lines.

Exit codes: 0 fine, 1 a check found something, 2 the input was wrong, 3 the file is busy or was
changed by someone else. Whatever reaches the last row of the table is a defect of the program: told
in one line, exit code 70.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from typing import Any

import click

from tracker.command_line.said import UntoldError
from tracker.values.problems import BusyError, ProblemError, one_line, shorten

FINE = 0
WRONG_INPUT = 2
BUSY = 3
DEFECT = 70
INTERRUPTED = 130

MOST_LINES = 5
MOST_CHARACTERS = 600


def _problem_lines(error: ProblemError) -> Sequence[str]:
    """Each problem in its sentence."""
    return [problem.sentence() for problem in error.problems]


def _usage_lines(error: click.ClickException) -> Sequence[str]:
    """What is wrong with the command as typed, and where to read on."""
    context = getattr(error, "ctx", None)
    path = context.command_path if context else "tracker"
    return [f"{error.format_message().rstrip('.')}; see `{path} --help`"]


def _untold_lines(error: UntoldError) -> Sequence[str]:
    """What was done, though the output that should say so can't be written."""
    return [
        f"warning: the output can't be written ({_lower(error.reason)}); it is done all the same:"
        f" {error.done}"
    ]


def _system_lines(error: OSError) -> Sequence[str]:
    """What the system refused, and for which file.

    Whether anything was changed is not known here, and so is not said.
    """
    reason = _lower((error.strerror or str(error) or type(error).__name__).rstrip("."))
    if error.filename:
        return [f"{error.filename}: {reason}; check the path, the permission and the space left"]
    return [
        f"the system could not read or write ({reason}); check where the output goes, and the space"
        " left"
    ]


def _lower(reason: str) -> str:
    """A reason of the system within a sentence."""
    return f"{reason[:1].lower()}{reason[1:]}"


def _text_lines(error: UnicodeError) -> Sequence[str]:
    """Text that could not be written or read in the terminal's encoding."""
    return [f"text in an encoding that can't be read or written here: {error}; use UTF-8"]


def _defect_lines(error: BaseException) -> Sequence[str]:
    """A fault of ours, not of the person who typed."""
    told = str(error) or "no more is known"
    return [
        f"a defect of this program stopped the command: {type(error).__name__}:"
        f" {shorten(told, 300)}; please report it"
    ]


def _nothing(error: BaseException) -> Sequence[str]:
    """The person knows already."""
    return []


HANDLERS: tuple[tuple[type[BaseException], int, Callable[[Any], Sequence[str]]], ...] = (
    (BrokenPipeError, FINE, _nothing),
    (SystemExit, FINE, _nothing),  # click leaves this way where nobody reads on
    (KeyboardInterrupt, INTERRUPTED, _nothing),
    (click.Abort, INTERRUPTED, _nothing),
    (UntoldError, FINE, _untold_lines),
    (BusyError, BUSY, _problem_lines),
    (ProblemError, WRONG_INPUT, _problem_lines),
    (click.ClickException, WRONG_INPUT, _usage_lines),
    (OSError, WRONG_INPUT, _system_lines),
    (UnicodeError, WRONG_INPUT, _text_lines),
    (BaseException, DEFECT, _defect_lines),
)
"""Kind of error, exit code, lines to say. The first row that fits counts."""


def tell(error: BaseException) -> int:
    """Write what is to be said about an error to stderr; the exit code."""
    exit_code, lines = next(
        (code, lines) for kind, code, lines in HANDLERS if isinstance(error, kind)
    )
    say(lines(error))
    return exit_code


def warn(lines: Sequence[str]) -> None:
    """Say what a person should know though the command went well."""
    say([f"warning: {line}" for line in lines])


def note(lines: Sequence[str], warnings: Sequence[str] = ()) -> None:
    """Say what followed from what was done; those of them that are warnings as such."""
    say([line for line in lines if line not in warnings])
    warn([line for line in lines if line in warnings])


def say(lines: Sequence[str]) -> None:
    """Lines for people on stderr, kept short; a closed stderr is no reason to stop."""
    try:
        for line in kept_short(lines):
            print(line, file=sys.stderr)
    except OSError:
        return


def kept_short(lines: Sequence[str]) -> list[str]:
    """At most five lines and "and n more", together at most 600 characters, and nothing that acts
    on a terminal.
    """
    shown = [one_line(line) for line in lines[:MOST_LINES]]
    if len(lines) > MOST_LINES:
        shown.append(f"and {len(lines) - MOST_LINES:,} more")
    room = MOST_CHARACTERS - len(shown)
    longest = max(map(len, shown), default=0)
    while sum(min(len(line), longest) for line in shown) > room:
        longest -= 1
    return [shorten(line, longest) for line in shown]
