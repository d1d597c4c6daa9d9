"""Layouts of fire walls held side by side: their fire areas against the thresholds for sprinklers,
and what each costs.

Cost: feet of wall x its price, and where there are sprinklers square feet of the whole building x
their price. A barrier divides fire areas; it makes no separate buildings. The architect draws the
fire areas, the fire marshal decides.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from tracker.approvals.records import FireLayout
from tracker.approvals.study.building import Building
from tracker.approvals.study.figures import FigureRow, names
from tracker.approvals.study.inputs import areas as read_areas
from tracker.approvals.study.lines import MARKS, held_against

AREA_MEASURES = ("fire_area", "all_fire_areas")


@dataclass(frozen=True, slots=True)
class LayoutThreshold:
    """One threshold of a planned group for a layout. verdict: under, close or over."""

    code: str
    subject: str
    value: int
    figure: int
    verdict: str
    section: str
    edition: str
    doubt: str


@dataclass(frozen=True, slots=True)
class LayoutLine:
    """One layout. Costs are None where a length, a price or the areas are missing.

    verdict: the worst of its thresholds; "ask" where there is none, or part of the building is in
    none of its areas. more_than_least_cents: above the cheapest layout that is not over a threshold
    without sprinklers; None for one that is, or without a cost.
    """

    code: str
    name: str
    areas_sf: tuple[int, ...]
    total_sf: int
    sprinklers: bool
    wall_ft: int | None
    wall_cents: int | None
    sprinkler_cents: int | None
    cost_cents: int | None
    more_than_least_cents: int | None
    verdict: str
    text: str
    thresholds: tuple[LayoutThreshold, ...]
    mark: str
    note: str


def areas_of(layout: FireLayout, building: Building) -> tuple[int, ...]:
    """The fire areas of a layout; blank: as the building has them.

    An unreadable cell has none (faults tell it).
    """
    if not layout.areas_sf.strip():
        return tuple(area.sq_ft for area in building.fire_areas)
    try:
        return read_areas(layout.areas_sf)
    except ValueError:
        return ()


def compare(layouts: Sequence[FireLayout], building: Building) -> tuple[LayoutLine, ...]:
    """Every layout, in row order."""
    found = [_line(layout, areas_of(layout, building), building) for layout in layouts]
    usable = [one.cost_cents for one in found if one.cost_cents is not None and _may_be_chosen(one)]
    least = min(usable, default=None)
    return tuple(_beside(one, least) for one in found)


def _may_be_chosen(line: LayoutLine) -> bool:
    """Whether a layout isn't over a threshold that it has no sprinklers for, as far as is known."""
    return line.sprinklers or line.verdict in ("under", "close")


def cost_of_wall(layout: FireLayout) -> int | None:
    """Feet x price, in cents; nothing for a layout without a wall."""
    if layout.wall_ft == 0:
        return 0
    return (
        None
        if layout.wall_ft is None or layout.wall_price is None
        else layout.wall_ft * layout.wall_price
    )


def cost_of_sprinklers(layout: FireLayout, total_sf: int) -> int | None:
    """Square feet x price, in cents; nothing for a layout without sprinklers."""
    if not layout.sprinklers:
        return 0
    return (
        None
        if layout.sprinkler_price is None or not total_sf
        else total_sf * layout.sprinkler_price
    )


def thresholds(areas: Sequence[int], building: Building) -> tuple[LayoutThreshold, ...]:
    """The area thresholds of the planned groups for these fire areas."""
    found = []
    for row in building.figures.rows("sprinklers"):
        group = next((g for g in building.proposed if names(row.words("groups"), g)), "")
        if areas and group and row.text("measure") in AREA_MEASURES:
            found.append(_threshold(row, group, areas))
    return tuple(found)


def _threshold(row: FigureRow, group: str, areas: Sequence[int]) -> LayoutThreshold:
    """One threshold."""
    value = max(areas) if row.text("measure") == "fire_area" else sum(areas)
    figure = row.whole("figure") or 0
    basis = row.basis
    verdict = held_against(value, figure)
    return LayoutThreshold(
        row.code,
        f"{group}: {row.text('subject')}",
        value,
        figure,
        verdict,
        basis.section,
        basis.edition,
        basis.doubt(),
    )


def _line(layout: FireLayout, areas: tuple[int, ...], building: Building) -> LayoutLine:
    """One layout by itself."""
    held = thresholds(areas, building)
    verdict = next(
        (v for v in ("over", "close", "under") if any(t.verdict == v for t in held)), "ask"
    )
    total = sum(areas)
    missing = _missing(layout, areas, building) if held and verdict != "over" else ""
    verdict = "ask" if missing else verdict
    wall, sprinklers = cost_of_wall(layout), cost_of_sprinklers(layout, total)
    cost = None if wall is None or sprinklers is None else wall + sprinklers
    served = bool(layout.sprinklers)
    return LayoutLine(
        code=layout.code,
        name=layout.name or layout.code,
        areas_sf=areas,
        total_sf=total,
        sprinklers=served,
        wall_ft=layout.wall_ft,
        wall_cents=wall,
        sprinkler_cents=sprinklers,
        cost_cents=cost,
        more_than_least_cents=None,
        verdict=verdict,
        text=missing or _text(held, verdict, served),
        thresholds=held,
        mark=_mark(verdict, served, any(t.doubt for t in held)),
        note=layout.note,
    )


def _missing(layout: FireLayout, areas: Sequence[int], building: Building) -> str:
    """What of the building a layout leaves out, in words; blank where it holds all, or nobody said
    how large that is.
    """
    if not layout.areas_sf.strip() and any(
        area.unmeasured or not area.assigned for area in building.fire_areas
    ):
        return (
            "ask: not every space is measured and in a fire area; enter its square feet and fire"
            " area"
        )
    total = building.total_sf
    if total is None or not building.left_out(sum(areas)):
        return ""
    return (
        f"ask: its areas add up to {sum(areas):,} of {total:,} sq ft; enter the rest of the"
        " building"
    )


def _mark(verdict: str, sprinklers: bool, doubtful: bool) -> str:
    """The mark of a layout: one with sprinklers may be over; a figure that is not sure must be
    asked about.
    """
    mark = " " if sprinklers and verdict == "over" else MARKS[verdict]
    return "?" if mark == " " and doubtful else mark


def _text(held: Sequence[LayoutThreshold], verdict: str, sprinklers: bool) -> str:
    """A layout in words."""
    if verdict == "ask":
        return (
            "ask: enter its areas and the planned group, if the table has thresholds for that group"
        )
    worst = next(t for t in held if t.verdict == verdict)
    words = f"{worst.value:,} sq ft, the threshold of {worst.figure:,}"
    if verdict == "under":
        return f"under the area thresholds on record ({words})"
    after = "; sprinklers are part of this layout" if sprinklers else ""
    return f"{verdict}: ask the fire marshal about sprinklers ({words}{after})"


def _beside(line: LayoutLine, least: int | None) -> LayoutLine:
    """A layout beside the cheapest."""
    if least is None or line.cost_cents is None or not _may_be_chosen(line):
        return line
    return replace(line, more_than_least_cents=line.cost_cents - least)
