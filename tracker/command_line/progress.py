"""A line on a terminal about what takes long, wiped away once it is done; nothing in a pipe."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from tracker.values.problems import one_line, shorten

MEGABYTE = 1_000_000
STEP = 200 * MEGABYTE
"""So much is read between two lines; what is smaller is read before anybody wonders."""

ROOM = 78


@contextmanager
def reading() -> Iterator[Callable[[str, int, int], None] | None]:
    """Yields what is to be told while papers are read: path, bytes read, bytes in all.

    None where stderr is no terminal.
    """
    if sys.stderr is None or not sys.stderr.isatty():
        yield None
        return
    shown, last = False, 0

    def told(path: str, read: int, total: int) -> None:
        nonlocal shown, last
        if total < STEP or read // STEP == last:
            return
        shown, last = True, read // STEP
        words = f" {read // MEGABYTE:,} of {total // MEGABYTE:,} MB read; Ctrl C stops it"
        _write(shorten(one_line(path), ROOM - len(words)) + words)

    try:
        yield told
    finally:
        if shown:
            _write("")


def _write(words: str) -> None:
    """Write over the line; a terminal that is gone is no reason to stop."""
    try:
        print(f"\r{words:<{ROOM}}", end="" if words else "\r", file=sys.stderr, flush=True)
    except OSError:
        return
