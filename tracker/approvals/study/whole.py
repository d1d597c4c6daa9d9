"""The code study: a first look, to know what to ask the design professional and the officials.

It never says a plan complies.

Order: group, fire areas and sprinklers, area, people, exits, hazard of the change, fixtures,
accessibility.
"""

from __future__ import annotations

from collections.abc import Iterator

from tracker.approvals.study import access as study_access
from tracker.approvals.study import area as study_area
from tracker.approvals.study import exits as study_exits
from tracker.approvals.study import fire as study_fire
from tracker.approvals.study import fixtures as study_fixtures
from tracker.approvals.study import hazard as study_hazard
from tracker.approvals.study.building import Building
from tracker.approvals.study.lines import StudyLine, made, to_ask

TOPIC = "occupancy group"


def lines(building: Building) -> tuple[StudyLine, ...]:
    """Every line of the study, topic by topic."""
    topics = (study_fire, study_area, study_exits, study_hazard, study_fixtures, study_access)
    found = [
        *_uses(building),
        *(line for topic in topics for line in topic.lines(building)),
        *_notes(building),
    ]
    order = list(dict.fromkeys(line.topic for line in found))
    return tuple(sorted(found, key=lambda line: order.index(line.topic)))


def _notes(building: Building) -> Iterator[StudyLine]:
    """What no number tells, and must be asked: each where it is about this project."""
    for row in building.figures.rows("notes"):
        when = row.text("when")
        changes = bool(building.existing) and any(
            group not in building.existing for group in building.proposed
        )
        if when == "always" or (when == "group" and changes) or building.inputs.get(when):
            yield to_ask(
                row.code,
                row.text("topic"),
                row.text("subject"),
                None,
                "",
                row.basis,
                row.text("ask"),
            )


def _uses(building: Building) -> Iterator[StudyLine]:
    """A use that the code names in one group, planned in another."""
    said = building.inputs.use.lower()
    for row in building.figures.rows("uses"):
        if any(words.strip() in said for words in row.text("words").split("|")):
            group, other = row.text("group"), row.text("instead_of")
            right = group in building.proposed and other not in building.proposed
            text = f"under group {group}, which the code names for it" if right else ""
            text = text or (
                "over: ask the building official about the group"
                f" (the code names this use in {group})"
            )
            yield made(
                row.code,
                TOPIC,
                building.inputs.use,
                None,
                None,
                "",
                row.basis,
                "under" if right else "over",
                text,
            )
