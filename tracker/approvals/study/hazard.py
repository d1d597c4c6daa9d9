"""The new group against the old on the three scales of the existing-building code: one flag for all
would be wrong.

International Existing Building Code, sections 1011.4 to 1011.6 (2018 and 2021). 1 is the highest
hazard.
"""

from __future__ import annotations

from collections.abc import Iterator

from tracker.approvals.study.building import Building
from tracker.approvals.study.figures import FigureRow, Figures, names
from tracker.approvals.study.inputs import enter
from tracker.approvals.study.lines import NOTHING, StudyLine, made, to_ask

TOPIC = "hazard of the change"

SCALES = {
    "exits": "ask the architect about the exits of the new use",
    "height and area": "ask the architect about height and area of the new use",
    "exposure": "ask the architect about outside walls and their openings",
}
"""Each scale, and what a higher hazard on it asks about."""


def level(figures: Figures, scale: str, group: str) -> FigureRow | None:
    """The row of a group on a scale: by its own name before its class's."""
    rows = [row for row in figures.rows("hazard") if row.text("scale") == scale]
    own = next((row for row in rows if group in row.words("groups")), None)
    return own or next((row for row in rows if names(row.words("groups"), group)), None)


def compare(figures: Figures, scale: str, old: str, new: str) -> str:
    """ "higher", "equal" or "lower": the hazard of the new group on a scale; blank where the table
    has not both.
    """
    before, after = level(figures, scale, old), level(figures, scale, new)
    if before is None or after is None:
        return ""
    one, other = before.whole("level") or 0, after.whole("level") or 0
    return "equal" if one == other else "higher" if other < one else "lower"


def lines(building: Building) -> Iterator[StudyLine]:
    """Three lines for each planned group that differs from today's."""
    if not building.existing:
        code = "existing_group"
        yield to_ask(
            code, TOPIC, "occupancy group today", None, "", NOTHING, enter(code), question=code
        )
        return
    for new in building.proposed:
        if new not in building.existing:
            for scale, ask in SCALES.items():
                yield _line(
                    building.figures,
                    scale,
                    lowest(building.figures, scale, building.existing),
                    new,
                    ask,
                )


def lowest(figures: Figures, scale: str, groups: tuple[str, ...]) -> str:
    """Of several groups today the one with the lowest hazard on a scale: nobody says yet which part
    changes.
    """

    def of(group: str) -> int:
        row = level(figures, scale, group)
        return (row.whole("level") or 0) if row else 0

    return max(groups, key=of)


def _line(figures: Figures, scale: str, old: str, new: str, ask: str) -> StudyLine:
    """One scale."""
    subject, code = f"{old} to {new}: {scale}", f"hazard-{scale.replace(' ', '-')}-{new}"
    found, before, after = (
        compare(figures, scale, old, new),
        level(figures, scale, old),
        level(figures, scale, new),
    )
    if before is None or after is None:
        return to_ask(code, TOPIC, subject, None, "", NOTHING, f"{ask}: no level on record")
    one, other = before.whole("level"), after.whole("level")
    verdict = "over" if found == "higher" else "under"
    words = f"from level {one} to {other}"
    text = (
        f"over: {ask} ({found} hazard, {words})"
        if verdict == "over"
        else f"under a higher hazard: {found}, {words}"
    )
    return made(
        code, TOPIC, subject, other, one, "level", after.basis, verdict, text, "proposed_group"
    )
