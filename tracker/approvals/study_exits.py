"""People, exits, widths and ways; International Building Code 2018, chapter 10, figures in approvals/figures."""

from __future__ import annotations

from collections.abc import Iterator

from tracker.approvals.study_building import Building, SpaceLoad
from tracker.approvals.study_figures import FigureRow, names
from tracker.approvals.study_lines import NOTHING, StudyLine, against, made, needed, to_ask

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
    if building.occupants is not None:
        functions = sorted({load.function for load in building.loads if load.function})
        how = "as counted" if building.counted else f"by the function of each space ({', '.join(functions)})"
        net = "; net factors taken on gross area, which gives more" if any(load.net for load in building.loads) else ""
        rows = [load.row.basis for load in building.loads if load.row]
        basis = next((b for b in rows if not b.sure), next(iter(rows), NOTHING)) if not building.counted else NOTHING
        text = f"{building.occupants:,} people {how}{net}; {ARCHITECT} for the count that governs"
        yield to_ask("load", LOAD, "occupant load", building.occupants, "people", basis, text)
    elif not building.loads:
        text = "enter the spaces with their gross square feet and function, or occupants"
        yield to_ask("load", LOAD, "occupant load", None, "people", NOTHING, text)
    if unknown and not building.counted:
        names = ", ".join(load.name for load in unknown[:4]) + (f" and {len(unknown) - 4} more" if len(unknown) > 4 else "")
        text = f"no area, or no function that the table knows: {names}"
        yield to_ask("load-unknown", LOAD, "spaces without a load", len(unknown), "spaces", NOTHING, text)


def one_exit(building: Building) -> FigureRow | None:
    """The strictest row of the planned groups for a space with one way out."""
    found = [row for group in building.proposed if (row := building.figures.of_group("one_exit", group))]
    return min(found, key=lambda row: row.whole("most_people") or 0, default=None)


def _spaces_with_one_exit(building: Building) -> Iterator[StudyLine]:
    """Each space that is over or close, else the one with the most people."""
    row = one_exit(building)
    known = sorted((load for load in building.loads if load.occupants), key=lambda load: -(load.occupants or 0))
    if row is None or not known:
        return
    found = [_one_exit(load, row) for load in known]
    yield from [line for line in found if line.verdict != "under"] or found[:1]


def _one_exit(load: SpaceLoad, row: FigureRow) -> StudyLine:
    """A space against the most people for one exit."""
    return against(
        f"{row.code}-{load.code}",
        EXITS,
        f"{load.name}: one way out",
        load.occupants,
        row.whole("most_people"),
        "people",
        row.basis,
        ask="ask the architect about a second way out",
        of="the most with one exit,",
    )


def common_path_limit(row: FigureRow, people: int | None, sprinklered: bool) -> int | None:
    """Feet until there are two ways; unknown people count as many."""
    if sprinklered:
        return row.whole("path_sprinklered")
    return row.whole("path_plain_to_30" if people is not None and people <= 30 else "path_plain_over_30")


def _common_path(building: Building) -> Iterator[StudyLine]:
    """The longest way until there are two, by the largest space."""
    row = one_exit(building)
    if row is None:
        return
    largest = max((load.occupants for load in building.loads if load.occupants is not None), default=None)
    yield against(
        f"{row.code}-path",
        EXITS,
        f"way until there are two, {building.sprinkler_words}",
        building.inputs.get("common_path_ft"),
        common_path_limit(row, largest, bool(building.sprinklered)),
        "ft",
        row.basis,
        ask=f"{ARCHITECT} about a second exit",
        question="common_path_ft",
        of="the limit of",
    )


def _travel(building: Building) -> Iterator[StudyLine]:
    """The longest way to an exit, by the strictest planned group."""
    column = "sprinklered" if building.sprinklered else "plain"
    rows = [row for group in building.proposed if (row := building.figures.of_group("travel", group))]
    if not rows:
        return
    row = min(rows, key=lambda r: r.whole(column) or 0)
    subject = f"way to an exit, {building.sprinkler_words}"
    value = building.inputs.get("travel_distance_ft")
    if row.whole(column) is None:
        text = f"over: {ARCHITECT} about sprinklers ({row.text(column)} {building.sprinkler_words})"
        yield made(row.code, EXITS, subject, value, None, "ft", row.basis, "over", text)
        return
    yield against(
        row.code,
        EXITS,
        subject,
        value,
        row.whole(column),
        "ft",
        row.basis,
        ask=f"{ARCHITECT} about another exit",
        question="travel_distance_ft",
        of="the limit of",
    )


