"""A bid comes in with its answers in one step, and is told how it stands beside the others."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.actions.exported import exported, project_of
from tests.actions.test_award import FILES
from tracker.actions.award import AwardEntry, award
from tracker.actions.enter_bid import BidEntry, decline_bid, enter_bid
from tracker.actions.rows import save
from tracker.project_file.store import ProjectFile, StaleError
from tracker.trades.records import Bid, BidAnswer
from tracker.values.problems import ProblemError

TODAY = dt.date(2027, 3, 5)
ANSWERS = {
    "TEAR": {"answer": "included", "price": "30000"},
    "DECK": {"answer": "excluded"},
    "SKIN": {"answer": "included", "price": "46000"},
}


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    """Roof C was asked; A and B are in, and only B's lump sum of 90,000.01 has the deck in it."""
    with project_of(tmp_path, FILES) as opened:
        yield opened


def came(
    project: ProjectFile,
    who: str = "roof-c",
    answers: Any = None,
    day: dt.date = TODAY,
    expected: Bid | None = None,
    only_try: bool = False,
    **more: Any,
) -> Any:
    entry = BidEntry("ROOF", who, ANSWERS if answers is None else answers, day, **more)
    return enter_bid(project, entry, TODAY, expected, only_try)


def said(project: ProjectFile, who: str) -> dict[str, tuple[str, int | None, int | None]]:
    return {
        a.item: (a.answer, a.price, a.plug) for a in project.rows(BidAnswer) if a.contractor == who
    }


def test_it_stands_as_received_with_its_answers_and_undo_takes_all_of_it_back(
    project: ProjectFile, tmp_path: Path
) -> None:
    """76,000 for two items; nobody priced the deck by itself, so the leveled price is not known
    without a plug.
    """
    first = exported(project, tmp_path / "first")
    done = came(project, valid_until=dt.date(2027, 5, 1), note=" By mail ")
    bid = next(b for b in project.rows(Bid) if b.contractor == "roof-c")
    assert (bid.state, bid.received, bid.valid_until, bid.amount, bid.note) == (
        "received",
        TODAY,
        dt.date(2027, 5, 1),
        None,
        "By mail",
    )
    assert said(project, "roof-c") == {
        "TEAR": ("included", 3_000_000, None),
        "DECK": ("excluded", None, None),
        "SKIN": ("included", 4_600_000, None),
    }
    assert done.leveled.as_bid == 7_600_000 and done.leveled.leveled is None
    notes = " / ".join(done.notes)
    assert (
        "nobody else priced DECK" in notes
        and "10 % or more off your own estimate: Membrane" in notes
        and "no license" in notes
    )
    project.undo()
    assert exported(project, tmp_path / "undone") == first


def test_a_plug_makes_it_comparable_and_a_lump_sum_that_differs_is_told(
    project: ProjectFile,
) -> None:
    """76,000 and a plug of 21,000 for the deck: 97,000 leveled."""
    tried = came(
        project, answers={**ANSWERS, "DECK": {"answer": "excluded", "plug": "21000"}}, only_try=True
    )
    assert (
        tried.leveled.leveled == 9_700_000 and tried.step is None and said(project, "roof-c") == {}
    )
    whole = {**ANSWERS, "DECK": {"answer": "included", "price": "20000"}}
    done = came(project, answers=whole, amount=9_500_000)
    assert any(
        "its items add up to 96,000.00, its lump sum is 95,000.00" in note for note in done.notes
    )


def test_a_bid_is_corrected_cell_by_cell_and_an_emptied_answer_goes(project: ProjectFile) -> None:
    came(
        project,
        "roof-a",
        {
            "DECK": {"answer": "included", "price": "19000"},
            "SKIN": {"price": "41000"},
            "TEAR": {"answer": ""},
        },
    )
    assert said(project, "roof-a") == {
        "DECK": ("included", 1_900_000, None),
        "SKIN": ("allowance", 4_100_000, None),
    }


def test_somebody_who_was_not_asked_can_bid(project: ProjectFile) -> None:
    save(project, "contractors", "roof-e", {"name": "Invented Roof E"})
    came(project, "roof-e")
    assert [b.contractor for b in project.rows(Bid)][-1] == "roof-e"


@pytest.mark.parametrize(
    ("who", "answers", "day", "words"),
    [
        ("roof-z", None, TODAY, "roof-z"),
        ("roof-d", None, TODAY, "declined already"),
        ("roof-c", None, dt.date(2027, 3, 6), "lies ahead"),
        ("roof-c", {"NONE": {"answer": "included"}}, TODAY, "NONE"),
        ("roof-c", {"TEAR": {"answer": "maybe"}}, TODAY, "TEAR"),
        ("roof-c", {"TEAR": {"answer": "included", "price": "1e3"}}, TODAY, "TEAR"),
        ("roof-c", {"TEAR": {"price": "100"}}, TODAY, "a price and no answer"),
    ],
)
def test_what_is_no_bid_changes_nothing(
    project: ProjectFile, who: str, answers: Any, day: dt.date, words: str
) -> None:
    before = project.tables()
    with pytest.raises(ProblemError, match=words):
        came(project, who, answers, day)
    assert project.tables() == before


def test_a_decided_or_changed_bid_is_not_written_over(project: ProjectFile) -> None:
    seen = next(b for b in project.rows(Bid) if b.contractor == "roof-c")
    came(project)
    with pytest.raises(StaleError):
        came(project, expected=seen)
    award(project, AwardEntry("ROOF", "roof-a", "C1", None), TODAY)
    with pytest.raises(ProblemError, match="awarded already"):
        came(project, "roof-a")
    with pytest.raises(ProblemError, match="no such package"):
        enter_bid(project, BidEntry("NONE", "roof-c", {}, TODAY), TODAY)


def test_who_was_asked_and_does_not_bid_declined(project: ProjectFile, tmp_path: Path) -> None:
    first = exported(project, tmp_path / "first")
    decline_bid(project, "ROOF", "roof-c", "No crew in spring")
    bid = next(b for b in project.rows(Bid) if b.contractor == "roof-c")
    assert (bid.state, bid.note) == ("declined", "No crew in spring")
    for who, words in (("roof-c", "declined already"), ("roof-z", "no such bid")):
        with pytest.raises(ProblemError, match=words):
            decline_bid(project, "ROOF", who)
    project.undo()
    assert exported(project, tmp_path / "undone") == first
