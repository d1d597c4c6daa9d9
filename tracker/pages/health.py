"""The page of Health: each check with its count, its limit, and the activities that it is about."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from tracker.pages.marks import BLOCKS, DONE
from tracker.pages.page import NUMBER, Column, Page, Part, Row, Section, cells_of

if TYPE_CHECKING:
    from tracker.answers.health import HealthAnswer

MOST = 8
"""How many activities a check names."""

COLUMNS = (
    Column("name", "check", most=40),
    Column("count", "count", NUMBER),
    Column("of", "of", NUMBER),
    Column("limit", "limit", most=30),
    Column("where", "where, and what is counted", most=70, grow=True),
)


def page(answer: HealthAnswer) -> Page:
    """Whether the schedule is sound."""
    judged = [one for one in answer.checks if one.passes is not None]
    passed = sum(1 for one in judged if one.passes)
    rows = tuple(
        Row(
            cells_of(
                one,
                COLUMNS,
                limit=str(one.limit),
                where="; ".join(part for part in (some(one.codes), one.note) if part),
            ),
            mark="" if one.passes is None else DONE if one.passes else BLOCKS,
            about=lambda codes=one.codes: [Section("", [", ".join(codes)] if codes else [])],  # type: ignore[misc]
        )
        for one in answer.checks
    )
    note = f"{answer.source}. {DONE} passes, {BLOCKS} look at it, blank: neither."
    part = Part("checks", "checks", COLUMNS, rows, note=note, marked=True, offers=())
    return Page("health", (f"{passed} of {len(judged)} checks pass",), (part,))


def some(codes: Sequence[str], most: int = MOST, between: str = ", ") -> str:
    """Some codes, and how many more."""
    more = f" and {len(codes) - most} more" if len(codes) > most else ""
    return between.join(codes[:most]) + more
