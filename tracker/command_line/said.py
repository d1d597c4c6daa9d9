"""What a command says once it has done something: the output may fail then, and what was done stays
done.
"""

from __future__ import annotations

import shlex
from pathlib import Path

import click

from tracker.values.problems import one_line


class UntoldError(Exception):
    """Something was done, and could not be told: the output can't be written.

    What was asked for is done: exit code 0.
    """

    def __init__(self, done: str, error: OSError) -> None:
        self.done = done
        self.reason = error.strerror or type(error).__name__
        super().__init__(done)


def say_done(done: str, *more: str) -> None:
    """Say what was done, which is kept by now. UntoldError where nobody can be told."""
    try:
        for line in (done, *more):
            click.echo(one_line(line))
    except BrokenPipeError:
        raise
    except OSError as error:
        raise UntoldError(done, error) from None


def undo_words(file: Path) -> str:
    """How the change is undone, as it can be typed."""
    return f"`tracker undo {quoted(file)}` undoes it."


def quoted(file: Path) -> str:
    """A file's name as it can be typed after a command."""
    return shlex.quote(str(file))
