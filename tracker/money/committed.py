"""Signed and asked for, by cost line: contracts with their approved changes, and changes noticed or
priced.
"""

from __future__ import annotations

from collections.abc import Sequence

from tracker.money.books import Books
from tracker.money.schedule_of_values import is_approved, is_pending
from tracker.values.sums import totals


def committed(books: Books) -> dict[str, int]:
    """By cost line, contracts signed by today and approved changes, in cents."""
    signed = {code for code, contract in books.contracts.items() if books.is_signed(contract)}
    lines = [
        (line.cost_line, line.value)
        for line in books.table("contract_lines")
        if line.contract in signed
    ]
    return totals((*lines, *_change_lines(books, approved=True)))


def pending(books: Books) -> dict[str, int]:
    """By cost line, changes noticed or priced by today at their price or estimate, in cents.

    Refused ones never count.
    """
    return totals(_change_lines(books, approved=False))


def pending_changes(books: Books) -> tuple[str, ...]:
    """The changes asked for today, in row order."""
    return tuple(c.number for c in books.table("changes") if is_pending(c, books.today))


def _change_lines(books: Books, approved: bool) -> list[tuple[str, int]]:
    """Cost line and amount of each line of the changes that are approved, or of those still asked
    for.
    """
    test = is_approved if approved else is_pending
    chosen = {c.number for c in books.table("changes") if test(c, books.today)}
    return [
        (line.cost_line, line.amount)
        for line in books.table("change_lines")
        if line.change in chosen
    ]


def without_schedule(books: Books) -> tuple[str, ...]:
    """Signed contracts with a sum and no schedule of values, by code: they are on no cost line, and
    counted nowhere.
    """
    return tuple(
        code
        for code, contract in books.contracts.items()
        if contract.sum
        and books.is_signed(contract)
        and not any(not line.change for line in books.values.get(code, ()))
    )


def no_schedule(codes: Sequence[str]) -> str:
    """That contracts have no schedule of values, in words."""
    names = ", ".join(codes)
    return (
        f"contract {names} has no schedule of values"
        if len(codes) == 1
        else f"contracts {names} have no schedule of values"
    )
