"""A state's record over a town's own days: the longer stand, and a plan that is too soon for them
is told.
"""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from tracker.actions.checking import check_file
from tracker.actions.folders import import_folder, new_project
from tracker.actions.opening import open_project
from tracker.actions.rows import save
from tracker.answers.path import answer as path_of
from tracker.answers.rezoning import answer as rezoning_of
from tracker.approvals.decision import after_adoption
from tracker.command_line.page_text import sheets_of
from tracker.pages.hearings import law_words
from tracker.pages.page import capital
from tracker.pages.rezoning import page
from tracker.project_folder.places import folder
from tracker.reports.printing import KINDS, Asked
from tracker.screens.table.page_parts import screen_part

TODAY = dt.date(2026, 12, 1)
STATES = folder("templates") / "jurisdictions"


@pytest.fixture
def place(tmp_path: Path) -> Path:
    new_project(tmp_path / "p.db", template="warehouse-to-gym", today=TODAY)
    return tmp_path / "p.db"


def test_a_towns_longer_days_stand_against_the_states_and_the_import_says_so(place: Path) -> None:
    with open_project(place) as project:
        save(project, "answers", "effective_days", {"answer": "45", "source": "our town's clerk"})
        notes = import_folder(project, STATES / "oh-city").notes
        answers = {a.question: a for a in project.tables()["answers"]}
        assert (answers["effective_days"].answer, answers["effective_days"].source) == (
            "45",
            "our town's clerk",
        )
        assert answers["referendum_days"].answer == "30"
        assert any(
            note.startswith("effective_days stays 45, the longer one; the state's record says 30")
            for note in notes
        )


def test_a_folder_that_is_no_states_record_replaces_a_longer_answer(
    place: Path, tmp_path: Path
) -> None:
    (tmp_path / "own").mkdir()
    (tmp_path / "own" / "answers.csv").write_text(
        "question,answer\neffective_days,20\n", encoding="utf-8"
    )
    with open_project(place) as project:
        save(project, "answers", "effective_days", {"answer": "45"})
        import_folder(project, tmp_path / "own")
        assert {a.question: a.answer for a in project.tables()["answers"]}["effective_days"] == "20"


def test_a_plan_that_is_in_force_before_the_states_days_is_told_until_its_link_is_set(
    place: Path,
) -> None:
    """Ohio R.C. 731.29: no ordinance takes effect before 30 days; the conversion's link says 15."""
    with open_project(place) as project:
        notes = import_folder(project, STATES / "oh-city").notes
        (note,) = [n for n in notes if "in force" in n]
        assert (
            "30 days to effect" in note
            and "set the lag of link second-reading/effective to 30" in note
        )
        (remark,) = [w for w in path_of(project, TODAY).warnings if w.kind == "in_force_too_soon"]
        assert remark.text == note
    (told,) = [p for p in check_file(place, TODAY, TODAY) if p.key == "effective"]
    assert told.sentence() == note
    with open_project(place) as project:
        save(project, "links", "second-reading/effective", {"lag": "30"})
        assert not [w for w in path_of(project, TODAY).warnings if w.kind == "in_force_too_soon"]


def test_an_ohio_townships_days_are_those_of_its_own_words_and_from_memory(place: Path) -> None:
    with open_project(place) as project:
        import_folder(project, STATES / "oh-township")
        answers = {a.question: a for a in project.tables()["answers"]}
        for code in ("effective_days", "referendum_days"):
            assert answers[code].answer == "30" and "from memory" in answers[code].source
        found = after_adoption(dt.date(2027, 3, 1), answers.values())
        assert found.effective == dt.date(2027, 3, 31) and {
            "effective_days",
            "referendum_days",
        } <= set(found.estimate)
        assert {"days to effect", "vote of the people"} <= set(
            rezoning_of(project, TODAY).law.not_known
        )


@pytest.mark.parametrize(
    ("state", "said"),
    [
        ("va", "the days in force are not on record here: ask"),
        ("tn", "the days of notice are not sure, 15 or 21: ask"),
        ("nc", "protest petitions were repealed"),
    ],
)
def test_what_is_not_known_of_a_states_law_stands_in_show_and_in_the_print(
    place: Path, state: str, said: str
) -> None:
    with open_project(place) as project:
        import_folder(project, STATES / state)
        answer, rows = rezoning_of(project, TODAY), project.tables()
    words = " ".join(law_words(answer.law))
    assert said in words and ("day of its text not known: ask" in words or "old, ask" in words)
    assert "Not known, or not checked for this state:" in words and "days to effect" in words
    shown = page(answer)
    title = capital(shown.part("law").title)
    (sheet,) = [one for one in sheets_of(shown) if one.title == title]
    assert sheet.words == law_words(answer.law)
    (below,) = [one for one in screen_part(shown.part("protest")).about if one.title == title]
    assert [line.text for line in below.lines] == list(law_words(answer.law))
    printed, _ = KINDS["hearings"].make(Asked(rows, TODAY))
    (part,) = [p for p in printed.parts if p.key == "law"]
    assert part.words == law_words(answer.law)
