"""The building as the code study sees it: groups, fire areas, and the people in each space by its
function.

International Building Code 2018, section 1004.5: the occupant load goes by the function of a space,
not by its group.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tracker.approvals.study.figures import FigureRow, Figures
from tracker.approvals.study.inputs import Inputs
from tracker.values.project import Space


@dataclass(frozen=True, slots=True)
class SpaceLoad:
    """People in one space. occupants: area / square feet each, rounded up; None where function or
    area are not known.

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


NOT_ASSIGNED = "not assigned"
"""The fire area of the spaces that name none where others do."""


@dataclass(frozen=True, slots=True)
class FireArea:
    """One fire area. sq_ft: of its measured spaces. occupants: None unless the load of each of its
    spaces is known.

    unmeasured: the names of its spaces without square feet, so that it is larger than sq_ft says.
    assigned: whether somebody said what belongs to it; the spaces that nobody assigned may belong
    to any other.
    """

    code: str
    sq_ft: int
    occupants: int | None
    unmeasured: tuple[str, ...] = ()
    assigned: bool = True


@dataclass(frozen=True, slots=True)
class Building:
    """What the topics of the study look at. sprinklered: as planned; None where nobody said.

    occupants: as somebody counted them, or by the functions of the spaces. too_few: a count below
    the functions of the measured spaces; it does not hold. International Building Code, section
    1004.5 (from memory): fewer than computed only where the building official approves it.
    """

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
    too_few: int | None = None

    @property
    def sprinkler_words(self) -> str:
        """With or without sprinklers, for a subject."""
        return "with sprinklers" if self.sprinklered else "without sprinklers"

    @property
    def total_sf(self) -> int | None:
        """The gross area or the sum of the spaces, whichever is more; None while neither is known
        in full.
        """
        return total_sf_of(self.inputs, self.loads)

    @property
    def least_story_sf(self) -> int | None:
        """Square feet that the largest story has at the least: what is known of the building, over
        its stories; rounded up.

        None where the stories are not known.
        """
        if self.stories is None:
            return None
        return -(
            -max(self.inputs.get("gross_area_sf") or 0, measured_sf(self.loads))
            // max(self.stories, 1)
        )

    @property
    def largest_story_sf(self) -> int | None:
        """The largest story as entered, or the least that it can be, whichever is more; None where
        nobody entered it.
        """
        entered: int | None = self.inputs.get("largest_story_sf")
        return None if entered is None else max(entered, self.least_story_sf or 0)

    def left_out(self, together: int) -> int | None:
        """Square feet of the building that areas of so many square feet together leave out; None
        where nobody can tell.

        Up to a tenth of the building is taken for walls: common practice, no source.
        """
        unmeasured, total = any(area.unmeasured for area in self.fire_areas), self.total_sf
        if total is None:
            return None if unmeasured else 0
        rest = max(0, total - together)
        return rest if unmeasured or rest * 10 > total else 0


def building_of(inputs: Inputs, figures: Figures, spaces: Sequence[Space]) -> Building:
    """The building from its answers and spaces."""
    loads = tuple(space_load(space, figures) for space in spaces)
    sprinklered = inputs.get("sprinklers_planned")
    counted = inputs.get("occupants")
    too_few = counted if counted is not None and counted < least_people(loads) else None
    if too_few is not None:
        counted = None
    return Building(
        inputs=inputs,
        figures=figures,
        existing=inputs.get("existing_group") or (),
        proposed=inputs.get("proposed_group") or (),
        sprinklered=inputs.get("sprinklered") if sprinklered is None else sprinklered,
        stories=inputs.get("stories"),
        loads=loads,
        fire_areas=fire_areas_of(inputs, loads),
        occupants=(
            counted
            if counted is not None
            else None
            if falls_short(inputs, loads)
            else total_of(loads)
        ),
        counted=counted is not None,
        too_few=too_few,
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
    """Area / square feet each, a part of a person counted as one; None where either is not
    known.
    """
    return None if sq_ft is None or not sq_ft_each else -(-sq_ft // sq_ft_each)


def total_of(loads: Sequence[SpaceLoad]) -> int | None:
    """The people of all spaces; None where there is no space, or one whose people are not known."""
    known = [load.occupants for load in loads if load.occupants is not None]
    return sum(known) if loads and len(known) == len(loads) else None


def least_people(loads: Sequence[SpaceLoad]) -> int:
    """The people of the spaces whose people are known."""
    return sum(load.occupants or 0 for load in loads)


def measured_sf(loads: Sequence[SpaceLoad]) -> int:
    """Square feet of the spaces that are measured."""
    return sum(load.sq_ft or 0 for load in loads)


def total_sf_of(inputs: Inputs, loads: Sequence[SpaceLoad]) -> int | None:
    """The gross area or the sum of the spaces, whichever is more; None while neither is known in
    full.
    """
    gross: int | None = inputs.get("gross_area_sf")
    if gross is None and (not loads or any(load.sq_ft is None for load in loads)):
        return None
    return max(gross or 0, measured_sf(loads))


def falls_short(inputs: Inputs, loads: Sequence[SpaceLoad]) -> bool:
    """Whether the measured spaces are less than nine tenths of the gross area, so that rooms, and
    people, are missing.
    """
    gross: int | None = inputs.get("gross_area_sf")
    return gross is not None and bool(loads) and measured_sf(loads) * 10 < gross * 9


def fire_areas_of(inputs: Inputs, loads: Sequence[SpaceLoad]) -> tuple[FireArea, ...]:
    """The fire areas that the spaces name, and one more of the spaces that name none.

    Names that differ in case or blanks are one. Where no space names one: those of the answer; else
    the whole building as one.
    """
    named: dict[str, list[SpaceLoad]] = {}
    for load in loads:
        if load.fire_area:
            named.setdefault(plain_name(load.fire_area), []).append(load)
    if named:
        rest = [load for load in loads if not load.fire_area]
        found = [_fire_area(parts[0].fire_area, parts) for parts in named.values()]
        return (*found, *([_fire_area(NOT_ASSIGNED, rest, assigned=False)] if rest else []))
    entered = inputs.get("fire_areas_sf") or ()
    if entered:
        return tuple(FireArea(f"area {n}", area, None) for n, area in enumerate(entered, 1))
    whole = _fire_area("the whole building", loads)
    gross = total_sf_of(inputs, loads)
    if gross is not None:
        return (FireArea(whole.code, gross, whole.occupants),) if gross else ()
    return (whole,) if whole.sq_ft else ()


def plain_name(name: str) -> str:
    """A name without what nobody means by it: case and blanks."""
    return "".join(name.split()).casefold()


def spellings(loads: Sequence[SpaceLoad]) -> tuple[tuple[str, ...], ...]:
    """The fire areas whose name is written in several ways, each with the ways in row order."""
    ways: dict[str, dict[str, None]] = {}
    for load in loads:
        ways.setdefault(plain_name(load.fire_area), {})[load.fire_area] = None
    return tuple(tuple(one) for one in ways.values() if len(one) > 1)


def _fire_area(code: str, loads: Sequence[SpaceLoad], assigned: bool = True) -> FireArea:
    """A fire area of these spaces."""
    unmeasured = tuple(load.name for load in loads if load.sq_ft is None)
    return FireArea(code, measured_sf(loads), total_of(loads), unmeasured, assigned)
