"""The code study against published figures and worked cases: code_study.json names source and way
of knowing beside each.

Left out, because nothing is computed there: what a stop-work order must say, where an alarm must
reach, how units are spread over sizes, the accessible route in words; and the parking tables of
single towns, which are the town's own.
"""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Mapping, Sequence
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from tracker.answers.study import building_from, from_rows
from tracker.approvals.records import Answer
from tracker.approvals.study import access as study_access
from tracker.approvals.study import area as study_area
from tracker.approvals.study import exits as study_exits
from tracker.approvals.study import fixtures as study_fixtures
from tracker.approvals.study import hazard as study_hazard
from tracker.approvals.study.building import Building
from tracker.approvals.study.lines import StudyLine
from tracker.values.project import Space

KNOWN = json.loads(Path(__file__).with_name("code_study.json").read_text(encoding="utf-8"))
TODAY = dt.date(2026, 12, 1)


def cases(name: str) -> Any:
    """One test for each case of a list, called by its source's number."""
    return pytest.mark.parametrize("row", KNOWN[name], ids=[row["id"] for row in KNOWN[name]])


def rows_of(answers: Mapping[str, str], spaces: Sequence[tuple[str, int]] = ()) -> dict[str, Any]:
    """A project with these answers, and spaces by function and square feet."""
    made = [
        Space(code=f"s{n}", function=function, gross_sf=area)
        for n, (function, area) in enumerate(spaces)
    ]
    return {"answers": [Answer(question=q, answer=a) for q, a in answers.items()], "spaces": made}


def building(
    answers: Mapping[str, str] | None = None, spaces: Sequence[tuple[str, int]] = ()
) -> Building:
    return building_from(rows_of(answers or {}, spaces), TODAY)


def line(
    code: str, answers: Mapping[str, str], spaces: Sequence[tuple[str, int]] = ()
) -> StudyLine:
    """The line of a code."""
    return next(one for one in from_rows(rows_of(answers, spaces), TODAY).lines if one.code == code)


FIRE = ("fire areas and sprinklers",)


@cases("sprinklers")
def test_a_fire_area_is_over_exactly_the_thresholds_that_it_exceeds(row: dict[str, Any]) -> None:
    answered = from_rows(rows_of({"proposed_group": row["group"], **row["answers"]}), TODAY)
    found = [one.code for one in answered.lines if one.topic in FIRE and one.verdict == "over"]
    assert found == row["over"]
    assert sum(area.sq_ft for area in answered.fire_areas) == row.get(
        "total", sum(area.sq_ft for area in answered.fire_areas)
    )


@cases("barriers")
def test_a_wall_between_fire_areas_has_the_hours_of_its_group(row: dict[str, Any]) -> None:
    found = line(
        f"barrier-{row['group']}", {"proposed_group": row["group"], "fire_areas_sf": "9000 9000"}
    )
    assert found.figure == row["hours"]


@cases("separation")
def test_two_groups_are_separated_by_the_hours_of_the_table(row: dict[str, Any]) -> None:
    answered = from_rows(
        rows_of({"proposed_group": row["groups"], "sprinklered": row["sprinklered"]}), TODAY
    )
    (found,) = [one for one in answered.lines if one.code.startswith("sep-")]
    assert found.figure == row["hours"]


@pytest.mark.parametrize("known", ["read", "from_memory"])
def test_the_table_of_areas_is_the_published_one_and_says_what_was_not_read(known: str) -> None:
    figures = building().figures
    for group, types in KNOWN["allowable_area"][known].items():
        for kind, limits in types.items():
            row = figures.find("allowable_area", group=group, type=kind)
            assert row is not None
            assert [
                row.whole(c) for c in ("plain", "sprinklered_one", "sprinklered_more")
            ] == limits
            assert row.basis.how_we_know == known.replace("_", " ")


