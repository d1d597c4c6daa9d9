"""Retainage is let go up to what is held, for a reason; waivers come in and open their gates."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.actions.exported import exported, project_of
from tests.actions.test_pay import FILES
from tracker.actions.pay import PaymentEntry, pay
from tracker.actions.record_waiver import WaiverEntry, record_waiver
from tracker.actions.release_retainage import ReleaseEntry, release_retainage
from tracker.actions.set_aside import set_aside_gate
from tracker.answers import draws as draws_answer
from tracker.money.records import RetainageEvent, Waiver
from tracker.project_file.store import ProjectFile
from tracker.values.problems import ProblemError
from tracker.values.project import AttachedFile

TODAY = dt.date(2027, 4, 9)
TWO_LINES = FILES["application_lines"].replace("C1,2,", "C1,1,SKIN,5000,5000\nC1,2,")


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    """15,000 and 5,000 in place: 1,500 and 500 held back, 18,000 payable."""
    with project_of(tmp_path, {**FILES, "application_lines": TWO_LINES}) as opened:
        yield opened


def released(
    project: ProjectFile,
    cents: int,
    on: dt.date = TODAY,
    reason: str = "Accepted",
    only_try: bool = False,
    **more: Any,
) -> Any:
    return release_retainage(
        project, ReleaseEntry("C1", cents, on, reason, **more), TODAY, only_try
    )


def test_a_release_goes_over_the_lines_by_what_they_hold_and_becomes_payable(
    project: ProjectFile, tmp_path: Path
) -> None:
    """1,000 of 2,000: three quarters to the tear-off. 18,000 + 1,000 are payable on the last
    application.
    """
    first = exported(project, tmp_path / "first")
    tried = released(project, 100_000, only_try=True)
    assert tried.step is None and not project.rows(RetainageEvent)
    done = released(project, 100_000)
    assert (done.held, done.lines, done.payable) == (
        (200_000, 100_000),
        {"TEAR": 75_000, "SKIN": 25_000},
        (1_800_000, 1_900_000),
    )
    assert (tried.held, tried.lines, tried.payable) == (done.held, done.lines, done.payable)
    (event,) = project.rows(RetainageEvent)
    assert (event.code, event.kind, event.amount, event.reason) == (
        "RT-01",
        "release",
        100_000,
        "Accepted",
    )
    notes = " / ".join(done.notes)
    assert (
        "40,000.00 of the contract is not earned yet" in notes
        and "no final waiver is on record" in notes
    )
    assert draws_answer.answer(project, TODAY).exposure[0].held_cents == 100_000
    project.undo()
    assert exported(project, tmp_path / "undone") == first


def test_a_release_of_one_line_leaves_the_others(project: ProjectFile) -> None:
    assert released(project, 50_000, line="SKIN").lines == {"SKIN": 50_000}
    with pytest.raises(
        ProblemError, match=r"more is released than is held on SKIN \(0\.01\); give at most 0\.00"
    ):
        released(project, 1, line="SKIN")


@pytest.mark.parametrize(
    ("contract", "cents", "on", "reason", "words"),
    [
        ("C9", 1, TODAY, "x", "no such contract"),
        ("C1", 200_001, TODAY, "x", r"more is released than is held .*give at most 2,000\.00"),
        ("C1", 0, TODAY, "x", "not above zero"),
        ("C1", 1, dt.date(2027, 4, 10), "x", "lies ahead"),
        ("C1", 1, TODAY, "  ", "needs its reason"),
    ],
)
def test_what_can_not_be_released_changes_nothing(
    project: ProjectFile, contract: str, cents: int, on: dt.date, reason: str, words: str
) -> None:
    before = project.tables()
    with pytest.raises(ProblemError, match=words):
        release_retainage(project, ReleaseEntry(contract, cents, on, reason), TODAY)
    assert project.tables() == before


def test_what_was_released_is_paid_by_itself_and_on_the_last_application(
    project: ProjectFile,
) -> None:
    released(project, 100_000)
    assert (
        pay(
            project, PaymentEntry("application", "C1/1", 1_800_001, TODAY), TODAY, only_try=True
        ).stops.above
        == 1
    )
    tried = pay(project, PaymentEntry("release", "RT-01", 100_001, TODAY), TODAY, only_try=True)
    assert (tried.stops.left, tried.stops.above) == (100_000, 1)
    assert (tried.payment.kind, tried.payment.contract, tried.payment.application) == (
        "application",
        "C1",
        1,
    )
    pay(project, PaymentEntry("application", "C1/1", 1_800_000, TODAY, reason="Joint check"), TODAY)
    pay(project, PaymentEntry("release", "RT-01", 100_000, TODAY, reason="Joint check"), TODAY)
    assert (
        not draws_answer.answer(project, TODAY).payments_due[:-1]
        and not draws_answer.answer(project, TODAY).overpaid
    )


def test_a_release_before_its_day_of_what_was_not_held_yet_is_refused(project: ProjectFile) -> None:
    """Nothing was held on 30 March: the application of 31 March holds the first cent."""
    with pytest.raises(ProblemError, match="more is released than is held on its day"):
        released(project, 1, on=dt.date(2027, 3, 30))
    assert released(project, 200_000, on=dt.date(2027, 3, 31), only_try=True).held == (200_000, 0)


def test_a_release_needs_what_the_last_money_needs(project: ProjectFile) -> None:
    """18,000 is paid; for the release no final waiver, no unconditional one, no punch list; the
    supplier gave none.
    """
    pay(project, PaymentEntry("application", "C1/1", 1_800_000, TODAY, reason="Joint check"), TODAY)
    released(project, 100_000)
    with pytest.raises(
        ProblemError, match=r"conditional final waiver: no conditional final waiver for 1,000\.00"
    ):
        pay(project, PaymentEntry("release", "RT-01", 100_000, TODAY), TODAY)
    before = project.tables()
    done = pay(
        project,
        PaymentEntry("release", "RT-01", 100_000, TODAY, reason="The bank wants it so"),
        TODAY,
    )
    aside = [(o.what, o.key) for o in project.tables()["overrides"][len(before["overrides"]) :]]
    names = (
        "conditional final waiver",
        "unconditional waiver",
        "final waivers of suppliers",
        "punch list or certificate",
    )
    assert aside == [(name, "RT-01") for name in names]
    assert any("unconditional final waivers" in note for note in done.notes)


def test_one_requirement_of_a_release_is_set_aside_for_a_reason(project: ProjectFile) -> None:
    released(project, 100_000)
    set_aside_gate(
        project, "C1", 1, "punch list or certificate", "Seen with the architect", TODAY, "RT-01"
    )
    (row,) = [
        one for one in draws_answer.answer(project, TODAY).payments_due if one.release == "RT-01"
    ]
    (gate,) = [one for one in row.gates if one.gate == "punch list or certificate"]
    assert gate.open and gate.overridden and "Seen with the architect" in gate.reason
    with pytest.raises(ProblemError, match="no such release"):
        set_aside_gate(project, "C1", 1, "insurance", "x", TODAY, "RT-09")


def test_a_release_to_one_who_is_paid_ahead_says_what_may_not_be_paid(project: ProjectFile) -> None:
    """18,000 owed, a deposit of 18,400: 600 of a release of 1,000 may be paid."""
    pay(project, PaymentEntry("deposit", "C1", 1_840_000, TODAY), TODAY)
    done = released(project, 100_000)
    assert done.payable == (0, 60_000)
    assert any(note.startswith("400.00 of it makes up what was paid ahead") for note in done.notes)


def waiver(project: ProjectFile, cents: int = 1_800_000, **more: Any) -> Any:
    known: dict[str, Any] = {
        "kind": "conditional progress",
        "through": dt.date(2027, 3, 31),
        "on": TODAY,
    } | more
    return record_waiver(project, WaiverEntry("C1", 1, amount=cents, **known), TODAY)


def test_a_waiver_opens_its_gate_and_says_which_stay_closed(
    project: ProjectFile, tmp_path: Path
) -> None:
    """The waiver on record is for 13,500, so its gate is closed; one for 18,000 opens it.

    The supplier's comes after.
    """
    first = exported(project, tmp_path / "first")
    done = waiver(project)
    assert done.closed == ("notice waivers: no waiver through 2027-03-31 from Invented Supply",)
    assert [w.code for w in project.rows(Waiver)] == ["W1", "WV-001"]
    assert waiver(project, from_party="invented  supply").closed == ()
    project.undo()
    project.undo()
    assert exported(project, tmp_path / "undone") == first


def test_a_waiver_for_another_amount_opens_nothing(project: ProjectFile) -> None:
    assert any("not for 18,000.00" in words for words in waiver(project, 1_800_001).closed)


def test_the_signed_paper_is_attached_in_the_same_step(project: ProjectFile) -> None:
    paper = project.path.parent / "waiver.pdf"
    paper.write_bytes(b"signed")
    steps = len(project.history())
    done = waiver(project, paper=paper)
    (file,) = project.rows(AttachedFile)
    assert (file.table, file.key, file.path) == ("waivers", done.waiver.code, "waiver.pdf")
    assert done.waiver.evidence == "waiver.pdf" and len(project.history()) == steps + 1


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"on": dt.date(2027, 4, 10)}, "lies ahead"),
        ({"kind": "verbal"}, "kind"),
        ({"paper": Path("/nowhere/x")}, "no such file"),
    ],
)
def test_a_waiver_that_can_not_be_changes_nothing(
    project: ProjectFile, more: dict[str, Any], words: str
) -> None:
    before = project.tables()
    with pytest.raises(ProblemError, match=words):
        waiver(project, **more)
    assert project.tables() == before
