"""Health as a sheet."""

from __future__ import annotations

from tracker.answers.health import HealthAnswer
from tracker.command_line.sheets import Col, Sheet, number


def sheets(answer: HealthAnswer) -> list[Sheet]:
    """Each check with its count, its limit, and the activities that it is about."""
    columns = (
        Col(""),
        Col("check"),
        Col("count", right=True),
        Col("of", right=True),
        Col("limit"),
        Col("where, and what is counted"),
    )
    rows = tuple(
        (
            "" if c.passes is None else "=" if c.passes else "!",
            c.name,
            number(c.count),
            number(c.of),
            str(c.limit),
            "; ".join(part for part in (few(c.codes), c.note) if part),
        )
        for c in answer.checks
    )
    return [
        Sheet("", columns, rows, note=f"{answer.source}. = passes, ! look at it, blank: neither.")
    ]


def few(codes: tuple[str, ...], most: int = 8) -> str:
    """Some codes, and how many more."""
    more = f" and {len(codes) - most} more" if len(codes) > most else ""
    return ", ".join(codes[:most]) + more
