"""A view as text: sheets of rows, each cell a plain string.

What a terminal makes of them is the business of `terminal`.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from tracker.values import money
from tracker.values.days import full_day


@dataclass(frozen=True)
class Col:
    """A column of a sheet. right: numbers, which stand right-aligned and unbroken. keep: never
    broken over lines.
    """

    title: str
    right: bool = False
    keep: bool = False


@dataclass(frozen=True)
class Sheet:
    """A titled list.

    words: said above the rows. empty: what is said instead where there is no row. foot: rows below
    a line, such as a total.
    """

    title: str
    columns: tuple[Col, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    foot: tuple[tuple[str, ...], ...] = ()
    note: str = ""
    empty: str = ""
    words: tuple[str, ...] = ()


def facts(title: str, pairs: Sequence[tuple[str, str]], note: str = "") -> Sheet:
    """A sheet of names and what they are; a pair without a value is left out."""
    return Sheet(
        title, (Col(""), Col("")), tuple((name, value) for name, value in pairs if value), note=note
    )


def day(date: dt.date | None) -> str:
    """A date as people read it."""
    return full_day(date) if date else ""


def short_day(date: dt.date | None) -> str:
    """A date where there is little room."""
    return date.isoformat() if date else ""


def dollars(cents: int | None, whole: bool = False) -> str:
    """An amount; blank where there is none. whole: the caller knows that no cents are lost."""
    return "" if cents is None else money.dollars(cents, not whole)


def missing_costs(cents: int | None, days: int | None, known: bool) -> str:
    """What missing a meeting costs; blank where nobody meets. known: whether anything of the cost
    of a day is.
    """
    return "" if cents is None else money.cost_of_days(cents, days or 0, known)


def percent(basis_points: int | None) -> str:
    """A share in percent with the decimals that it has."""
    return "" if basis_points is None else f"{money.plain_rate(basis_points * 10)} %"


def number(value: int | None) -> str:
    """A whole number with separators."""
    return "" if value is None else f"{value:,}"


def count(value: int, one: str, many: str = "") -> str:
    """A number with its word."""
    return f"{value:,} {one if value == 1 else many or one + 's'}"
