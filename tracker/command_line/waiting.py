"""A line on the terminal that says what a command is doing, once it has taken longer than a
moment.
"""

from __future__ import annotations

import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress

from tracker.values.problems import one_line, shorten

MOMENT = 0.5
"""Seconds after which a person wonders; before, nothing is said."""

AGAIN = 0.2
"""Seconds between two looks at what is being done."""

CELLS = 79
"""The line never goes over the edge of a terminal, where it could not be written over."""


@contextmanager
def waiting(is_watched: bool, moment: float = MOMENT) -> Iterator[Callable[[str], None]]:
    """What the command calls with the words for what it does next; they stand on stderr, and are
    wiped out at the end.

    is_watched: whether a person sees stderr; into a file or a pipe nothing is written.
    """
    if not is_watched:
        yield lambda words: None
        return
    said = [""]
    ended = threading.Event()
    line = threading.Thread(target=_say, args=(said, ended, moment), daemon=True)
    line.start()

    def tell(words: str) -> None:
        said[0] = words

    try:
        yield tell
    finally:
        ended.set()
        line.join()


def _say(said: list[str], ended: threading.Event, moment: float) -> None:
    """Write what is being done over and over, until it has ended; a closed stderr is no reason to
    stop.
    """
    if ended.wait(moment):
        return
    with suppress(OSError, ValueError):
        while True:
            _write(f"{said[0]} · Ctrl C stops it, nothing is changed then" if said[0] else "")
            if ended.wait(AGAIN):
                break
        _write("")
        sys.stderr.write("\r")
        sys.stderr.flush()


def _write(words: str) -> None:
    """A line over the one before."""
    sys.stderr.write(f"\r{shorten(one_line(words), CELLS):<{CELLS}}")
    sys.stderr.flush()
