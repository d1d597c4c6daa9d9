"""Words given: a start or an end that is entered answers the words for it; the same word once more
is no second promise.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.actions.exported import exported, project_of
from tracker.actions.rows import save
from tracker.actions.what_if import keep
from tracker.actions.words_given import give_word
from tracker.project_file.store import ProjectFile
from tracker.trades.words import kept
from tracker.values.problems import ProblemError

TODAY = dt.date(2027, 3, 9)
FILES = {
    "project": "name,start,status_date\nInvented Hall,2027-03-01,2027-03-05\n",
    "calendars": "code,weekdays\nWORK,mon tue wed thu fri\n",
    "contractors": "code,name\nframer,Invented Framing\nother,Invented Others\n",
    "contracts": "code,contractor\nC1,framer\n",
    "activities": "code,contract,duration\nFRAME,C1,5\n",
    "words_given": (
        "code,contractor,activity,kind,said_on,for_date,came_on\n"
        "W-01,framer,FRAME,confirm,2027-03-01,2027-03-05,\nW-02,framer,FRAME,confirm,2027-03-05,2027-03-09,\n"
        "W-03,framer,FRAME,date,2027-03-05,2027-03-12,\nW-04,other,FRAME,confirm,2027-03-01,2027-03-09,\n"
    ),
}


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    with project_of(tmp_path, FILES) as opened:
        yield opened


def came(project: ProjectFile) -> dict[str, dt.date | None]:
    return {word.code: word.came_on for word in project.tables()["words_given"]}


def test_a_start_answers_the_words_that_confirmed_it_and_an_end_those_for_it(
    project: ProjectFile, tmp_path: Path
) -> None:
    """Said Fri 5, then Tue 9, came Tue 9: one of two kept.

    Somebody else's word stays open; done on Mon 15, said Fri 12.
    """
    before = exported(project, tmp_path / "before")
    saved = save(project, "activities", "FRAME", {"actual_start": "2027-03-09"})
    assert came(project) == {"W-01": TODAY, "W-02": TODAY, "W-03": None, "W-04": None}
    assert [note for note in saved.notes if "word" in note] == [
        "word W-01 is answered: came 2027-03-09",
        "word W-02 is answered: came 2027-03-09",
    ]
    tally = kept(
        (
            word
            for word in project.tables()["words_given"]
            if word.kind == "confirm" and word.contractor == "framer"
        ),
        TODAY,
    )
    assert (tally.kept, tally.due) == (1, 2)
    save(project, "activities", "FRAME", {"actual_finish": "2027-03-15"})
    assert came(project)["W-03"] == dt.date(2027, 3, 15)
    project.undo()
    project.undo()
    assert exported(project, tmp_path / "after") == before


def test_a_start_kept_from_a_what_if_answers_them_too(project: ProjectFile) -> None:
    keep(project, [("activities", "FRAME", {"actual_start": "2027-03-08"})], project.tables())
    assert came(project)["W-02"] == dt.date(2027, 3, 8)


def test_a_date_corrected_later_leaves_what_was_entered(project: ProjectFile) -> None:
    save(project, "activities", "FRAME", {"actual_start": "2027-03-09"})
    save(project, "activities", "FRAME", {"actual_start": "2027-03-08"})
    assert came(project)["W-02"] == TODAY


def test_the_same_word_once_more_renews_the_day_and_another_day_is_a_new_word(
    project: ProjectFile,
) -> None:
    again = give_word(
        project, "framer", "FRAME", dt.date(2027, 3, 9), dt.date(2027, 3, 8), confirms=True
    )
    assert (again.row.code, again.row.said_on, again.row.note, again.added) == (
        "W-02",
        dt.date(2027, 3, 8),
        "first said 2027-03-05",
        False,
    )
    twice = give_word(project, "framer", "FRAME", dt.date(2027, 3, 9), TODAY, confirms=True)
    assert (twice.row.said_on, twice.row.note) == (TODAY, "first said 2027-03-05")
    new = give_word(project, "framer", "FRAME", dt.date(2027, 3, 11), TODAY)
    assert (new.row.code, new.row.kind, new.added) == ("W-05", "date", True)
    with pytest.raises(ProblemError):
        give_word(project, "nobody", "FRAME", dt.date(2027, 3, 11), TODAY)
