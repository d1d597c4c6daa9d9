"""The plot of the opening: a bar for each stretch of days, and the chance by then as a point on the
same line.

    24 Aug – 30 Aug   12.0 %  ▇▇▇▇▇▇▇▇▇▇▇▇●                              31 %

A bar's length is its share of the trials, the longest one filling the width; the point runs from
left (no chance) to right (certain). The stretch in which the promise lies carries a post.
"""

from __future__ import annotations

from typing import Any

from tracker.values.days import day_of_month, short_day
from tracker.values.frozen import value

BAR, POINT, POST = "▇", "●", "┃"


@value
class PlotLine:
    """One line of the plot, as words."""

    span: str
    share: str
    bar: str
    by_then: str


def lines(answer: Any, width: int) -> list[PlotLine]:
    """The plot of a risk answer in so many cells."""
    longest = max((bar.share_bp for bar in answer.histogram), default=0)
    found = []
    year = 0
    for bar in answer.histogram:
        cells = [" "] * width
        length = -(-bar.share_bp * (width - 1) // longest) if longest else 0
        cells[:length] = [BAR] * length
        cells[min(width - 1, bar.by_then_bp * (width - 1) // 10_000)] = POINT
        promised = (
            answer.promised_opening is not None and bar.first <= answer.promised_opening <= bar.last
        )
        first, last = day_of_month(bar.first), day_of_month(bar.last)
        span = first if bar.first == bar.last else f"{first} – {last}"
        if bar.last.year != year:
            year = bar.last.year
            span += f" {year}"
        mark = f"{POST} " if promised else "  "
        found.append(
            PlotLine(mark + span, tenths(bar.share_bp), "".join(cells), whole(bar.by_then_bp))
        )
    return found


def outside(answer: Any) -> str:
    """Where the promise lies, if no bar holds it; else nothing."""
    promised, bars = answer.promised_opening, answer.histogram
    if promised is None or not bars:
        return ""
    if promised < bars[0].first:
        return f"promise {short_day(promised)}: before the first trial"
    return (
        f"promise {short_day(promised)}: after the last trial" if promised > bars[-1].last else ""
    )


def tenths(basis_points: int) -> str:
    """A share in percent with one decimal, rounded half up; a dot where it is nothing."""
    return f"{(basis_points + 5) // 100}.{(basis_points + 5) // 10 % 10} %" if basis_points else "·"


def whole(basis_points: int) -> str:
    """A chance in whole percent; never 100 % before all of them."""
    return f"{basis_points // 100 if basis_points > 9_950 else (basis_points + 50) // 100} %"
