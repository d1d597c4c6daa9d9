"""The building as the code study sees it: groups, fire areas, and the people in each space by its function.

International Building Code 2018, section 1004.5: the occupant load goes by the function of a space, not by its group.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tracker.approvals.study_figures import FigureRow, Figures
from tracker.approvals.study_inputs import Inputs
from tracker.values.project import Space


@dataclass(frozen=True, slots=True)
class SpaceLoad:
    """People in one space. occupants: area / square feet each, rounded up; None where function or area are not known.

    net: the factor counts net area, and the gross area was taken, which gives more people.
    """

    code: str
    name: str
    function: str
    fire_area: str
    sq_ft: int | None
    sq_ft_each: int | None
    net: bool
    occupants: int | None
    row: FigureRow | None


@dataclass(frozen=True, slots=True)
class FireArea:
    """One fire area. occupants: None unless the load of each of its spaces is known."""

    code: str
    sq_ft: int
    occupants: int | None


@dataclass(frozen=True, slots=True)
class Building:
    """What the topics of the study look at. sprinklered: as planned; None where nobody said."""

    inputs: Inputs
    figures: Figures
    existing: tuple[str, ...]
    proposed: tuple[str, ...]
    sprinklered: bool | None
    stories: int | None
    loads: tuple[SpaceLoad, ...]
    fire_areas: tuple[FireArea, ...]
    occupants: int | None
    counted: bool

    @property
    def sprinkler_words(self) -> str:
        """With or without sprinklers, for a subject."""
        return "with sprinklers" if self.sprinklered else "without sprinklers"


def building_of(inputs: Inputs, figures: Figures, spaces: Sequence[Space]) -> Building:
    """The building from its answers and spaces."""
    loads = tuple(space_load(space, figures) for space in spaces)
    sprinklered = inputs.get("sprinklers_planned")
    counted = inputs.get("occupants")
    return Building(
        inputs=inputs,
        figures=figures,
        existing=inputs.get("existing_group") or (),
        proposed=inputs.get("proposed_group") or (),
        sprinklered=inputs.get("sprinklered") if sprinklered is None else sprinklered,
        stories=inputs.get("stories"),
        loads=loads,
        fire_areas=fire_areas_of(inputs, spaces, loads),
        occupants=counted if counted is not None else total_of(loads),
        counted=counted is not None,
    )


def space_load(space: Space, figures: Figures) -> SpaceLoad:
    """The people in one space by its function."""
    function = space.function.strip().lower()
    row = figures.find("occupant_load", function=function)
    each = row.whole("sq_ft_each") if row else None
    return SpaceLoad(
        code=space.code,
        name=space.name or space.code,
        function=function,
        fire_area=space.fire_area,
        sq_ft=space.gross_sf,
        sq_ft_each=each,
        net=row is not None and row.text("basis") == "net",
        occupants=people(space.gross_sf, each),
        row=row,
    )


def people(sq_ft: int | None, sq_ft_each: int | None) -> int | None:
    """Area / square feet each, a part of a person counted as one; None where either is not known."""
    return None if sq_ft is None or not sq_ft_each else -(-sq_ft // sq_ft_each)


def total_of(loads: Sequence[SpaceLoad]) -> int | None:
    """The people of all spaces; None where there is no space, or one whose people are not known."""
    known = [load.occupants for load in loads if load.occupants is not None]
    return sum(known) if loads and len(known) == len(loads) else None


def fire_areas_of(inputs: Inputs, spaces: Sequence[Space], loads: Sequence[SpaceLoad]) -> tuple[FireArea, ...]:
    """The fire areas that the spaces name; where none does, those of the answer; else the whole building as one."""
    named: dict[str, list[int]] = {}
    people_of: dict[str, list[SpaceLoad]] = {}
    for space, load in zip(spaces, loads, strict=True):
        if space.fire_area:
            named.setdefault(space.fire_area, []).append(space.gross_sf or 0)
            people_of.setdefault(space.fire_area, []).append(load)
    if named:
        return tuple(FireArea(code, sum(parts), total_of(people_of[code])) for code, parts in named.items())
    entered = inputs.get("fire_areas_sf") or ()
    if entered:
        return tuple(FireArea(f"area {n}", area, None) for n, area in enumerate(entered, 1))
    gross = inputs.get("gross_area_sf") or sum(space.gross_sf or 0 for space in spaces)
    return (FireArea("the whole building", gross, total_of(loads)),) if gross else ()
