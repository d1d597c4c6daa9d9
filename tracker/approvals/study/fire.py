"""Fire areas against the thresholds for sprinklers, the walls between areas and groups, smoke
vents.

International Building Code, sections 903.2, 707.3.10, 508.4; International Fire Code, section
910.2. A fire barrier divides fire areas; only a fire wall makes two buildings.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from tracker.approvals.study.building import (
    Building,
    falls_short,
    measured_sf,
    plain_name,
    spellings,
)
from tracker.approvals.study.figures import FigureRow, names
from tracker.approvals.study.inputs import enter
from tracker.approvals.study.lines import (
    NOTHING,
    StudyLine,
    against,
    held_against,
    listed,
    made,
    needed,
    to_ask,
)

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
        yield to_ask(
            "groups",
            TOPIC,
            "occupancy group",
            None,
            "",
            NOTHING,
            enter("proposed_group"),
            question="proposed_group",
        )
    yield from _sums(building)
    for row in building.figures.rows("sprinklers"):
        everywhere = row.text("groups") == "any"
        group = (
            ""
            if everywhere
            else next((g for g in building.proposed if names(row.words("groups"), g)), "")
        )
        if group or everywhere:
            yield from _threshold(building, row, group)
    for group in building.proposed:
        if not any(
            names(row.words("groups"), group)
            for row in building.figures.rows("sprinklers")
            if row.text("groups") != "any"
        ):
            yield to_ask(
                f"spr-{group}",
                TOPIC,
                group,
                None,
                "",
                NOTHING,
                f"{ASK}: no threshold on record for {group}",
            )
    yield from _walls(building)


def _threshold(building: Building, row: FigureRow, group: str) -> Iterator[StudyLine]:
    """One threshold; none where it isn't about this building."""
    measure, sense = row.text("measure"), row.text("sense")
    subject = f"{group}: {row.text('subject')}" if group else row.text("subject")
    if measure == "none":
        yield made(
            row.code,
            TOPIC,
            subject,
            None,
            None,
            "",
            row.basis,
            "under",
            f"under no area threshold of {row.basis.section}",
        )
    elif sense == "yes":
        yield _said(building, row, subject, ANSWERS[measure])
    elif not _other_building(building, row):
        value, question, from_spaces = _value(building, measure)
        line = against(
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
        yield _as_far_as_known(building, row, line, sense == "from")


def _as_far_as_known(
    building: Building, row: FigureRow, line: StudyLine, from_it_on: bool
) -> StudyLine:
    """A line of fire areas: over as it stands; else only what it would be too if all that is in no
    fire area were in this one.
    """
    if line.value is None or line.figure is None or line.verdict == "over":
        return line
    value, figure, most = line.value, line.figure, _most(building, row.text("measure"), line.value)
    if most is not None and held_against(most, figure, from_it_on) == line.verdict:
        return line
    upto = "" if most is None else f"; it may be as many as {most:,} {line.unit}"
    text = (
        f"{unplaced(building)}; {value:,} {line.unit} are known, the threshold is {figure:,}{upto}"
    )
    return to_ask(
        row.code, TOPIC, line.subject, value, line.unit, row.basis, text, figure, line.question
    )


def _most(building: Building, measure: str, value: int) -> int | None:
    """What a measure of the fire areas may be at the most, as long as some area or people are in
    none; None: nobody can tell.
    """
    areas = building.fire_areas
    left = building.left_out(sum(area.sq_ft for area in areas))
    if measure == "all_fire_areas":
        return None if left is None else value + left
    if measure == "fire_area":
        largest = max((area.sq_ft for area in areas if area.assigned), default=0)
        return (
            None
            if left is None
            else largest + sum(area.sq_ft for area in areas if not area.assigned) + left
        )
    if measure == "load" and len(areas) > 1 and all(area.occupants is not None for area in areas):
        largest = max((area.occupants or 0 for area in areas if area.assigned), default=0)
        placed = sum(area.occupants or 0 for area in areas if area.assigned)
        everybody = max(building.occupants or 0, sum(area.occupants or 0 for area in areas))
        return None if left and not building.counted else largest + everybody - placed
    return value if measure != "load" or building.counted or not left else None


def unplaced(building: Building) -> str:
    """What is in no fire area, or has no square feet, in words; blank where everything is known."""
    areas = building.fire_areas
    said = []
    for area in areas:
        if not area.assigned:
            names = [load.name for load in building.loads if not load.fire_area]
            said.append(f"{area.sq_ft:,} sq ft lie in no fire area ({listed(names)})")
    unmeasured = [name for area in areas for name in area.unmeasured]
    if unmeasured:
        said.append(f"no square feet entered for {listed(unmeasured)}")
    together, total = sum(area.sq_ft for area in areas), building.total_sf
    if areas and total is not None and building.left_out(together):
        said.append(f"the fire areas add up to {together:,} of {total:,} sq ft")
    return "; ".join(said)


def _sums(building: Building) -> Iterator[StudyLine]:
    """What is in no fire area, names written in several ways, and spaces that do not add up to the
    gross area.
    """
    rest = unplaced(building)
    if rest:
        text = f"{rest}; enter the fire area and the gross square feet of each space"
        yield to_ask("fire-areas-rest", TOPIC, "area in no fire area", None, "sq ft", NOTHING, text)
    for ways in spellings(building.loads):
        text = (
            f"{listed([f'“{way}”' for way in ways])} are taken as one fire area; write it in one"
            " way, or name two in two ways"
        )
        yield to_ask(
            f"fire-area-{plain_name(ways[0])}",
            TOPIC,
            "one fire area, written in several ways",
            None,
            "",
            NOTHING,
            text,
        )
    gross, spaces = building.inputs.get("gross_area_sf"), measured_sf(building.loads)
    if (
        gross is not None
        and spaces
        and (falls_short(building.inputs, building.loads) or spaces * 10 > gross * 11)
    ):
        text = (
            f"the spaces add up to {spaces:,} sq ft, the gross area is {gross:,}: enter what is"
            " missing, or correct one of them"
        )
        yield to_ask(
            "spaces-sum",
            TOPIC,
            "spaces against the gross area",
            spaces,
            "sq ft",
            NOTHING,
            text,
            gross,
            question="gross_area_sf",
        )


def _said(building: Building, row: FigureRow, subject: str, code: str) -> StudyLine:
    """A threshold that is a yes or a no."""
    said = building.inputs.get(code)
    if said is None and code == "upper_floor" and building.stories == 1:
        said = False
    if said is None:
        return to_ask(row.code, TOPIC, subject, None, "", row.basis, enter(code), question=code)
    text = f"over: {ASK} (there is)" if said else "under: there is none"
    return made(
        row.code, TOPIC, subject, None, None, "", row.basis, "over" if said else "under", text, code
    )


def _other_building(building: Building, row: FigureRow) -> bool:
    """Whether a threshold is about another kind of building: another number of stories, or units
    that open outside.
    """
    measure, inputs = row.text("measure"), building.inputs
    if measure == "repair_one_story":
        return (building.stories or 1) > 1
    if measure == "repair_more_stories":
        return (building.stories or 2) <= 1
    return (
        row.code == "spr-S1-foam"
        and building.stories == 1
        and bool(inputs.get("units_open_outside"))
    )


def _value(building: Building, measure: str) -> tuple[int | None, str, str]:
    """What is planned, the answer that holds it, and what of the spaces gives it."""
    inputs, areas = building.inputs, building.fire_areas
    if measure in ("fire_area", "all_fire_areas"):
        from_spaces = "enter the fire area of each space, or fire_areas_sf"
        if not areas:
            return None, "fire_areas_sf", from_spaces
        return (
            (max if measure == "fire_area" else sum)(area.sq_ft for area in areas),
            "fire_areas_sf",
            from_spaces,
        )
    if measure == "load":
        known = [area.occupants for area in areas if area.occupants is not None]
        value = max(known) if areas and len(known) == len(areas) else building.occupants
        if value is not None and len(areas) == 1:
            value = max(value, building.occupants or 0)
        return value, "occupants", "enter the function of each space, or occupants"
    value = inputs.get(ANSWERS[measure])
    if value is None and building.stories == 1:
        value = 1 if measure == "story" else None
    return value, ANSWERS[measure], ""


def _walls(building: Building) -> Iterator[StudyLine]:
    """Hours of the walls between fire areas, where there are two or more, and between the planned
    groups.
    """
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
        f"sep-{one}-{other}",
        WALLS,
        f"between {one} and {other}",
        None,
        "hours",
        NOTHING,
        f"{ask}: no figure on record",
    )
