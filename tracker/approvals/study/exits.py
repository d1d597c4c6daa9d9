"""People, exits, widths and ways; International Building Code 2018, chapter 10, figures in
approvals/figures.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from tracker.approvals.study.building import Building, SpaceLoad, least_people, measured_sf
from tracker.approvals.study.figures import FigureRow, names
from tracker.approvals.study.inputs import enter
from tracker.approvals.study.lines import NOTHING, StudyLine, against, listed, made, needed, to_ask

LOAD = "people"
EXITS = "exits"
ARCHITECT = "ask the architect"


def lines(building: Building) -> Iterator[StudyLine]:
    """How many people, then what that asks of exits."""
    yield from _people(building)
    if building.proposed:
        yield from _spaces_with_one_exit(building)
        yield from _common_path(building)
        yield from _travel(building)
        yield from _dead_end(building)
    if building.occupants is not None:
        yield story_exits(building, building.occupants)
        yield from _widths(building, building.occupants)


def _people(building: Building) -> Iterator[StudyLine]:
    """The load in all, and the spaces whose people are not known."""
    unknown = [load for load in building.loads if load.occupants is None]
    if building.too_few is not None:
        least = least_people(building.loads)
        text = (
            f"{building.too_few:,} people were counted, the functions of the spaces give {least:,}:"
            f" the larger is taken; {ARCHITECT}, and the building official, who alone may approve"
            " fewer than that (IBC 1004.5, from memory)"
        )
        subject = "people counted against the functions of the spaces"
        yield to_ask(
            "load-few", LOAD, subject, building.too_few, "people", NOTHING, text, least, "occupants"
        )
    if building.occupants is not None:
        functions = sorted({load.function for load in building.loads if load.function})
        how = (
            "as counted"
            if building.counted
            else f"by the function of each space ({', '.join(functions)})"
        )
        net = (
            "; net factors taken on gross area, which gives more"
            if any(load.net for load in building.loads)
            else ""
        )
        rows = [load.row.basis for load in building.loads if load.row]
        basis = (
            next((b for b in rows if not b.sure), next(iter(rows), NOTHING))
            if not building.counted
            else NOTHING
        )
        text = f"{building.occupants:,} people {how}{net}; {ARCHITECT} for the count that governs"
        yield to_ask("load", LOAD, "occupant load", building.occupants, "people", basis, text)
    elif not building.loads:
        text = "enter the spaces with their gross square feet and function, or occupants"
        yield to_ask("load", LOAD, "occupant load", None, "people", NOTHING, text)
    elif not unknown:
        text = (
            f"the spaces hold {measured_sf(building.loads):,} sq ft of the gross area: enter the"
            " other rooms, or occupants"
        )
        yield to_ask("load", LOAD, "occupant load", None, "people", NOTHING, text)
    if unknown and not building.counted:
        text = (
            "no area, or no function that the table knows:"
            f" {listed([load.name for load in unknown])}"
        )
        yield to_ask(
            "load-unknown", LOAD, "spaces without a load", len(unknown), "spaces", NOTHING, text
        )


@dataclass(frozen=True, slots=True)
class Strictest:
    """Of the planned groups the one with the least figure, and the groups without a figure on
    record.

    said: its cell, which holds words where the table permits nothing.
    """

    row: FigureRow
    group: str
    said: str
    unknown: tuple[str, ...]

    @property
    def figure(self) -> int | None:
        """The figure; None where the table has words."""
        return self.row.whole_of(self.said)

    def of(self, building: Building) -> str:
        """Whose figure it is, for a subject, where there are several groups."""
        return f" (by {self.group}, the strictest)" if len(building.proposed) > 1 else ""


def strictest(building: Building, table: str, column: str) -> Strictest | None:
    """The planned group with the least figure in a column; words such as "not permitted" are less
    than any figure.
    """
    rows = [(building.figures.of_group(table, group), group) for group in building.proposed]
    known = [(row, group) for row, group in rows if row is not None and row.text(column)]
    if not known:
        return None
    row, group = min(
        known, key=lambda one: -1 if (figure := one[0].whole(column)) is None else figure
    )
    unknown = tuple(group for one, group in rows if one is None or not one.text(column))
    return Strictest(row, group, row.text(column), unknown)


def _of_all_groups(line: StudyLine, found: Strictest) -> StudyLine:
    """A line by the strictest group; it can only ask where another planned group has no figure on
    record and it is not over.
    """
    if not found.unknown or line.verdict in ("over", "ask"):
        return line
    groups = ", ".join(found.unknown)
    return replace(
        line,
        verdict="ask",
        mark="?",
        text=f"ask: {ARCHITECT.removeprefix('ask ')} ({groups}: not on record; {line.text})",
    )


def _spaces_with_one_exit(building: Building) -> Iterator[StudyLine]:
    """Each space that is over or close, else the one with the most people."""
    found = strictest(building, "one_exit", "most_people")
    known = sorted(
        (load for load in building.loads if load.occupants), key=lambda load: -(load.occupants or 0)
    )
    if not known:
        return
    if found is None:
        yield _not_on_record("one-exit", "spaces with one way out", building)
        return
    lines = [_one_exit(load, found, building) for load in known]
    yield from [line for line in lines if line.verdict not in ("under", "ask")] or lines[:1]


def _one_exit(load: SpaceLoad, found: Strictest, building: Building) -> StudyLine:
    """A space against the most people for one exit."""
    line = against(
        f"{found.row.code}-{load.code}",
        EXITS,
        f"{load.name}: one way out{found.of(building)}",
        load.occupants,
        found.figure,
        "people",
        found.row.basis,
        ask="ask the architect about a second way out",
        of="the most with one exit,",
    )
    return _of_all_groups(line, found)


def _not_on_record(code: str, subject: str, building: Building) -> StudyLine:
    """A line for groups of which no figure is on record."""
    text = f"{ARCHITECT}: not on record for {', '.join(building.proposed)}"
    return to_ask(code, EXITS, subject, None, "", NOTHING, text)


def _way(
    building: Building, table: str, column: str, code: str, subject: str, question: str, ask: str
) -> StudyLine:
    """The feet of a way, held against the least limit of the planned groups."""
    subject += f", {building.sprinkler_words}"
    found = strictest(building, table, column)
    value = building.inputs.get(question)
    if found is None:
        return _not_on_record(f"{table}{code}", subject, building)
    subject += found.of(building)
    code = f"{found.row.code}{code}"
    if found.figure is None:
        text = f"over: {ARCHITECT} about sprinklers ({found.said} {building.sprinkler_words})"
        return made(code, EXITS, subject, value, None, "ft", found.row.basis, "over", text)
    line = against(
        code,
        EXITS,
        subject,
        value,
        found.figure,
        "ft",
        found.row.basis,
        ask=ask,
        question=question,
        of="the limit of",
    )
    return _of_all_groups(line, found)


def common_path_column(people: int | None, sprinklered: bool) -> str:
    """The column of feet until there are two ways; unknown people count as many."""
    if sprinklered:
        return "path_sprinklered"
    return "path_plain_to_30" if people is not None and people <= 30 else "path_plain_over_30"


def _common_path(building: Building) -> Iterator[StudyLine]:
    """The longest way until there are two, by the largest space."""
    known = [load.occupants for load in building.loads if load.occupants is not None]
    largest = max(known) if known and len(known) == len(building.loads) else None
    column = common_path_column(largest, bool(building.sprinklered))
    subject, ask = "way until there are two", f"{ARCHITECT} about a second exit"
    yield _way(building, "one_exit", column, "-path", subject, "common_path_ft", ask)


def _travel(building: Building) -> Iterator[StudyLine]:
    """The longest way to an exit."""
    column = "sprinklered" if building.sprinklered else "plain"
    yield _way(
        building,
        "travel",
        column,
        "",
        "way to an exit",
        "travel_distance_ft",
        f"{ARCHITECT} about another exit",
    )


def exits_for(building: Building, people: int) -> FigureRow | None:
    """The row for the exits of a story with so many people."""
    rows = building.figures.rows("story_exits")
    return next(
        (row for row in reversed(rows) if people > (row.whole("over_people") or 0)),
        rows[0] if rows else None,
    )


def one_exit_story(building: Building, people: int) -> FigureRow | None:
    """The row by which a building of one story may do with one exit: few people, and a short way,
    for each planned group.
    """
    path = building.inputs.get("common_path_ft")
    if building.stories != 1 or path is None or not building.proposed:
        return None
    rows = [row for row in building.figures.rows("story_one_exit") if row.text("story") == "1"]
    found = [
        next((row for row in rows if names(row.words("groups"), group)), None)
        for group in building.proposed
    ]
    few = [
        row
        for row in found
        if row
        and people <= (row.whole("most_people") or 0)
        and path <= (row.whole("most_feet") or 0)
    ]
    return few[0] if len(few) == len(building.proposed) else None


def story_exits(building: Building, people: int) -> StudyLine:
    """Exits of the story with the most people: all are counted on it where the stories are not
    known apart.
    """
    alone = one_exit_story(building, people)
    row = alone or exits_for(building, people)
    return needed(
        row.code if row else "story",
        EXITS,
        f"exits of a story with {people:,} people"
        + ("" if building.stories == 1 else " (all counted on one story)"),
        1 if alone else row.whole("exits") if row else None,
        building.inputs.get("exits"),
        "exits",
        row.basis if row else NOTHING,
        ask=f"{ARCHITECT} about number and place of exits",
        question="exits",
    )


def inches(people: int, row: FigureRow) -> int:
    """Inches of width for so many people, a part of an inch counted as one."""
    return -int(-people * row.exact("figure") // 1)


def _width_row(building: Building, what: str) -> FigureRow | None:
    return building.figures.find("widths", what=what)


def _widths(building: Building, people: int) -> Iterator[StudyLine]:
    """Doors together, stairs together, the narrowest door and corridor."""
    get = building.inputs.get
    alarm = bool(building.sprinklered) and bool(get("voice_alarm"))
    stair = "stair with sprinklers and voice alarm" if alarm else "stair"
    wanted = [("width-doors", "doors together", "door or other way", "exit_width_in")]
    if building.stories is not None and building.stories > 1:
        wanted.append(("width-stairs", "stairs together", stair, "stair_in"))
    for code, subject, what, answer in wanted:
        row = _width_row(building, what)
        need = inches(people, row) if row else None
        basis, ask = row.basis if row else NOTHING, f"{ARCHITECT} about the width of exits"
        yield needed(
            code,
            EXITS,
            f"{subject}, {people:,} people",
            need,
            get(answer),
            "in",
            basis,
            ask=ask,
            question=answer,
        )
    narrow = [(row, "width of corridors", "corridor_in") for row in corridors(building, people)]
    if building.stories is None:
        yield to_ask(
            "width-stairs",
            EXITS,
            "stairs",
            None,
            "in",
            NOTHING,
            enter("stories"),
            question="stories",
        )
    elif building.stories > 1:
        narrow.append((least_stair(building, people), "width of stairs", "stair_narrow_in"))
    for row, about, answer in narrow:
        if row is not None:
            what, need = f"{row.text('what')} (all people counted on it)", row.whole("figure")
            ask = f"{ARCHITECT} about {about}"
            yield needed(
                row.code, EXITS, what, need, get(answer), "in", row.basis, ask=ask, question=answer
            )
    yield from _corridor_rating(building, people)


def corridors(building: Building, people: int) -> Iterator[FigureRow | None]:
    """The rows for the width of corridors that serve so many people: of the planned groups the
    widest.

    Care that stretchers serve is no group of its own: its row is added where there may be such
    care.
    """
    wanted = ["corridor for 50 people or more" if people >= 50 else "corridor for up to 49 people"]
    if "E" in building.proposed and people >= 100:
        wanted.append("corridor of group E for 100 people or more")
    if "I-2" in building.proposed or "I" in building.proposed:
        wanted.append("corridor of group I-2 where beds are moved")
    rows = [row for what in wanted if (row := _width_row(building, what))]
    yield max(rows, key=lambda row: row.whole("figure") or 0, default=None)
    if "B" in building.proposed and building.inputs.get("shopping_or_medical"):
        yield _width_row(building, "corridor for stretchers in ambulatory care")


def least_stair(building: Building, people: int) -> FigureRow | None:
    """The row for the least width of a stair that serves so many people."""
    return _width_row(
        building, "stair for 50 people or more" if people >= 50 else "stair for up to 49 people"
    )


def corridor_hours(row: FigureRow, people: int, sprinklered: bool) -> int | None:
    """Hours of the walls of a corridor that serves so many people; None where the table permits
    none.

    Where the table has several by the kind of sprinklers, the most; a part of an hour is taken as
    one.
    """
    if people <= (row.whole("over_people") or 0):
        return 0
    found = re.findall(r"[0-9]+(?:\.[0-9]+)?", row.text(hours_column(sprinklered)))
    return max((-int(-Fraction(hours) // 1) for hours in found), default=None)


def hours_column(sprinklered: bool) -> str:
    """The column of the hours of corridor walls."""
    return "hours_sprinklered" if sprinklered else "hours_plain"


def _corridor_rating(building: Building, people: int) -> Iterator[StudyLine]:
    """Hours of the corridor walls, as if one corridor served all people."""
    for group in building.proposed:
        row, served = (
            building.figures.of_group("corridor_rating", group),
            bool(building.sprinklered),
        )
        subject = (
            f"{group}: corridor walls, {building.sprinkler_words} (all people counted on one"
            " corridor)"
        )
        if row is None:
            text = f"{ARCHITECT} about corridor walls: not on record for {group}"
            yield to_ask(f"corridor-{group}", EXITS, subject, None, "hours", NOTHING, text)
            continue
        hours, said = corridor_hours(row, people, served), row.text(hours_column(served))
        if hours is None:
            text = f"over: {ARCHITECT} about sprinklers ({said} {building.sprinkler_words})"
            yield made(
                f"{row.code}-{group}", EXITS, subject, None, None, "hours", row.basis, "over", text
            )
            continue
        if hours and not row.whole_of(said):
            subject += f" ({said} hours in the table; the most is taken)"
        yield needed(
            f"{row.code}-{group}",
            EXITS,
            subject,
            hours,
            building.inputs.get("corridor_hours"),
            "hours",
            row.basis,
            ask=f"{ARCHITECT} about corridor walls",
            question="corridor_hours",
        )


def _dead_end(building: Building) -> Iterator[StudyLine]:
    """The longest corridor that ends without an exit."""
    column = "feet_sprinklered" if building.sprinklered else "feet_plain"
    subject, ask = "corridor that ends without an exit", f"{ARCHITECT} about another way out"
    yield _way(building, "dead_ends", column, "", subject, "dead_end_ft", ask)
