"""Area, height and stories by group and construction type; International Building Code, sections 504 and 506."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from tracker.approvals.study_building import Building
from tracker.approvals.study_figures import FigureRow
from tracker.approvals.study_inputs import enter
from tracker.approvals.study_lines import NOTHING, StudyLine, against, made, to_ask

TOPIC = "area and height"
ASK = "ask the architect about construction type, fire walls or sprinklers"


def lines(building: Building) -> Iterator[StudyLine]:
    """Area of a story, feet and stories, for each planned group."""
    kind = building.inputs.get("construction_type")
    if kind is None:
        code = "construction_type"
        yield to_ask(code, TOPIC, "construction type", None, "", NOTHING, enter(code), question=code)
        return
    for group in building.proposed:
        yield _area(building, group, kind)
        yield from _heights(building, group, kind)


def _area(building: Building, group: str, kind: str) -> StudyLine:
    """The area of a story against the limit of its group and type."""
    subject = f"{group} in {kind}, {building.sprinkler_words}: area of a story"
    row = building.figures.find("allowable_area", group=group, type=kind)
    if row is None:
        return to_ask(
            f"area-{group}-{kind}", TOPIC, subject, story_area(building), "sq ft", NOTHING, f"{ASK}: no figure on record"
        )
    column = area_column(bool(building.sprinklered), building.stories or 1)
    value = story_area(building)
    if row.text(column) == "unlimited":
        return made(row.code, TOPIC, subject, value, None, "sq ft", row.basis, "under", "under no area limit of the table")
    limit, increase = row.whole(column), frontage(building)
    if limit is not None and increase:
        limit += int((row.whole("plain") or 0) * increase)
        subject += ", with open frontage (formula of 2015 and 2018, from memory)"
    return against(
        row.code, TOPIC, subject, value, limit, "sq ft", row.basis, ask=ASK, question=_area_question(building), of="the limit of"
    )


def area_column(sprinklered: bool, stories: int) -> str:
    """The column of the table of allowable areas."""
    if not sprinklered:
        return "plain"
    return "sprinklered_one" if stories <= 1 else "sprinklered_more"


def story_area(building: Building) -> int | None:
    """Square feet of the largest story; of a building of one story its gross area."""
    largest: int | None = building.inputs.get("largest_story_sf")
    gross: int | None = building.inputs.get("gross_area_sf")
    return largest if largest is not None or building.stories != 1 else gross


def _area_question(building: Building) -> str:
    """The answer that gives the area of a story."""
    if building.stories is None and story_area(building) is None:
        return "stories"
    return "gross_area_sf" if building.stories == 1 else "largest_story_sf"


def frontage(building: Building) -> Fraction:
    """The increase for open frontage; nothing unless all is entered and the edition has the formula."""
    (row,) = building.figures.rows("frontage")
    perimeter, along, width = (building.inputs.get(code) for code in ("perimeter_ft", "open_perimeter_ft", "open_width_ft"))
    if None in (perimeter, along, width) or row.basis.other_edition or not row.basis.adopted:
        return Fraction(0)
    return frontage_increase(perimeter, along, width, row)


def frontage_increase(perimeter: int, open_perimeter: int, width: int, row: FigureRow) -> Fraction:
    """(F / P - 0.25) x W / 30, the open width W counted up to 30 ft; nothing for a quarter or less.

    International Building Code 2018, equation 5-5 (from memory). The 2021 edition has a table instead.
    """
    most, least = row.whole("most_width_ft") or 30, Fraction(row.whole("least_share_percent") or 25, 100)
    if not perimeter:
        return Fraction(0)
    return max(Fraction(0), Fraction(open_perimeter, perimeter) - least) * min(width, most) / most


def _heights(building: Building, group: str, kind: str) -> Iterator[StudyLine]:
    """Feet and stories, where the table has the group and type."""
    row = building.figures.find("heights", group=group, type=kind)
    if row is None:
        return
    way = "sprinklered" if building.sprinklered else "plain"
    for what, code in (("feet", "height_ft"), ("stories", "stories")):
        yield against(
            f"{row.code}-{what}",
            TOPIC,
            f"{group} in {kind}, {building.sprinkler_words}: {what}",
            building.inputs.get(code),
            row.whole(f"{what}_{way}"),
            "ft" if what == "feet" else "stories",
            row.basis,
            ask=ASK,
            question=code,
            of="the limit of",
        )
