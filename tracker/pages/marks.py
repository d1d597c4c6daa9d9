"""Our marks, in one place: shape first, color only strengthens.

Weight of line tells what drives the opening, dots tell float, a post tells a gate. A row's mark
stands in its first column, with the word beside it wherever there is room.
"""

from __future__ import annotations

# Bars
DRIVES = "━"
"""Work on the longest path."""
NEAR = "═"
"""Work within a week of driving."""
OTHER = "─"
"""Other work."""
FLOAT = "·"
"""Float after the work."""
DONE_PART = "▇"
"""The part of a bar that is done."""
STATUS = "╎"
"""The status date."""
GATE_CLOSED = "╫"
GATE_OPEN = "╟"
BASELINE = "┆"
"""Where the baseline finished."""

# Rows
BLOCKS = "!"
ASKS = "?"
AT_RISK = "~"
FINE = " "
DONE = "="

ROW_WORDS = {
    BLOCKS: "blocks now",
    ASKS: "needs an answer",
    AT_RISK: "at risk",
    FINE: "",
    DONE: "done",
}
"""The word that stands beside a mark where there is room."""

# The cursor of a table and the plot
HERE = "›"
"""Stands in front of the row under the cursor, so that monochrome shows it too."""
THERE = "┊"
"""The same in a table to which keys don't go now."""
MORE = "»"
"""Stands in the head of a table where columns go on out of sight; right and left bring them there.
"""

EXPLAINED = (
    (DRIVES * 3, "work that drives the opening"),
    (NEAR * 3, "work within a week of driving it"),
    (OTHER * 3, "other work"),
    (FLOAT * 3, "float: it may move so far"),
    (DONE_PART * 3, "done"),
    (STATUS, "the status date"),
    (GATE_CLOSED, "a gate that is closed: hearing, permit, inspection, delivery"),
    (GATE_OPEN, "a gate that is open"),
    (BASELINE, "where the baseline finished"),
    (BLOCKS, "blocks something now"),
    (ASKS, "needs an answer from somebody"),
    (AT_RISK, "at risk"),
    (DONE, "done"),
    (MORE, "columns go on to the right: right and left move there"),
)
"""Every mark with its meaning, for the help."""


def tone_of(mark: str) -> str:
    """The tone in which a row's mark is drawn; see rows_table.TONES."""
    return {BLOCKS: "strong", ASKS: "accent", AT_RISK: "accent", DONE: "muted"}.get(mark, "")