def test_sprinklers_multiply_the_area_by_four_on_one_story_and_by_three_on_more() -> None:
    """International Building Code, section 506.2, as its table was checked by who
    transcribed it.
    """
    for row in building().figures.rows("allowable_area"):
        plain = row.whole("plain")
        if plain is not None:
            assert (row.whole("sprinklered_one"), row.whole("sprinklered_more")) == (
                4 * plain,
                3 * plain,
            )


@cases("areas")
def test_a_story_is_held_against_the_area_of_its_group_and_type(row: dict[str, Any]) -> None:
    found = line(
        f"area-{row['answers']['proposed_group']}-{row['answers']['construction_type']}",
        row["answers"],
    )
    assert (found.figure, found.verdict) == (row["limit"], row["verdict"])


def test_open_frontage_counts_by_the_formula_of_2018_and_not_by_a_later_edition() -> None:
    """New York City Building Code 506.3.3: (200 / 400 - 0.25) x 30 / 30; that the code of 2018
    prints the same: from memory.
    """
    (row,) = building().figures.rows("frontage")
    assert study_area.frontage_increase(400, 200, 30, row) == Fraction(1, 4)
    assert study_area.frontage_increase(400, 100, 30, row) == 0
    answers = {"perimeter_ft": "400", "open_perimeter_ft": "200", "open_width_ft": "30"}
    assert study_area.frontage(building({**answers, "code_edition": "2021"})) == 0


@cases("frontage")
def test_open_frontage_increases_the_area_as_published_examples_do(row: dict[str, Any]) -> None:
    (figure,) = building().figures.rows("frontage")
    increase = study_area.frontage_increase(
        row["perimeter"], row["open"], Fraction(row["width"]), figure
    )
    assert round(float(increase), row["digits"]) == row["increase"]


@cases("heights")
def test_feet_and_stories_go_by_group_and_type(row: dict[str, Any]) -> None:
    for kind, (feet, feet_sprinklered, stories, stories_sprinklered) in row["limits"].items():
        wanted = {"no": (feet, stories), "yes": (feet_sprinklered, stories_sprinklered)}
        for sprinklered, limits in wanted.items():
            answers = {
                "proposed_group": row["group"],
                "construction_type": kind,
                "sprinklered": sprinklered,
                "stories": "1",
            }
            answers |= {"height_ft": "20"}
            found = [
                line(f"height-{row['group']}-{kind}-{what}", answers)
                for what in ("feet", "stories")
            ]
            assert tuple(one.figure for one in found) == limits, kind
            assert found[1].verdict != "ask" or "not on record" in found[1].text


def test_the_table_of_loads_is_the_published_one() -> None:
    figures = building({"code_edition": "2018"}).figures
    for function, (each, basis) in KNOWN["load_table"]["functions"].items():
        row = figures.find("occupant_load", function=function)
        assert row is not None, function
        assert (row.whole("sq_ft_each"), row.text("basis")) == (each, basis)


def test_an_older_edition_has_its_own_loads() -> None:
    known = KNOWN["older_load"]
    figures = building({"code_edition": known["edition"]}).figures
    found = {
        function: figures.find("occupant_load", function=function)
        for function in ("business", "mercantile")
    }
    assert {f: row.whole("sq_ft_each") if row else None for f, row in found.items()} == {
        "business": known["business"],
        "mercantile": known["mercantile"],
    }


@cases("loads")
def test_people_are_counted_by_what_each_space_is_for(row: dict[str, Any]) -> None:
    assert (
        building({}, [(function, area) for function, area in row["parts"]]).occupants
        == row["people"]
    )


def test_one_way_out_serves_so_many_people_and_so_long_a_way() -> None:
    for group, most in KNOWN["one_exit"]["most"].items():
        found = study_exits.strictest(
            building({"proposed_group": group}), "one_exit", "most_people"
        )
        assert found is not None
        row = found.row
        assert row.whole("most_people") == most, group
        if group in KNOWN["one_exit"]["path"]:
            few, many, sprinklered = KNOWN["one_exit"]["path"][group]
            assert row.whole(study_exits.common_path_column(30, False)) == few
            assert row.whole(study_exits.common_path_column(31, False)) == many
            assert row.whole(study_exits.common_path_column(31, True)) == sprinklered


