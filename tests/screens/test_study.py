"""The code study on the screen: opened from Rezoning, each line opens the answer that it
hangs on.
"""

from __future__ import annotations

from tests.screens.conftest import Opened
from tracker.actions.rows import save
from tracker.project_file.store import ProjectFile
from tracker.screens.entry.form import RowForm
from tracker.screens.rezoning.study import StudyScreen, StudyView


async def test_c_opens_the_study_and_escape_goes_back(opened: Opened) -> None:
    async with opened(view="rezoning") as desk:
        await desk.press("c")
        assert isinstance(desk.app.screen, StudyScreen)
        assert "group not entered" in desk.text
        await desk.press("escape")
        assert not isinstance(desk.app.screen, StudyScreen)


async def test_a_line_opens_the_answer_that_it_hangs_on_and_follows_what_is_entered(
    opened: Opened, project: ProjectFile
) -> None:
    save(project, "answers", "proposed_group", {"answer": "F-1"})
    save(project, "answers", "fire_areas_sf", {"answer": "13000"})
    async with opened(view="rezoning", size=(120, 40)) as desk:
        await desk.press("c")
        view = desk.app.screen.query_one(StudyView)
        assert view.row is not None
        assert (view.row.table, view.row.key) == ("answers", "fire_areas_sf")
        assert "13,000" in desk.text and "12,000" in desk.text and "over" in desk.text
        await desk.press("enter")
        await desk.settle()
        form = desk.app.screen
        assert isinstance(form, RowForm)
        answer = form.field("answer")
        assert answer is not None
        answer.put("11000")
        await desk.settle()
        await desk.press("ctrl+s")
        await desk.settle()
        assert isinstance(desk.app.screen, StudyScreen)
        assert "close" in desk.text and "11,000" in desk.text


async def test_a_question_without_an_answer_opens_a_new_one_with_its_name(
    opened: Opened, project: ProjectFile
) -> None:
    async with opened(view="rezoning", size=(120, 40)) as desk:
        await desk.press("c")
        view = desk.app.screen.query_one(StudyView)
        assert view.show_key("construction_type", "answers")
        await desk.press("enter")
        await desk.settle()
        form = desk.app.screen
        assert isinstance(form, RowForm)
        question = form.field("question")
        assert question is not None and question.typed == "construction_type"


async def test_layouts_stand_side_by_side_with_their_cost(
    opened: Opened, project: ProjectFile
) -> None:
    save(project, "answers", "proposed_group", {"answer": "S-1"})
    save(
        project,
        "fire_layouts",
        "wall",
        {"areas_sf": "9000 9000", "wall_ft": "100", "wall_price": "400"},
    )
    async with opened(view="rezoning", size=(120, 40)) as desk:
        await desk.press("c")
        view = desk.app.screen.query_one(StudyView)
        assert view.show_key("wall", "fire_layouts")
        await desk.settle()
        assert "9,000 + 9,000" in desk.text
        assert "40,000" in desk.text


async def test_what_people_typed_is_shown_as_plain_text(
    opened: Opened, project: ProjectFile
) -> None:
    save(
        project, "answers", "proposed_group", {"answer": "[red]F-1[/red]", "source": "\x1b[31mred"}
    )
    async with opened(view="rezoning", size=(120, 40)) as desk:
        await desk.press("c")
        view = desk.app.screen.query_one(StudyView)
        view.names.go_to(len(view.parts) - 1)
        await desk.settle()
        assert "[red]F-1[/red]" in desk.text
        assert "\x1b" not in desk.text


async def test_l_brings_the_record_of_a_state_after_saying_what_it_replaces(
    opened: Opened, project: ProjectFile
) -> None:
    save(project, "answers", "protest_votes", {"answer": "1/2"})
    async with opened(view="rezoning", size=(120, 40)) as desk:
        await desk.press("l")
        await desk.settle()
        await desk.type("az-city")
        await desk.press("enter")
        await desk.settle()
        assert "Replaced: protest_votes." in desk.text
        await desk.press("escape")
        assert {a.question for a in project.tables()["answers"]} == {"protest_votes"}
        await desk.press("l")
        await desk.settle()
        await desk.type("az-city")
        await desk.press("enter")
        await desk.settle()
        await desk.press("y")
        await desk.settle()
        kept = {a.question: a for a in project.tables()["answers"]}
        assert (
            kept["state"].answer,
            kept["vote_rounding"].answer,
            kept["protest_votes"].answer,
        ) == ("AZ", "nearest", "3/4")
        await desk.press("u")
        await desk.settle()
        assert {a.question: a.answer for a in project.tables()["answers"]} == {
            "protest_votes": "1/2"
        }
