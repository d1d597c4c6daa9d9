"""The code study's words: under, close or over and what to ask, never more; whose figure it is, and how sure."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Mapping, Sequence
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.answers.study import StudyAnswer, from_rows
from tracker.approvals.faults import faults
from tracker.approvals.records import Answer, FireLayout
from tracker.approvals.study_lines import StudyLine, held_against
from tracker.project_folder import places
from tracker.project_folder.reading import read
from tracker.values.project import Space

TODAY = dt.date(2026, 12, 1)
PROMISES = re.compile(r"compli|conform|approved|allowed|permitted by|lawful|legal|\bok\b|safe|passes", re.IGNORECASE)


def study(answers: Mapping[str, str], layouts: Sequence[FireLayout] = (), **rows: Any) -> StudyAnswer:
    given_ = [Answer(question=q, answer=a, source="asked", checked_on=TODAY) for q, a in answers.items()]
    return from_rows({"answers": given_, "fire_layouts": layouts, **rows}, TODAY)


def line(code: str, answers: Mapping[str, str], **rows: Any) -> StudyLine:
    return next(one for one in study(answers, **rows).lines if one.code == code)


def sample() -> StudyAnswer:
    return from_rows(read(places.folder("sample_project")).rows, dt.date(2026, 7, 18))


@pytest.mark.parametrize("answers", [{}, {"proposed_group": "R-2 H-2 A-3", "existing_group": "U", "stories": "3"}])
def test_every_result_says_under_close_over_or_ask_and_never_more(answers: dict[str, str]) -> None:
    for one in (*study(answers).lines, *sample().lines, *sample().layouts):
        begins = {"under": "under ", "close": "close: ask ", "over": "over: ask ", "ask": "ask: "}[one.verdict]
        assert one.text.startswith(begins), one.text
        assert not PROMISES.search(one.text), one.text


@given(st.integers(0, 10**6), st.integers(1, 10**6))
@settings(max_examples=60, deadline=None)
def test_over_is_more_than_the_figure_and_close_the_last_tenth_below_it(value: int, figure: int) -> None:
    wanted = "over" if value > figure else "close" if value * 10 >= figure * 9 else "under"
    assert held_against(value, figure) == wanted


def test_a_figure_that_counts_from_itself_on_is_over_at_itself() -> None:
    assert held_against(300, 300, from_it_on=True) == "over"
    assert held_against(299, 300, from_it_on=True) == "close"


def test_a_figure_of_another_edition_is_told_and_asked_about() -> None:
    here = line("spr-F1-area", {"proposed_group": "F-1", "fire_areas_sf": "5000", "code_edition": "2018"})
    later = line("spr-F1-area", {"proposed_group": "F-1", "fire_areas_sf": "5000", "code_edition": "2021 with amendments"})
    assert (here.verdict, here.mark, here.doubt) == ("under", " ", "")
    assert (later.verdict, later.mark, later.other_edition) == ("under", "?", True)
    assert later.doubt == "figure of 2018, adopted is 2021: ask"


def test_without_the_adopted_edition_every_figure_of_a_code_is_asked_about_and_none_of_the_federal_standard() -> None:
    here = line("spr-F1-area", {"proposed_group": "F-1", "fire_areas_sf": "5000"})
    assert (here.mark, here.doubt) == ("?", "figure of 2018, adopted edition not entered: ask")
    parking = line("parking", {"parking_spaces": "20", "accessible_parking": "3"})
    assert (parking.verdict, parking.mark, parking.doubt) == ("under", " ", "")


def test_of_several_groups_today_the_lowest_hazard_is_compared() -> None:
    found = {one.code: one for one in study({"existing_group": "A-3 S-2", "proposed_group": "B"}).lines}
    assert found["hazard-exits-B"].verdict == "over"
    assert found["hazard-exits-B"].subject == "S-2 to B: exits"
    assert found["hazard-exposure-B"].verdict == "over"


def test_one_story_is_one() -> None:
    answers = {"proposed_group": "S-1", "construction_type": "V-B", "stories": "1", "gross_area_sf": "900"}
    assert "(1 story, the limit of 1)" in line("height-S-1-V-B-stories", answers).text


def test_a_figure_from_memory_is_asked_about_even_if_the_value_lies_under_it() -> None:
    answers = {"proposed_group": "F-1", "construction_type": "II-B", "stories": "1", "gross_area_sf": "1000"}
    found = line("area-F-1-II-B", {**answers, "code_edition": "2021"})
    assert (found.verdict, found.mark, found.doubt) == ("under", "?", "figure from memory: ask")


def test_a_local_figure_stands_against_the_tables_with_its_own_source_and_date() -> None:
    answers = {"proposed_group": "F-1", "fire_areas_sf": "5500", "code_edition": "2021", "local.spr-F1-area": "5,000"}
    found = line("spr-F1-area", answers)
    assert (found.figure, found.verdict, found.local, found.source) == (5000, "over", True, "asked")
    assert (found.checked_on, found.doubt) == (TODAY, "")


def test_a_local_figure_of_one_column_leaves_the_others() -> None:
    answers = {"proposed_group": "S-1", "construction_type": "II-B", "stories": "1", "gross_area_sf": "65000"}
    answers |= {"sprinklered": "yes", "local.area-S-1-II-B.sprinklered_one": "60000"}
    assert line("area-S-1-II-B", answers).figure == 60000
    assert line("area-S-1-II-B", {**answers, "sprinklered": "no"}).figure == 17500


def test_a_local_figure_that_replaces_nothing_says_why() -> None:
    answers = {"local.spr-F1-aera": "5000", "local.spr-F1-area": "many", "local.spr-F1-all": "20000"}
    found = {one.question: one.problem for one in study(answers).inputs if one.question.startswith("local.")}
    assert found == {
        "local.spr-F1-aera": "names no row of the figures",
        "local.spr-F1-area": "is not a number",
        "local.spr-F1-all": "",
    }


def test_a_figure_checked_over_a_year_ago_is_old() -> None:
    rows = {"answers": [Answer(question="proposed_group", answer="F-1"), Answer(question="fire_areas_sf", answer="5000")]}
    found = next(one for one in from_rows(rows, dt.date(2027, 11, 26)).lines if one.code == "spr-F1-area")
    assert (found.old, found.mark) == (True, "?")
    assert "checked long ago" in found.doubt


def test_an_answer_that_cannot_be_read_is_shown_and_counts_as_none() -> None:
    found = study({"stories": "one and a half", "proposed_group": "F-1"})
    (asked,) = [one for one in found.inputs if one.question == "stories"]
    assert (asked.answer, asked.problem) == ("one and a half", "is not a whole number")
    assert line("spr-F1-story", {"stories": "one and a half", "proposed_group": "F-1"}).verdict == "ask"


def test_what_is_missing_names_the_question_to_answer() -> None:
    assert "enter fire_areas_sf" in line("spr-F1-area", {"proposed_group": "F-1"}).text.replace("or fire", "enter fire")
    assert "path_of_travel_cost" in line("access-path", {"altered_area_cost": "300000"}).text


def test_a_space_without_a_known_function_keeps_the_load_unknown_and_is_named() -> None:
    spaces = [Space(code="a", gross_sf=1000, function="warehouse"), Space(code="b", name="The attic", gross_sf=500)]
    found = study({"proposed_group": "S-1"}, spaces=spaces)
    assert found.occupants is None
    assert "The attic" in next(one for one in found.lines if one.code == "load-unknown").text


def test_a_group_without_figures_is_asked_about() -> None:
    found = study({"proposed_group": "H-2", "construction_type": "V-B", "stories": "1", "gross_area_sf": "1000"})
    asked = [one.text for one in found.lines if one.verdict == "ask"]
    assert any("no threshold on record for H-2" in text for text in asked)
    assert any("about construction type" in text and "no figure on record" in text for text in asked)


def layout(code: str, areas: str, **more: Any) -> FireLayout:
    return FireLayout(code=code, areas_sf=areas, **more)


WALL = {"wall_ft": 100, "wall_price": 400_00}


def test_layouts_of_fire_walls_are_compared_by_cost_where_they_keep_the_thresholds() -> None:
    layouts = [
        layout("open", "20000", wall_ft=0),
        layout("sprinklers", "20000", wall_ft=0, sprinklers=True, sprinkler_price=5_00),
        layout("wall", "10000 10000", **WALL),
        layout("wrong wall", "13000 7000", **WALL),
    ]
    found = {one.code: one for one in study({"proposed_group": "S-1"}, layouts).layouts}
    assert {code: one.verdict for code, one in found.items()} == {
        "open": "over",
        "sprinklers": "over",
        "wall": "under",
        "wrong wall": "over",
    }
    assert found["sprinklers"].cost_cents == 20000 * 5_00
    assert found["wall"].cost_cents == 100 * 400_00
    assert found["wall"].more_than_least_cents == 0
    assert found["sprinklers"].more_than_least_cents == 60_000_00
    assert found["open"].more_than_least_cents is None
    assert found["open"].cost_cents == 0


def test_the_nearest_threshold_decides_between_under_and_close() -> None:
    (close,) = study({"proposed_group": "S-1"}, [layout("a", "11000 5000", **WALL)]).layouts
    assert close.verdict == "close"
    assert "11,000 sq ft, the threshold of 12,000" in close.text


def test_all_fire_areas_together_have_a_threshold_too() -> None:
    (over,) = study({"proposed_group": "S-1"}, [layout("a", "8001 8000 8000", **WALL)]).layouts
    assert over.verdict == "over"
    assert "24,001 sq ft, the threshold of 24,000" in over.text


def test_a_layout_without_a_price_has_no_cost_and_without_areas_takes_those_of_the_spaces() -> None:
    spaces = [Space(code=str(n), gross_sf=4000, fire_area="A" if n < 2 else "B") for n in range(5)]
    (found,) = study({"proposed_group": "S-1"}, [layout("a", "", wall_ft=10)], spaces=spaces).layouts
    assert (found.areas_sf, found.cost_cents) == ((8000, 12000), None)


def test_areas_that_cannot_be_read_are_a_fault() -> None:
    (found,) = faults({"fire_layouts": (layout("a", "9200 and 9200"),)})
    assert (found.table, found.key, found.column) == ("fire_layouts", "a", "areas_sf")


def test_the_sample_has_a_topic_that_is_over_one_that_is_close_and_four_layouts() -> None:
    found = sample()
    assert {"over", "close", "ask", "under"} == {one.verdict for one in found.lines}
    assert len(found.layouts) == 4
    assert found.occupants == sum(space.occupants or 0 for space in found.spaces)
    assert sum(t.over + t.close + t.ask + t.under for t in found.topics) == len(found.lines)


def test_an_odd_person_counts_for_either_half() -> None:
    """251 people in A-3: 126 men need two toilets at 125 each, 125 would need one."""
    two = line("fix-A-3-toilets-men", {"proposed_group": "A-3", "occupants": "251"})
    one = line("fix-A-3-toilets-men", {"proposed_group": "A-3", "occupants": "250"})
    assert (two.figure, one.figure) == (2, 1)