@cases("space_exits")
def test_a_space_over_the_people_or_the_way_for_one_exit_says_so(row: dict[str, Any]) -> None:
    answers = {
        "proposed_group": row["group"],
        "sprinklered": "no",
        "common_path_ft": str(row.get("path", 1)),
    }
    code = row.get("line", f"one-{row['group'][0]}-s0")
    found = line(code, answers, [tuple(row["space"])])
    assert found.verdict == row["verdict"]
    assert found.figure == row.get("limit", found.figure)


def test_a_story_needs_more_exits_above_500_and_above_1000_people() -> None:
    known = KNOWN["story_exits"]
    for people, exits in zip(known["people"], known["exits"], strict=True):
        assert study_exits.story_exits(building({"proposed_group": "M"}), people).figure == exits


@cases("story_one_exit")
def test_a_building_of_one_story_may_do_with_one_exit_for_few_people_and_a_short_way(
    row: dict[str, Any],
) -> None:
    made = building(
        {"proposed_group": row["group"], "stories": "1", "common_path_ft": str(row["path"])}
    )
    assert study_exits.story_exits(made, row["people"]).figure == row["exits"]


def test_the_way_to_an_exit_is_limited_by_group_and_sprinklers() -> None:
    for group, limits in KNOWN["travel"]["limits"].items():
        row = building().figures.of_group("travel", group)
        assert row is not None, group
        assert [row.whole("plain"), row.whole("sprinklered")] == limits, group


@cases("ways")
def test_a_way_is_held_against_its_limit(row: dict[str, Any]) -> None:
    answers = {
        "proposed_group": row["group"],
        "sprinklered": row["sprinklered"],
        "travel_distance_ft": str(row["feet"]),
    }
    answered = from_rows(rows_of(answers), TODAY)
    (found,) = [one for one in answered.lines if one.code.startswith("travel")]
    assert (found.figure, found.verdict) == (row["limit"], row["verdict"])


@cases("widths")
def test_width_goes_by_people(row: dict[str, Any]) -> None:
    figure = building().figures.find("widths", what=row["what"])
    assert figure is not None
    assert study_exits.inches(row["people"], figure) == row["inches"]


def test_no_door_is_narrower_than_the_least() -> None:
    figure = building().figures.find("widths", what="clear width of a door")
    assert figure is not None
    assert figure.whole("figure") == KNOWN["least_door"]["inches"]


@cases("corridors")
def test_a_corridor_is_as_wide_as_its_people_and_the_widest_group_ask(row: dict[str, Any]) -> None:
    answers = {
        "proposed_group": row.get("group", "F-1"),
        "shopping_or_medical": row.get("care", "no"),
    }
    figures = study_exits.corridors(building(answers), row["people"])
    assert [figure and figure.whole("figure") for figure in figures] == row["inches"]


def test_the_table_of_corridors_is_carried_over_whole() -> None:
    for what, inches in KNOWN["corridor_rows"]["inches"].items():
        row = building().figures.find("widths", what=what)
        assert row is not None and row.whole("figure") == inches


@cases("corridor_walls")
def test_corridor_walls_for_storage_are_rated_above_thirty_people_without_sprinklers(
    row: dict[str, Any],
) -> None:
    figure = building().figures.of_group("corridor_rating", "S-1")
    assert figure is not None
    assert study_exits.corridor_hours(figure, row["people"], row["sprinklered"]) == row["hours"]


