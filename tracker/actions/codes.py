"""Codes for new rows that a person need not think of: a prefix and the next number."""

from __future__ import annotations

from tracker.values.records import Rows


def next_code(rows: Rows, table: str, prefix: str, digits: int = 2) -> str:
    """The first free code (or number, as changes have) of a table after the highest of its kind:
    P-043 after P-042.
    """
    numbers = [0]
    for row in rows.get(table, ()):
        code = getattr(row, "code", "") or getattr(row, "number", "")
        tail = code[len(prefix) :] if code.startswith(prefix) else ""
        if tail.isascii() and tail.isdigit() and len(tail) <= 9:
            numbers.append(int(tail))
    return f"{prefix}{max(numbers) + 1:0{digits}}"
