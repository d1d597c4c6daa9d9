"""A draw is sent, funded whole or cut, or comes back; what was cut can be asked again; each one
step, which undo takes back.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.actions.exported import exported, project_of
from tests.actions.test_prepare_draw import END, FILES, TODAY
from tests.every import every
from tracker.actions.draw_steps import FundedLine, fund_draw, mark_paper, return_draw, send_draw
from tracker.actions.prepare_draw import prepare_draw
from tracker.actions.rows import save
from tracker.answers import draws as draws_answer
from tracker.money.records import Draw, DrawLine, DrawPaper
from tracker.project_file.store import ProjectFile, StaleError
from tracker.values.problems import ProblemError
from tracker.values.project import AttachedFile


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    """A draft of 47,300: 3,800 of equity and 26,000 of the loan on B20, 17,000 on B30, 500
    on fees.
    """
    with project_of(tmp_path, FILES) as opened:
        prepare_draw(opened, 1, END, TODAY)
        yield opened


def state_of(project: ProjectFile) -> str:
    return project.rows(Draw)[0].state


def claims(project: ProjectFile) -> dict[str, int]:
    return {
        c.cost_line: c.claimable_cents
        for c in draws_answer.answer(project, TODAY).claimable
        if c.claimable_cents
    }


def cut(line: str, cents: int, why: str = "Not seen in place") -> FundedLine:
    return FundedLine("LOAN", line, cents, why)


def test_a_draft_is_sent_and_its_missing_papers_are_named(
    project: ProjectFile, tmp_path: Path
) -> None:
    first = exported(project, tmp_path / "first")
    done = send_draw(project, 1, TODAY, TODAY)
    assert (done.draw.state, done.draw.sent, done.asked, done.came) == ("sent", TODAY, 4_730_000, 0)
    notes = " / ".join(done.notes)
    assert (
        "title date-down is missing" in notes
        and "invoices is missing: no evidence for I-NEW, I-WORK" in notes
    )
    project.undo()
    assert exported(project, tmp_path / "undone") == first


def test_a_draw_that_came_whole_is_funded_as_asked(project: ProjectFile) -> None:
    send_draw(project, 1, TODAY, TODAY)
    done = fund_draw(project, 1, TODAY, (), TODAY)
    assert (done.draw.state, done.draw.funded_on, done.came, done.claimable, done.notes) == (
        "funded",
        TODAY,
        4_730_000,
        {},
        (),
    )
    assert every(line.funded == line.asked for line in project.rows(DrawLine))
    assert project.check() == ()


def test_what_was_cut_comes_back_as_claimable_and_is_asked_in_the_next_draw(
    project: ProjectFile, tmp_path: Path
) -> None:
    """5,000 of the roof's 17,000 came: 12,000 can be asked again."""
    send_draw(project, 1, TODAY, TODAY)
    sent = exported(project, tmp_path / "sent")
    assert "B30" not in claims(project)
    tried = fund_draw(project, 1, TODAY, (cut("B30", 500_000),), TODAY, only_try=True)
    assert tried.step is None and state_of(project) == "sent"
    done = fund_draw(project, 1, TODAY, (cut("B30", 500_000),), TODAY)
    assert (done.came, done.claimable, done.notes) == (
        3_530_000,
        {"B30": 1_200_000},
        ("B30: 12,000.00 cut, Not seen in place",),
    )
    assert (tried.came, tried.claimable, tried.notes) == (done.came, done.claimable, done.notes)
    roof = next(line for line in project.rows(DrawLine) if line.cost_line == "B30")
    assert (roof.funded, roof.cut_reason) == (500_000, "Not seen in place")
    assert claims(project)["B30"] == 1_200_000
    again = prepare_draw(project, 2, TODAY, TODAY, only_try=True)
    assert ("B30", 1_200_000) in {(line.cost_line, line.asked) for line in again.lines}
    project.undo()
    assert exported(project, tmp_path / "undone") == sent