def test_corridor_walls_dead_ends_and_stairs_are_those_of_the_tables() -> None:
    figures = building().figures
    for group, (over, plain, sprinklered) in KNOWN["corridor_table"]["hours"].items():
        row = figures.of_group("corridor_rating", group)
        assert row is not None, group
        hours = [study_exits.corridor_hours(row, over + 1, way) for way in (False, True)]
        assert hours == [plain, sprinklered], group
        assert study_exits.corridor_hours(row, over, False) == 0
    for group, feet in KNOWN["dead_ends"]["feet"].items():
        row = figures.of_group("dead_ends", group)
        assert row is not None, group
        assert [row.whole("feet_plain"), row.whole("feet_sprinklered")] == feet, group
    for people, inches in KNOWN["least_stairs"]["inches"].items():
        row = study_exits.least_stair(building(), int(people))
        assert row is not None
        assert row.whole("figure") == inches


@cases("hazard")
def test_a_change_is_compared_on_three_scales_apart(row: dict[str, Any]) -> None:
    figures = building().figures
    for scale in study_hazard.SCALES:
        assert study_hazard.compare(figures, scale, row["from"], row["to"]) == row[scale], scale


def test_the_three_scales_hold_the_groups_of_the_table() -> None:
    figures = building().figures
    for scale, levels in KNOWN["hazard_levels"]["scales"].items():
        for level, groups in levels.items():
            for group in groups.split(", "):
                row = study_hazard.level(figures, scale, group)
                assert row is not None, (scale, group)
                assert row.text("level") == level, (scale, group)


@cases("fixtures")
def test_fixtures_are_for_half_men_and_half_women_fractions_up(row: dict[str, Any]) -> None:
    found = [
        one for one in building().figures.rows("fixtures") if row["group"] in one.words("groups")
    ]
    needs = {
        f"{one.text('fixture')}/{one.text('for')}": study_fixtures.fixtures(one, row["people"])
        for one in found
    }
    assert needs == row["needs"]


@cases("uses")
def test_a_use_that_the_code_names_in_one_group_is_not_taken_for_another(
    row: dict[str, Any],
) -> None:
    found = line("use-self-storage", {"proposed_use": row["use"], "proposed_group": row["group"]})
    assert found.verdict == row["verdict"]


@cases("parking")
def test_accessible_parking_and_vans_among_it(row: dict[str, Any]) -> None:
    found = {
        code: line(code, {"parking_spaces": str(row["spaces"])}).figure
        for code in ("parking", "parking-van")
    }
    assert found == {"parking": row["accessible"], "parking-van": row["vans"]}


@cases("units")
def test_accessible_storage_units(row: dict[str, Any]) -> None:
    assert line("units", {"storage_units": str(row["units"])}).figure == row["accessible"]


@cases("between_stories")
def test_an_accessible_way_between_stories(row: dict[str, Any]) -> None:
    figures = building().figures
    asked = study_access.way_between_stories(
        figures, row["stories"], row["story_sf"], row["shopping_or_medical"]
    )
    assert asked is row["way"]


@cases("shares")
def test_a_share_of_entrances_and_toilet_rooms_fractions_up(row: dict[str, Any]) -> None:
    figure = study_access.single(building().figures, row["what"])
    assert figure is not None
    assert study_access.share(figure, row["count"]) == row["accessible"]


@cases("lines")
def test_doors_urinals_employee_areas_and_the_fifth_for_the_path_of_travel(
    row: dict[str, Any],
) -> None:
    found = line(row["line"], row["answers"])
    assert found.verdict == row["verdict"]
    assert found.value == row.get("value", found.value)
    assert found.figure == row.get("figure", found.figure)


def test_every_figure_names_its_section_edition_source_and_day() -> None:
    for table, rows in building().figures.tables.items():
        assert rows, table
        codes = [row.code for row in rows]
        assert len(set(codes)) == len(codes), table
        for row in rows:
            basis = row.basis
            assert basis.section.startswith(("IBC ", "IFC ", "IEBC ", "ADA ")), row.code
            assert all(edition.isdigit() for edition in row.editions) and row.editions, row.code
            assert basis.how_we_know.startswith(("read", "from memory")), row.code
            assert basis.source and basis.checked_on, row.code
            assert len(f"local.{row.code}") <= 40, row.code
