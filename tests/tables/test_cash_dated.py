"""The owner's cash has a day: the one on which it was entered.

Paying a bill never improves the forecast, once closed too.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.conftest import copied
from tracker.actions.rows import save
from tracker.actions.snapshots import take_snapshot
from tracker.answers.draws import answer
from tracker.project_file.store import ProjectFile, open_file
from tracker.values.project import Project

SAMPLE = Path(__file__).parents[2] / "sample_project"
TODAY = dt.date(2026, 7, 17)
LATER = dt.date(2026, 7, 20)
CLOSED = dt.date(2026, 7, 24)


@pytest.fixture
def own(sample_made: Path, tmp_path: Path) -> Iterator[ProjectFile]:
    """The sample project, to be changed."""
    with open_file(copied(sample_made, tmp_path / "own.db")) as project:
        yield project


def row(project: ProjectFile) -> Project:
    found: Project = project.rows(Project)[0]
    return found


def last_friday(project: ProjectFile, today: dt.date) -> int:
    """What is left on the last Friday that is foreseen, in cents."""
    return answer(project, today).weeks[-1].cash_cents


@pytest.mark.parametrize("paid_on", [TODAY, LATER])
@pytest.mark.parametrize("dated", ["2026-07-17", ""])
def test_paying_a_bill_improves_nothing_neither_on_the_day_nor_after_the_week_is_closed(
    own: ProjectFile, paid_on: dt.date, dated: str
) -> None:
    save(own, "project", "-", {"cash_as_of": dated})
    before = last_friday(own, paid_on)
    payment = {"kind": "invoice", "invoice": "V-26", "date": paid_on.isoformat(), "amount": "29800"}
    save(own, "payments", "ZZ1", payment, today=paid_on)
    assert last_friday(own, paid_on) == before
    left = last_friday(own, CLOSED)
    take_snapshot(own, CLOSED, today=CLOSED)
    assert row(own).cash_as_of == TODAY
    assert last_friday(own, CLOSED) == left


def test_cash_that_is_entered_anew_is_of_that_day_unless_another_is_given(own: ProjectFile) -> None:
    saved = save(own, "project", "-", {"cash_on_hand": "50000"}, today=LATER)
    assert row(own).cash_as_of == LATER
    assert any("as of the morning of 2026-07-20" in note for note in saved.notes)
    save(own, "project", "-", {"cash_on_hand": "49000", "cash_as_of": "2026-07-18"}, today=LATER)
    assert row(own).cash_as_of == dt.date(2026, 7, 18)
    own.undo()
    assert row(own).cash_as_of == LATER
