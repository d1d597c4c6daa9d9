"""Cells of a page as people read them: on a screen, as text, on paper."""

from __future__ import annotations

import datetime as dt

from tracker.pages.page import (
    CODE,
    MONEY,
    NARROW,
    ROOM,
    SCREEN,
    SHARE,
    TEXT,
    UNBROKEN,
    Bar,
    Span,
    Value,
)
from tracker.values import money
from tracker.values.days import full_day, short_day

NOTHING = "–"
"""Stands on a screen for a figure or a day that is not known or not there."""


def shown(value: Value, kind: str, place: str) -> str:
    """A cell's text in a place; text of people comes back as it was typed. A day stands without
    its weekday on a narrow screen.
    """
    if value is None:
        figures = kind in UNBROKEN and kind != CODE
        return NOTHING if place in (SCREEN, NARROW) and figures else ""
    if isinstance(value, str):
        return value
    if isinstance(value, Bar | Span):
        return ""  # drawn by whoever knows its scale
    if isinstance(value, dt.date):
        return short_day(value) if place == NARROW else full_day(value)
    if kind == MONEY:
        return money.dollars(value)
    if kind == ROOM:
        return room(value, place)
    if kind == SHARE:
        return share(value) if place in (SCREEN, NARROW, TEXT) else f"{money.dollars(value)} %"
    return f"{value:,}"


def room(cents: int, place: str) -> str:
    """Room left, or what is short, with a word; on a screen both carry one, so that they align."""
    if cents < 0:
        return f"{money.dollars(cents)} short"
    return f"{money.dollars(cents)} left " if place in (SCREEN, NARROW) else money.dollars(cents)


def share(basis_points: int | None) -> str:
    """A share in percent with the decimals that it has."""
    return NOTHING if basis_points is None else f"{money.plain_rate(basis_points * 10)} %"


def amount(cents: int | None) -> str:
    """An amount in a sentence: separators and cents; a dash where there is none."""
    return NOTHING if cents is None else money.dollars(cents)


def missing_costs(cents: int | None, days: int | None, known: bool) -> Value:
    """What missing a meeting costs, in cents; in words where no cost of a day is known.

    None where nobody meets there. days: by which the opening moves.
    """
    return cents if known or cents is None or not days else money.cost_of_days(cents, days, known)


def day(date: dt.date | None) -> str:
    """A date in a sentence; a dash where there is none."""
    return full_day(date) if date else NOTHING


def money_words(cents: int) -> str:
    """An amount in full, with its sign in front of the dollar sign."""
    return f"-${money.dollars(-cents)}" if cents < 0 else f"${money.dollars(cents)}"