def exits_for(building: Building, people: int) -> FigureRow | None:
    """The row for the exits of a story with so many people."""
    rows = building.figures.rows("story_exits")
    return next((row for row in reversed(rows) if people > (row.whole("over_people") or 0)), rows[0] if rows else None)


def one_exit_story(building: Building, people: int) -> FigureRow | None:
    """The row by which a building of one story may do with one exit: few people, and a short way, for each planned group."""
    path = building.inputs.get("common_path_ft")
    if building.stories != 1 or path is None or not building.proposed:
        return None
    rows = [row for row in building.figures.rows("story_one_exit") if row.text("story") == "1"]
    found = [next((row for row in rows if names(row.words("groups"), group)), None) for group in building.proposed]
    few = [row for row in found if row and people <= (row.whole("most_people") or 0) and path <= (row.whole("most_feet") or 0)]
    return few[0] if len(few) == len(building.proposed) else None


def story_exits(building: Building, people: int) -> StudyLine:
    """Exits of the story with the most people: all are counted on it where the stories are not known apart."""
    alone = one_exit_story(building, people)
    row = alone or exits_for(building, people)
    return needed(
        row.code if row else "story",
        EXITS,
        f"exits of a story with {people:,} people" + ("" if building.stories == 1 else " (all counted on one story)"),
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
        yield needed(code, EXITS, f"{subject}, {people:,} people", need, get(answer), "in", basis, ask=ask, question=answer)
    narrow = [(corridor(building, people), "width of corridors", "corridor_in")]
    if building.stories is not None and building.stories > 1:
        narrow.append((least_stair(building, people), "width of stairs", "stair_narrow_in"))
    for row, about, answer in narrow:
        if row is not None:
            what, need = f"{row.text('what')} (all people counted on it)", row.whole("figure")
            ask = f"{ARCHITECT} about {about}"
            yield needed(row.code, EXITS, what, need, get(answer), "in", row.basis, ask=ask, question=answer)
    yield from _corridor_rating(building, people)


def corridor(building: Building, people: int) -> FigureRow | None:
    """The row for the width of a corridor that serves so many people."""
    return _width_row(building, "corridor for 50 people or more" if people >= 50 else "corridor for up to 49 people")


def least_stair(building: Building, people: int) -> FigureRow | None:
    """The row for the least width of a stair that serves so many people."""
    return _width_row(building, "stair for 50 people or more" if people >= 50 else "stair for up to 49 people")


def corridor_hours(row: FigureRow, people: int, sprinklered: bool) -> int | None:
    """Hours of the walls of a corridor that serves so many people; None where the table does not say it in whole hours."""
    if people <= (row.whole("over_people") or 0):
        return 0
    return row.whole("hours_sprinklered" if sprinklered else "hours_plain")


def _corridor_rating(building: Building, people: int) -> Iterator[StudyLine]:
    """Hours of the corridor walls, as if one corridor served all people."""
    for group in building.proposed:
        row = building.figures.of_group("corridor_rating", group)
        if row is not None:
            yield needed(
                f"{row.code}-{group}",
                EXITS,
                f"{group}: corridor walls, {building.sprinkler_words} (all people counted on one corridor)",
                corridor_hours(row, people, bool(building.sprinklered)),
                building.inputs.get("corridor_hours"),
                "hours",
                row.basis,
                ask=f"{ARCHITECT} about corridor walls",
                question="corridor_hours",
            )


def _dead_end(building: Building) -> Iterator[StudyLine]:
    """The longest corridor that ends without an exit, by the strictest planned group."""
    column = "feet_sprinklered" if building.sprinklered else "feet_plain"
    rows = [row for group in building.proposed if (row := building.figures.of_group("dead_ends", group))]
    row = min(rows, key=lambda r: r.whole(column) or 0, default=None)
    if row is not None:
        yield against(
            row.code,
            EXITS,
            f"corridor that ends without an exit, {building.sprinkler_words}",
            building.inputs.get("dead_end_ft"),
            row.whole(column),
            "ft",
            row.basis,
            ask=f"{ARCHITECT} about another way out",
            question="dead_end_ft",
            of="the limit of",
        )
