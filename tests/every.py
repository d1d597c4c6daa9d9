"""A check of several things that can't pass because there were none."""

from __future__ import annotations

from collections.abc import Iterable


def every(truths: Iterable[object]) -> bool:
    """Whether all of them hold, of which there is one at least."""
    found = list(truths)
    return bool(found) and all(found)
