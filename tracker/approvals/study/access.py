"""Accessible parking, units, entrances, toilets, doors and the fifth for the path of travel.

2010 ADA Standards; 28 CFR 36.403(f)(1). A federal duty that does not depend on what the building
inspector asks for.
"""

from __future__ import annotations

from collections.abc import Iterator

from tracker.approvals.study.building import Building
from tracker.approvals.study.figures import FigureRow, Figures
from tracker.approvals.study.inputs import enter
from tracker.approvals.study.lines import (
    NOTHING,
    StudyLine,
    against,
    held_against,
    made,
    needed,
    to_ask,
)

TOPIC = "accessibility"
ASK = "ask the architect"


def single(figures: Figures, what: str) -> FigureRow | None:
    """A figure that stands by itself."""
    return figures.find("access", what=what)


def span(figures: Figures, table: str, count: int) -> FigureRow | None:
    """The row whose numbers from..to hold this one."""
    for row in figures.rows(table):
        most = row.whole("to")
        if (row.whole("from") or 0) <= count and (most is None or count <= most):
            return row
    return None


def parking(row: FigureRow, spaces: int) -> int:
    """Accessible spaces of a lot: by the table; 2 percent, fractions up; 20 and one for each 100
    over 1,000 or a part of it.
    """
    percent, more = row.whole("percent"), row.whole("one_more_each")
    if percent is not None:
        return -(-spaces * percent // 100)
    base = row.whole("spaces") or 0
    return base + (-(-(spaces - (row.whole("from") or 0) + 1) // more) if more else 0)


def vans(row: FigureRow, accessible: int) -> int:
    """Van spaces among so many accessible ones: one for each six, or a part of it."""
    return -(-accessible // (row.whole("figure") or 1))


def units(row: FigureRow, count: int) -> int:
    """Accessible self-storage units: a base, and a percentage of those over the last row, fractions
    up; at least one.
    """
    before = (row.whole("from") or 1) - 1
    return max(
        1,
        (row.whole("units") or 0) + -(-(count - before) * (row.whole("percent_over") or 0) // 100),
    )


def share(row: FigureRow, count: int) -> int:
    """A percentage of a number, fractions up."""
    return -(-count * (row.whole("figure") or 0) // 100)


def path_of_travel_cents(row: FigureRow, altered_cents: int) -> int:
    """The sum up to which the path of travel to an altered area of primary function must be made
    accessible; rounded up.
    """
    return share(row, altered_cents)


def way_between_stories(
    figures: Figures, stories: int, story_sf: int, shopping_or_medical: bool
) -> bool:
    """Whether the standard asks for an accessible way between stories of a private building
    (206.2.3, exception 1).
    """
    from_stories = single(figures, "stories from which a private building needs a way between them")
    from_area = single(figures, "square feet of a story from which it needs one")
    few = from_stories is not None and stories < (from_stories.whole("figure") or 0)
    small = from_area is not None and story_sf < (from_area.whole("figure") or 0)
    return stories > 1 and (shopping_or_medical or not (few or small))


def lines(building: Building) -> Iterator[StudyLine]:
    """Every line, parking first."""
    yield from _parking(building)
    yield from _counts(building)
    yield from _doors(building)
    yield from _door_room(building)
    yield from _path_of_travel(building)
    yield from _between_stories(building)
    yield from _employees(building)


def _parking(building: Building) -> Iterator[StudyLine]:
    """Accessible spaces, and vans among them."""
    get, figures = building.inputs.get, building.figures
    spaces = get("parking_spaces")
    if not spaces:
        if spaces is None:
            code = "parking_spaces"
            yield to_ask(
                "parking", TOPIC, "parking", None, "spaces", NOTHING, enter(code), question=code
            )
        return
    row, van = (
        span(figures, "accessible_parking", spaces),
        single(figures, "accessible spaces for each van space"),
    )
    if row is None or van is None:
        return
    need = parking(row, spaces)
    for code, subject, count, basis, answer in (
        (
            "parking",
            f"accessible of {spaces:,} parking spaces",
            need,
            row.basis,
            "accessible_parking",
        ),
        ("parking-van", "van spaces among them", vans(van, need), van.basis, "van_parking"),
    ):
        ask = f"{ASK} about accessible parking"
        yield needed(
            code, TOPIC, subject, count, get(answer), "spaces", basis, ask=ask, question=answer
        )


def _counts(building: Building) -> Iterator[StudyLine]:
    """Storage units, entrances, toilet rooms and urinals, where there are any."""
    get, figures = building.inputs.get, building.figures
    found: list[tuple[str, str, str, int, FigureRow, str]] = []
    count = get("storage_units")
    if count and (row := span(figures, "accessible_units", count)):
        found.append(
            (
                "units",
                f"accessible of {count:,} storage units",
                "units",
                units(row, count),
                row,
                "accessible_units",
            )
        )
    for code, what, answer, name in (
        ("entrances", "public entrances that are accessible", "entrances", "public entrances"),
        (
            "toilet-rooms",
            "single-user toilet rooms in one place that are accessible",
            "toilet_rooms",
            "single-user toilet rooms",
        ),
    ):
        count, row_ = get(answer), single(figures, what)
        if count and row_:
            found.append(
                (
                    code,
                    f"accessible of {count:,} {name}",
                    name,
                    share(row_, count),
                    row_,
                    f"accessible_{answer}",
                )
            )
    count, row_ = get("urinals"), single(figures, "urinals above which one is accessible")
    if count is not None and row_:
        need = int(count > (row_.whole("figure") or 0))
        found.append(
            (
                "urinals",
                f"accessible of {count:,} urinals",
                "urinals",
                need,
                row_,
                "accessible_urinals",
            )
        )
    for code, subject, unit, need, row, answer in found:
        there = 0 if need == 0 and get(answer) is None else get(answer)
        ask = f"{ASK} about accessible {unit}"
        yield needed(code, TOPIC, subject, need, there, unit, row.basis, ask=ask, question=answer)


def _doors(building: Building) -> Iterator[StudyLine]:
    """The narrowest door; in an alteration a latch stop may stand in it."""
    width = building.inputs.get("door_clear_in")
    row, latch = (
        single(building.figures, "clear width of a door"),
        single(building.figures, "latch stop that an alteration may keep"),
    )
    if row is None:
        return
    need = row.exact("figure")
    if width is None:
        text = f"{need} in by the standard; {enter('door_clear_in')}"
        yield to_ask(
            row.code,
            TOPIC,
            "narrowest door",
            None,
            "in",
            row.basis,
            text,
            int(need),
            "door_clear_in",
        )
        return
    short = width < need
    kept = (
        short
        and latch is not None
        and width >= need - latch.exact("figure")
        and bool(building.inputs.get("door_is_altered"))
    )
    verdict = "close" if kept or width == need else "over" if short else "under"
    words = f"{need} in by the standard, {float(width):g} in there"
    text = {
        "over": f"over: {ASK} about the door ({words})",
        "close": (
            f"close: {ASK} about the door ({words}"
            + (", as a latch stop may leave in an alteration)" if kept else ")")
        ),
        "under": f"under what is there: {words}",
    }[verdict]
    yield made(
        row.code,
        TOPIC,
        "narrowest door",
        int(width),
        int(need),
        "in",
        row.basis,
        verdict,
        text,
        "door_clear_in",
    )


def _door_room(building: Building) -> Iterator[StudyLine]:
    """Room to move before a door, straight on, where it was measured."""
    for row in building.figures.rows("door_clearance"):
        for what in ("depth", "latch"):
            question = f"door_{row.text('side')}_{what}_in"
            there = building.inputs.get(question)
            need = row.whole(f"{what}_in")
            if there is not None:
                subject = (
                    f"{row.text('side')} side of a door:"
                    f" {'depth' if what == 'depth' else 'width beside the latch'}"
                )
                ask = f"{ASK} about room before the door"
                code = f"{row.code}-{what}"
                yield needed(
                    code,
                    TOPIC,
                    subject,
                    need,
                    int(there),
                    "in",
                    row.basis,
                    ask=ask,
                    question=question,
                )


def _path_of_travel(building: Building) -> Iterator[StudyLine]:
    """What the path of travel costs against a fifth of the altering cost, in whole dollars: the
    duty ends there, not before.
    """
    row = single(building.figures, "share of the altering cost for the path of travel")
    cost, path = (
        building.inputs.get(code) for code in ("altered_area_cost", "path_of_travel_cost")
    )
    if row is None:
        return
    subject = (
        "path of travel"
        if cost is None
        else f"path of travel, {row.text('figure')} % of {cost // 100:,} dollars"
    )
    for code, value in (("altered_area_cost", cost), ("path_of_travel_cost", path)):
        if value is None:
            limit = None if cost is None else path_of_travel_cents(row, cost) // 100
            yield to_ask(
                row.code, TOPIC, subject, None, "dollars", row.basis, enter(code), limit, code
            )
            return
    limit, there = path_of_travel_cents(row, cost) // 100, path // 100
    verdict = held_against(path, path_of_travel_cents(row, cost))
    words = f"{there:,} dollars, the limit of {limit:,}"
    text = {
        "over": (
            f"over: {ASK} what comes first ({words}): entrance, route, toilets, telephones,"
            " fountains, up to the limit"
        ),
        "close": (
            f"close: {ASK} about the path of travel ({words}); all of it is to be made accessible"
        ),
        "under": f"under the limit of {limit:,} dollars: all of it is to be made accessible",
    }[verdict]
    yield made(
        row.code,
        TOPIC,
        subject,
        there,
        limit,
        "dollars",
        row.basis,
        verdict,
        text,
        "path_of_travel_cost",
    )


def _between_stories(building: Building) -> Iterator[StudyLine]:
    """A way between stories, where there are several."""
    row = single(building.figures, "stories from which a private building needs a way between them")
    stories, area = building.stories, building.largest_story_sf
    if row is None or stories is None or stories < 2:
        return
    public = bool(building.inputs.get("shopping_or_medical"))
    subject = f"way between {stories} stories"
    if area is None:
        text = enter("largest_story_sf")
        yield to_ask(
            row.code, TOPIC, subject, None, "stories", row.basis, text, question="largest_story_sf"
        )
    elif way_between_stories(building.figures, stories, area, public):
        text = f"over: {ASK} about an elevator or lift (the standard wants a way between them)"
        yield made(
            row.code,
            TOPIC,
            subject,
            stories,
            row.whole("figure"),
            "stories",
            row.basis,
            "over",
            text,
        )
    else:
        text = "under what asks for a way between them; the building code may still ask for it"
        yield made(
            row.code,
            TOPIC,
            subject,
            stories,
            row.whole("figure"),
            "stories",
            row.basis,
            "under",
            text,
        )


def _employees(building: Building) -> Iterator[StudyLine]:
    """An area for employees alone: from a size on its common paths count."""
    row = single(
        building.figures, "square feet of an employee area from which its common paths count"
    )
    area = building.inputs.get("employee_area_sf")
    if row is not None and area is not None:
        yield against(
            row.code,
            TOPIC,
            "area for employees alone: its common paths",
            area,
            row.whole("figure"),
            "sq ft",
            row.basis,
            ask=f"{ASK} about common paths",
            from_it_on=True,
        )
