"""Plumbing fixtures for the people of the building; International Building Code, section 2902.1.

People are taken as half men and half women, and a part of a fixture is one.
"""

from __future__ import annotations

from collections.abc import Iterator

from tracker.approvals.study.building import Building
from tracker.approvals.study.figures import FigureRow
from tracker.approvals.study.lines import NOTHING, StudyLine, needed, to_ask

TOPIC = "plumbing fixtures"

PLANNED = {
    ("toilets", "men"): "toilets_men",
    ("toilets", "women"): "toilets_women",
    ("lavatories", "each"): "lavatories",
    ("drinking fountains", "all"): "drinking_fountains",
    ("service sinks", "building"): "service_sinks",
}
"""The answer that holds what is planned."""


def fixtures(row: FigureRow, people: int) -> int:
    """How many of a fixture so many people need: for half of them, for all, or one for the
    building.
    """
    each = row.whole("people_each") or 1
    if row.text("for") == "building":
        return each
    counted = people if row.text("for") == "all" else -(-people // 2)
    return -(-counted // each)


def lines(building: Building) -> Iterator[StudyLine]:
    """A line for each fixture of each planned group, for all people."""
    for group in building.proposed:
        rows = [row for row in building.figures.rows("fixtures") if group in row.words("groups")]
        if not rows:
            text = "ask the architect about fixtures: no ratio on record for this group"
            yield to_ask(f"fix-{group}", TOPIC, group, None, "", NOTHING, text)
        elif building.occupants is not None:
            yield from (_line(building, row, group, building.occupants) for row in rows)


def _line(building: Building, row: FigureRow, group: str, people: int) -> StudyLine:
    """One fixture."""
    who, fixture = row.text("for"), row.text("fixture")
    answer = PLANNED[fixture, who]
    whom = {
        "men": " for men",
        "women": " for women",
        "each": " for each",
        "all": "",
        "building": "",
    }[who]
    return needed(
        row.code,
        TOPIC,
        f"{group}: {fixture}{whom}, {people:,} people",
        fixtures(row, people),
        building.inputs.get(answer),
        fixture,
        row.basis,
        ask=f"ask the architect about {fixture}",
        question=answer,
    )