def test_a_returned_draw_counts_for_nothing_and_is_asked_again(
    project: ProjectFile, tmp_path: Path
) -> None:
    send_draw(project, 1, TODAY, TODAY)
    sent = exported(project, tmp_path / "sent")
    done = return_draw(project, 1, "The date-down is missing", TODAY)
    assert done.draw.state == "returned" and done.claimable == {
        "B20": 2_980_000,
        "B30": 1_700_000,
        "FEES": 50_000,
    }
    assert project.history()[-1].why == "The date-down is missing"
    assert prepare_draw(project, 2, END, TODAY, only_try=True).asked == 4_730_000
    project.undo()
    assert exported(project, tmp_path / "undone") == sent


def test_a_draw_above_a_budget_is_not_sent(project: ProjectFile) -> None:
    """The roof's line gets 16,999.99 for the 17,000 that are asked."""
    save(project, "cost_lines", "B30", {"budget": "16999.99"})
    with pytest.raises(
        ProblemError, match=r"cost_lines B30, budget: the draw goes above .* \(0\.01\); move budget"
    ):
        send_draw(project, 1, TODAY, TODAY)
    assert state_of(project) == "draft"


def test_steps_out_of_turn_are_refused(project: ProjectFile) -> None:
    later = TODAY + dt.timedelta(days=1)
    cases: list[tuple[Any, str]] = [
        (lambda: fund_draw(project, 1, TODAY, (), TODAY), "the draw is draft.*send it first"),
        (lambda: return_draw(project, 1, "why", TODAY), "the draw is draft"),
        (lambda: send_draw(project, 9, TODAY, TODAY), "no such draw"),
        (lambda: send_draw(project, 1, later, TODAY), "lies ahead"),
    ]
    for step, words in cases:
        with pytest.raises(ProblemError, match=words):
            step()
    send_draw(project, 1, TODAY, TODAY)
    before = project.tables()
    cases = [
        (lambda: send_draw(project, 1, TODAY, TODAY), "sent already"),
        (lambda: return_draw(project, 1, " ", TODAY), "not said why"),
        (lambda: fund_draw(project, 1, later, (), TODAY), "lies ahead"),
        (lambda: fund_draw(project, 1, END, (), TODAY), "before the day on which it was sent"),
        (
            lambda: fund_draw(project, 1, TODAY, (cut("B30", 1_700_001),), TODAY),
            r"more was funded than asked",
        ),
        (
            lambda: fund_draw(project, 1, TODAY, (cut("B30", 1_699_999, " "),), TODAY),
            "a cut needs its reason",
        ),
        (lambda: fund_draw(project, 1, TODAY, (cut("NONE", 1),), TODAY), "no such line"),
    ]
    for step, words in cases:
        with pytest.raises(ProblemError, match=words):
            step()
        assert project.tables() == before
    fund_draw(project, 1, TODAY, (), TODAY)
    for step in (
        lambda: return_draw(project, 1, "why", TODAY),
        lambda: mark_paper(project, 1, "photos", "present"),
    ):
        with pytest.raises(ProblemError, match="funded already"):
            step()


def test_a_paper_is_marked_with_its_file_and_waived_with_its_reason_only(
    project: ProjectFile, tmp_path: Path
) -> None:
    first = exported(project, tmp_path / "first")
    paper = project.path.parent / "photos.pdf"
    paper.write_bytes(b"pictures")
    mark_paper(project, 1, "photos", "present", paper=paper)
    (row,) = project.rows(DrawPaper)
    assert (row.state, row.evidence) == ("present", "photos.pdf")
    (file,) = project.rows(AttachedFile)
    assert (file.table, file.key, file.path) == ("draw_papers", "1/photos", "photos.pdf")
    with pytest.raises(ProblemError, match="waived with a reason only"):
        mark_paper(project, 1, "title date-down", "waived")
    mark_paper(project, 1, "title date-down", "waived", reason="First draw")
    papers = {
        p.what: (p.state, p.reason) for p in draws_answer.answer(project, TODAY).draws[0].package
    }
    assert papers["photos"][0] == "present" and papers["title date-down"] == (
        "waived",
        "First draw",
    )
    with pytest.raises(ProblemError, match="state"):
        mark_paper(project, 1, "photos", "lost")
    with pytest.raises(StaleError):
        mark_paper(
            project,
            1,
            "photos",
            "missing",
            expected=DrawPaper(draw=1, what="photos", state="missing"),
        )
    project.undo()
    project.undo()
    assert exported(project, tmp_path / "undone") == first
