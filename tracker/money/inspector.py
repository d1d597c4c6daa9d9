"""The lender's inspector: how much of a line was seen in place, beside what the owner verified."""

from __future__ import annotations

from tracker.values.money import at_rate


def above_inspector(in_place: int, value: int, share: int | None) -> int:
    """Cents in place to date above the inspector's share (thousandths of a percent) of the line's
    value; 0 without a share.
    """
    return 0 if share is None else max(in_place - at_rate(value, share), 0)
