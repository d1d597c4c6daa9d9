"""Cautions that protect life stand whatever people call their work; the words only place them
beside it.
"""

from __future__ import annotations

import pytest

from tracker.approvals.cautions import CAUTIONS, SITE, for_view, for_work, standing

LIFE = {one.id for one in CAUTIONS if one.life}

NAMES = {
    "Gut interior": "structure asbestos_lead dust",
    "Demo interior walls": "structure asbestos_lead dust",
    "Take down partition": "structure asbestos_lead",
    "Remove load-bearing wall": "structure asbestos_lead",
    "Rip out carpet and ceiling tiles": "asbestos_lead",
    "Knock opening for overhead doors": "structure asbestos_lead dust",
    "Cut openings for bay doors": "structure asbestos_lead dust",
    "Cut new door in block wall": "structure dust",
    "Break through to the annex": "structure dust",
    "Underpin wall": "structure excavation dig",
    "Shore up second floor": "structure",
    "Jack and level floor": "structure",
    "Sister the joists": "structure",
    "Replace windows": "falls asbestos_lead",
    "Scrape and paint windows": "falls asbestos_lead",
    "Tuckpointing": "falls dust",
    "Sandblast brick": "falls asbestos_lead dust",
    "Tear off old roofing": "structure falls asbestos_lead hot_work",
    "Set trusses": "structure falls",
    "Hang gutters": "falls",
    "Drill anchors": "dust",
    "Chase walls for conduit": "dust licensed_trades",
    "Core drill for pipes": "dust licensed_trades",
    "Chip out old mortar": "dust",
    "Auger post holes": "excavation dig",
    "Drive piles": "excavation dig",
    "Blast ledge for basement": "excavation dig",
    "Dig test pits": "excavation dig",
    "Break ground": "excavation dig",
    "Old fuel tank pulled": "excavation dig confined_space",
    "Set fence posts": "dig",
    "Sand and refinish wood floors": "asbestos_lead",
    "Deleading": "asbestos_lead",
    "Take out boiler and pipe insulation": "asbestos_lead licensed_trades",
    "Pull up linoleum": "asbestos_lead",
    "Set generator": "licensed_trades",
    "Connect water heater": "licensed_trades",
    "Change light fixtures": "licensed_trades",
    "Swap electrical panel": "licensed_trades",
    "Run gas line": "licensed_trades",
    "Elevator installed": "falls licensed_trades confined_space",
    "Clean crawl space": "confined_space",
    "Clean roof tank": "falls confined_space",
    "Weld handrails": "hot_work",
    "Cut old steel pipe": "hot_work",
    "Sweat copper joints": "hot_work",
    "Tie in fire alarm": "licensed_trades exits_kept",
    "Rework the exit stair": "exits_kept structure",
    "Paint hall beside the open tenants": "exits_kept",
}
"""What people call work, and the cautions that belong beside it: common practice, no source."""

HARMLESS = (
    "Planning board hearing",
    "City council second reading",
    "Pull building permit",
    "Licensed trades take out their own permits",
    "Post notice on site",
    "Sign contract",
    "Closing of the loan",
    "Demonstrate systems to owner",
    "Order overhead doors",
    "Final cleaning",
    "Certificate of occupancy",
)


@pytest.mark.parametrize(("name", "wanted"), NAMES.items())
def test_what_people_call_dangerous_work_has_its_cautions(name: str, wanted: str) -> None:
    assert set(wanted.split()) <= {one.id for one in for_work(name, "")}


@pytest.mark.parametrize("name", HARMLESS)
def test_work_on_paper_has_no_caution_for_life_beside_it(name: str) -> None:
    assert not {one.id for one in for_work(name, "")} & LIFE


@pytest.mark.parametrize(
    "name",
    ["Cut openings for bay doors", "Knock opening for overhead doors", "Change light fixtures"],
)
def test_openings_in_walls_and_light_fixtures_are_no_moving_in(name: str) -> None:
    assert "occupancy" not in {one.id for one in for_work(name, "")}


@pytest.mark.parametrize(
    "name", ["Opening", "Opening day", "Move in", "Stock the shop", "Store fixtures"]
)
def test_opening_and_moving_in_wait_for_the_certificate(name: str) -> None:
    assert "occupancy" in {one.id for one in for_work(name, "")}


@pytest.mark.parametrize("view", ["path", "permits", SITE])
@pytest.mark.parametrize("works", [[], [("Xyzzy", "")], [("Planning board hearing", "planning")]])
def test_what_protects_life_stands_whatever_the_work_is_called(
    view: str, works: list[tuple[str, str]]
) -> None:
    found = {one.id: one.text for one in standing(view, works)}
    assert set(found) >= LIFE
    assert not any("Here:" in found[id_] for id_ in LIFE)


def test_the_dangers_of_a_conversion_are_all_among_them() -> None:
    wanted = {
        "structure",
        "falls",
        "excavation",
        "dig",
        "asbestos_lead",
        "licensed_trades",
        "hot_work",
        "dust",
        "confined_space",
    }
    assert wanted | {"exits_kept"} == LIFE


def test_a_caution_names_the_work_that_it_is_about_and_no_more_than_a_few() -> None:
    works = [
        ("Tear off old roofing", ""),
        ("Set trusses", ""),
        ("Final cleaning", ""),
        ("Hang gutters", ""),
        ("Tuckpointing", ""),
    ]
    falls = next(one.text for one in standing("path", works) if one.id == "falls")
    assert falls.endswith("(Here: Tear off old roofing; Set trusses; Hang gutters and 1 more.)")
    assert (
        next(
            one.text for one in standing("path", [("x" * 500, "roofing")]) if one.id == "falls"
        ).count("x")
        < 70
    )


def test_nothing_about_the_owners_own_position_goes_to_the_site() -> None:
    here = {one.id for one in for_view(SITE)}
    assert not here & {
        "hearing",
        "hearing_orders",
        "owner_contractor",
        "waiver",
        "lien",
        "dispute",
        "verbal_change",
    }
    assert not any("purchase" in one.text or "lien" in one.text.lower() for one in for_view(SITE))


def test_what_is_shut_off_in_a_used_building_is_for_the_fire_marshal_to_say() -> None:
    said = next(one.text for one in CAUTIONS if one.id == "exits_kept")
    assert "fire marshal" in said and "code official" in said
