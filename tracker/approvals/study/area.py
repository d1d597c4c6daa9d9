"""Area, height and stories by group and construction type; International Building Code, sections
504 and 506.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from tracker.approvals.study.building import Building
from tracker.approvals.study.figures import FigureRow, names
from tracker.approvals.study.inputs import enter
from tracker.approvals.study.lines import NOTHING, StudyLine, against, counted, made, to_ask

TOPIC = "area and height"
ASK = "ask the architect about construction type, fire walls or sprinklers"
UNLIMITED = "unlimited"
"""The cell of a table that sets no limit."""


def lines(building: Building) -> Iterator[StudyLine]:
    """Area of a story, feet and stories, for each planned group."""
    kind = building.inputs.get("construction_type")
    if kind is None:
        code = "construction_type"
        yield to_ask(
            code, TOPIC, "construction type", None, "", NOTHING, enter(code), question=code
        )
        return
    yield from _frontage(building)
    yield from _largest_story(building)
    for group in building.proposed:
        yield _area(building, group, kind)
        yield from _heights(building, group, kind)


def _area(building: Building, group: str, kind: str) -> StudyLine:
    """The area of a story against the limit of its group and type."""
    subject = f"{group} in {kind}, {building.sprinkler_words}: area of a story"
    row = building.figures.find("allowable_area", group=group, type=kind)
    if row is None:
        return to_ask(
            f"area-{group}-{kind}",
            TOPIC,
            subject,
            story_area(building),
            "sq ft",
            NOTHING,
            f"{ASK}: no figure on record",
        )
    column = area_column(bool(building.sprinklered), building.stories)
    value = story_area(building)
    if row.text(column) == UNLIMITED:
        return made(
            row.code,
            TOPIC,
            subject,
            value,
            None,
            "sq ft",
            row.basis,
            "under",
            "under no area limit of the table",
        )
    limit, increase, basis = row.whole(column), frontage(building), row.basis
    if limit is not None and increase:
        limit += int((row.whole("plain") or 0) * increase)
        subject += (
            ", with open frontage (formula as a city prints it; of 2015 and 2018 from memory)"
        )
        basis = (
            basis
            if basis.local
            else replace(
                basis, how_we_know=f"{basis.how_we_know}; the increase in part from memory"
            )
        )
    if building.sprinklered and building.stories is None:
        subject += " (stories not entered: the figure for more than one)"
    return against(
        row.code,
        TOPIC,
        subject,
        value,
        limit,
        "sq ft",
        basis,
        ask=ASK,
        question=_area_question(building),
        of="the limit of",
    )


def area_column(sprinklered: bool, stories: int | None) -> str:
    """The column of the table of allowable areas; with sprinklers, stories that nobody entered
    count as more than one.
    """
    if not sprinklered:
        return "plain"
    return "sprinklered_one" if stories is not None and stories <= 1 else "sprinklered_more"


def story_area(building: Building) -> int | None:
    """Square feet of the largest story, no less than the building's over its stories; of one story
    its gross area or spaces.
    """
    if building.largest_story_sf is not None or building.stories != 1:
        return building.largest_story_sf
    return None if building.inputs.get("gross_area_sf") is None else building.total_sf


def _area_question(building: Building) -> str:
    """The answer that gives the area of a story."""
    if building.stories is None and story_area(building) is None:
        return "stories"
    return "gross_area_sf" if building.stories == 1 else "largest_story_sf"


def _largest_story(building: Building) -> Iterator[StudyLine]:
    """A largest story that can't hold its share of the building."""
    entered, least = building.inputs.get("largest_story_sf"), building.least_story_sf
    if entered is not None and least is not None and entered < least:
        code, stories = "largest_story_sf", counted(building.stories or 1, "stories")
        text = (
            f"{entered:,} sq ft were entered, but what is known of the building on {stories} makes"
            f" it {least:,} or more, unless part lies below grade: the larger is taken; correct"
            " largest_story_sf, gross_area_sf, stories or the spaces"
        )
        yield to_ask(
            "largest-story",
            TOPIC,
            "largest story against the whole",
            entered,
            "sq ft",
            NOTHING,
            text,
            least,
            code,
        )


