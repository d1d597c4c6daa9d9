"""Sums by key: of cents by cost line, of days by event."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

K = TypeVar("K")


def totals(amounts: Iterable[tuple[K, int]]) -> dict[K, int]:
    """By key, the sum of its amounts; the keys in the order in which they first come."""
    found: dict[K, int] = {}
    for key, amount in amounts:
        add(found, key, amount)
    return found


def add(into: dict[K, int], key: K, amount: int) -> None:
    """Raise what a key has by an amount; a key that is not there has nothing yet."""
    into[key] = into.get(key, 0) + amount
