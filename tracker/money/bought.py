"""What a purchase does to what is still to buy: where the owner entered that figure, what was
bought comes off it.

Else a signed contract would stand beside the money that was kept for it, and the forecast would
count both.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Mapping

from tracker.money.records import CostLine
from tracker.values.money import dollars


def less_bought(
    lines: Iterable[CostLine], foreseen: Mapping[str, int]
) -> tuple[tuple[CostLine, ...], tuple[str, ...]]:
    """The cost lines with what is still to buy lowered, not below zero, and a note on each that
    changed.

    foreseen: by cost line, the cents at which the owner had foreseen what is bought now. A line on
    which nothing was entered stays: its figure follows from budget and contracts by itself.
    """
    made, notes = [], []
    for line in lines:
        off = min(max(foreseen.get(line.code, 0), 0), line.left_to_buy or 0)
        if off and not line.bought_out:
            left = (line.left_to_buy or 0) - off
            notes.append(
                f"{line.code}: still to buy was {dollars(line.left_to_buy or 0)}, is"
                f" {dollars(left)} now: what was foreseen for the items bought came off"
            )
            line = dataclasses.replace(line, left_to_buy=left)
        made.append(line)
    return tuple(made), tuple(notes)