def frontage(building: Building) -> Fraction:
    """The increase for open frontage; nothing unless all is entered and the edition has the
    formula.
    """
    (row,) = building.figures.rows("frontage")
    perimeter, along, width = (
        building.inputs.get(code) for code in ("perimeter_ft", "open_perimeter_ft", "open_width_ft")
    )
    if None in (perimeter, along, width) or row.basis.other_edition or not row.basis.adopted:
        return Fraction(0)
    return frontage_increase(perimeter, along, width, row)


def frontage_increase(perimeter: int, open_perimeter: int, width: int, row: FigureRow) -> Fraction:
    """(F / P - 0.25) x W / 30, the open width W counted up to 30 ft, and from 20 ft on; nothing for
    a quarter or less.

    perimeter P, open_perimeter F (no more than P) and width W in feet. Source: New York City
    Building Code 506.3.3; that the model code of 2015 and 2018 prints the same is from memory. The
    2021 edition has a table instead.
    """
    most, least = (
        row.whole("most_width_ft") or 30,
        Fraction(row.whole("least_share_percent") or 25, 100),
    )
    if not perimeter or open_perimeter > perimeter or width < least_width(row):
        return Fraction(0)
    return max(Fraction(0), Fraction(open_perimeter, perimeter) - least) * min(width, most) / most


def least_width(row: FigureRow) -> int:
    """Feet of open space from which on frontage counts."""
    return row.whole("least_width_ft") or 20


def _frontage(building: Building) -> Iterator[StudyLine]:
    """Why frontage that was entered does not count."""
    (row,) = building.figures.rows("frontage")
    perimeter, along, width = (
        building.inputs.get(code) for code in ("perimeter_ft", "open_perimeter_ft", "open_width_ft")
    )
    if perimeter is not None and along is not None and along > perimeter:
        text = (
            f"{along:,} ft along open space are more than the {perimeter:,} ft around the building;"
            " correct one of them"
        )
        yield to_ask(
            "frontage-more",
            TOPIC,
            "open frontage",
            along,
            "ft",
            row.basis,
            text,
            perimeter,
            "open_perimeter_ft",
        )
    if along and width is not None and width < least_width(row):
        text = f"{width:,} ft of open width do not count, only {least_width(row)} ft or more: {ASK}"
        yield to_ask(
            "frontage-narrow",
            TOPIC,
            "open frontage",
            width,
            "ft",
            row.basis,
            text,
            least_width(row),
            "open_width_ft",
        )


def _heights(building: Building, group: str, kind: str) -> Iterator[StudyLine]:
    """Feet and stories of a group and type; what is on record for neither must be asked about."""
    row = building.figures.find("heights", group=group, type=kind) or next(
        (
            row
            for row in building.figures.rows("heights")
            if names(row.words("group"), group) and row.text("type") == kind
        ),
        None,
    )
    way = "sprinklered" if building.sprinklered else "plain"
    for what, code in (("feet", "height_ft"), ("stories", "stories")):
        subject, value = (
            f"{group} in {kind}, {building.sprinkler_words}: {what}",
            building.inputs.get(code),
        )
        unit = "ft" if what == "feet" else "stories"
        said = row.text(f"{what}_{way}") if row else ""
        if row is None or not said:
            text = f"{ASK}: not on record for {group} in {kind}"
            yield to_ask(
                f"height-{group}-{kind}-{what}",
                TOPIC,
                subject,
                value,
                unit,
                NOTHING,
                text,
                question=code,
            )
        elif said == UNLIMITED:
            text = f"under no limit of {what} in the table"
            yield made(
                f"height-{group}-{kind}-{what}",
                TOPIC,
                subject,
                value,
                None,
                unit,
                row.basis,
                "under",
                text,
                code,
            )
        else:
            yield against(
                f"height-{group}-{kind}-{what}",
                TOPIC,
                subject,
                value,
                row.whole(f"{what}_{way}"),
                unit,
                row.basis,
                ask=ASK,
                question=code,
                of="the limit of",
            )
