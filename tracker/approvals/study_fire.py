"""Fire areas against the thresholds for sprinklers, the walls between areas and groups, smoke vents.

International Building Code, sections 903.2, 707.3.10, 508.4; International Fire Code, section 910.2.
A fire barrier divides fire areas; only a fire wall makes two buildings.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from tracker.approvals.study_building import Building
from tracker.approvals.study_figures import FigureRow, names
from tracker.approvals.study_inputs import enter
from tracker.approvals.study_lines import NOTHING, StudyLine, against, made, needed, to_ask

TOPIC = "fire areas and sprinklers"
WALLS = "fire walls and barriers"

ANSWERS = {
    "story": "fire_area_story",
    "upper_floor": "upper_floor",
    "foam": "foam_sf",
    "wood": "wood_sf",
    "trucks": "trucks_sf",
    "repair_one_story": "repair_sf",
    "repair_more_stories": "repair_sf",
    "garage": "garage_sf",
    "garage_below": "garage_below",
    "windowless": "windowless_sf",
    "high_floor": "high_floor_ft",
    "undivided": "undivided_sf",
}
"""By what a row measures, the answer that holds it; areas and loads come from the spaces."""

ASK = "ask the fire marshal about sprinklers"


def lines(building: Building) -> Iterator[StudyLine]:
    """A line for each threshold of the planned groups, then the walls."""
    if not building.proposed:
        yield to_ask("groups", TOPIC, "occupancy group", None, "", NOTHING, enter("proposed_group"), question="proposed_group")
    for row in building.figures.rows("sprinklers"):
        everywhere = row.text("groups") == "any"
        group = "" if everywhere else next((g for g in building.proposed if names(row.words("groups"), g)), "")
        if group or everywhere:
            yield from _threshold(building, row, group)
    for group in building.proposed:
        if not any(
            names(row.words("groups"), group) for row in building.figures.rows("sprinklers") if row.text("groups") != "any"
        ):
            yield to_ask(f"spr-{group}", TOPIC, group, None, "", NOTHING, f"{ASK}: no threshold on record for {group}")
    yield from _walls(building)


def _threshold(building: Building, row: FigureRow, group: str) -> Iterator[StudyLine]:
    """One threshold; none where it isn't about this building."""
    measure, sense = row.text("measure"), row.text("sense")
    subject = f"{group}: {row.text('subject')}" if group else row.text("subject")
    if measure == "none":
        yield made(
            row.code, TOPIC, subject, None, None, "", row.basis, "under", f"under no area threshold of {row.basis.section}"
        )
    elif sense == "yes":
        yield _said(building, row, subject, ANSWERS[measure])
    elif not _other_building(building, row):
        value, question, from_spaces = _value(building, measure)
        yield against(
            row.code,
            TOPIC,
            subject,
            value,
            row.whole("figure"),
            row.text("unit"),
            row.basis,
            ask="ask the fire marshal about smoke vents" if row.code == "vents" else ASK,
            question=question,
            from_spaces=from_spaces,
            from_it_on=sense == "from",
        )


def _said(building: Building, row: FigureRow, subject: str, code: str) -> StudyLine:
    """A threshold that is a yes or a no."""
    said = building.inputs.get(code)
    if said is None and code == "upper_floor" and building.stories == 1:
        said = False
    if said is None:
        return to_ask(row.code, TOPIC, subject, None, "", row.basis, enter(code), question=code)
    text = f"over: {ASK} (there is)" if said else "under: there is none"
    return made(row.code, TOPIC, subject, None, None, "", row.basis, "over" if said else "under", text, code)


def _other_building(building: Building, row: FigureRow) -> bool:
    """Whether a threshold is about another kind of building: another number of stories, or units that open outside."""
    measure, inputs = row.text("measure"), building.inputs
    if measure == "repair_one_story":
        return (building.stories or 1) > 1
    if measure == "repair_more_stories":
        return (building.stories or 2) <= 1
    return row.code == "spr-S1-foam" and building.stories == 1 and bool(inputs.get("units_open_outside"))


def _value(building: Building, measure: str) -> tuple[int | None, str, str]:
    """What is planned, the answer that holds it, and what of the spaces gives it."""
    inputs, areas = building.inputs, building.fire_areas
    if measure in ("fire_area", "all_fire_areas"):
        from_spaces = "enter the fire area of each space, or fire_areas_sf"
        if not areas:
            return None, "fire_areas_sf", from_spaces
        return (max if measure == "fire_area" else sum)(area.sq_ft for area in areas), "fire_areas_sf", from_spaces
    if measure == "load":
        known = [area.occupants for area in areas if area.occupants is not None]
        value = max(known) if areas and len(known) == len(areas) else building.occupants
        return value, "occupants", "enter the function of each space, or occupants"
    value = inputs.get(ANSWERS[measure])
    if value is None and building.stories == 1:
        value = 1 if measure == "story" else None
    return value, ANSWERS[measure], ""


def _walls(building: Building) -> Iterator[StudyLine]:
    """Hours of the walls between fire areas, where there are two or more, and between the planned groups."""
    figures, inputs = building.figures, building.inputs
    if len(building.fire_areas) > 1 and building.proposed:
        rows = [row for g in building.proposed if (row := figures.of_group("fire_barriers", g))]
        row = max(rows, key=lambda r: r.whole("hours") or 0, default=None)
        if row is not None:
            yield needed(
                row.code,
                WALLS,
                f"between fire areas ({', '.join(building.proposed)})",
                row.whole("hours"),
                inputs.get("barrier_hours"),
                "hours",
                row.basis,
                ask="ask the architect about hours and openings of the wall",
                question="barrier_hours",
            )
    for one, other in combinations(building.proposed, 2):
        yield _separation(building, one, other)


def _separation(building: Building, one: str, other: str) -> StudyLine:
    """The wall between two groups, if they are to be separated at all."""
    ask = "ask the architect whether the groups are separated"
    for row in building.figures.rows("separation"):
        pair = (row.words("one"), row.words("other"))
        if any(names(pair[0], a) and names(pair[1], b) for a, b in ((one, other), (other, one))):
            return needed(
                row.code,
                WALLS,
                f"between {one} and {other}, {building.sprinkler_words}",
                row.whole("hours_sprinklered" if building.sprinklered else "hours_plain"),
                building.inputs.get("separation_hours"),
                "hours",
                row.basis,
                ask=ask,
                question="separation_hours",
            )
    return to_ask(
        f"sep-{one}-{other}", WALLS, f"between {one} and {other}", None, "hours", NOTHING, f"{ask}: no figure on record"
    )
