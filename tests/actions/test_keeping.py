"""Every action is one step: trying it takes no lock, and what is kept is worked out from the rows
as they are under the lock.
"""

from __future__ import annotations

import ast
import datetime as dt
import importlib
import inspect
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from tests.actions import (
    test_approve_change,
    test_award,
    test_draw_steps,
    test_enter_bid,
    test_enter_interest,
    test_hearing_outcome,
    test_inspections,
    test_pay,
    test_prepare_draw,
    test_price_change,
    test_verify_application,
)
from tests.actions.exported import project_of
from tracker import actions
from tracker.actions.approve_change import approve_change, refuse_change
from tracker.actions.award import AwardEntry, award
from tracker.actions.draw_steps import fund_draw, return_draw, send_draw
from tracker.actions.enter_bid import BidEntry, decline_bid, enter_bid
from tracker.actions.enter_interest import enter_interest
from tracker.actions.folders import import_folder
from tracker.actions.hearing_outcome import HearingOutcome, hearing_outcome
from tracker.actions.inspections import FailedVisit, PassedVisit, fail_inspection, pass_inspection
from tracker.actions.keeping import Sound, sound, step
from tracker.actions.pay import PaymentEntry, pay
from tracker.actions.prepare_draw import prepare_draw
from tracker.actions.price_change import PriceEntry, PriceLine, price_change
from tracker.actions.release_retainage import ReleaseEntry, release_retainage
from tracker.actions.rows import Saved, save
from tracker.actions.sign_contract import sign_contract
from tracker.actions.snapshots import take_snapshot
from tracker.actions.verify_application import verify_application
from tracker.project_file.store import ProjectFile, open_file
from tracker.tables.row_edits import with_row
from tracker.values.problems import BusyError, ProblemError
from tracker.values.project import Project
from tracker.values.records import Rows, new

MODULES = sorted(
    path.stem for path in Path(actions.__file__).parent.glob("*.py") if path.stem != "__init__"
)
Act = Callable[..., Any]


def priced(project: ProjectFile, **more: Any) -> Any:
    lines = (PriceLine(180_000, "B30", line="1"),)
    return price_change(
        project,
        PriceEntry(
            "CH-3", lines, test_price_change.ON, contract="C1", days=2, activities=("ROOF",)
        ),
        test_price_change.TODAY,
        **more,
    )


def drafted(project: ProjectFile) -> None:
    prepare_draw(project, 1, test_prepare_draw.END, test_prepare_draw.TODAY)


def sent(project: ProjectFile) -> None:
    drafted(project)
    send_draw(project, 1, test_prepare_draw.END, test_prepare_draw.TODAY)


def unsigned(project: ProjectFile) -> None:
    award(project, AwardEntry("ROOF", "roof-a", "C1", None, retainage=10_000), test_award.TODAY)


def nothing(project: ProjectFile) -> None:
    """The files stand as the action needs them."""


ACTS: dict[str, tuple[dict[str, str], Callable[[ProjectFile], None], Act]] = {
    "approve_change": (
        test_approve_change.FILES,
        nothing,
        lambda p, **m: approve_change(
            p, "CH-1", test_approve_change.ON, test_approve_change.TODAY, **m
        ),
    ),
    "award": (
        test_award.FILES,
        nothing,
        lambda p, **m: award(
            p, AwardEntry("ROOF", "roof-a", "C1", test_award.TODAY), test_award.TODAY, **m
        ),
    ),
    "enter_bid": (
        test_award.FILES,
        nothing,
        lambda p, **m: enter_bid(
            p,
            BidEntry("ROOF", "roof-c", test_enter_bid.ANSWERS, test_enter_bid.TODAY),
            test_enter_bid.TODAY,
            **m,
        ),
    ),
    "enter_interest": (
        test_enter_interest.FILES,
        nothing,
        lambda p, **m: enter_interest(
            p, "LOAN", test_enter_interest.FEBRUARY, 140_000, "bank", test_enter_interest.TODAY, **m
        ),
    ),
    "fail_inspection": (
        test_inspections.FILES,
        nothing,
        lambda p, **m: fail_inspection(
            p,
            FailedVisit("IN-FRAME", test_inspections.ON, ["Blocking"], 2),
            test_inspections.TODAY,
            **m,
        ),
    ),
    "pass_inspection": (
        test_inspections.FILES,
        nothing,
        lambda p, **m: pass_inspection(
            p, PassedVisit("IN-FRAME", test_inspections.ON), test_inspections.TODAY, **m
        ),
    ),
    "fund_draw": (
        test_draw_steps.FILES,
        sent,
        lambda p, **m: fund_draw(p, 1, test_draw_steps.TODAY, (), test_draw_steps.TODAY, **m),
    ),
    "hearing_outcome": (
        test_hearing_outcome.FILES,
        nothing,
        lambda p, **m: hearing_outcome(
            p,
            HearingOutcome("Z-1", "approved", test_hearing_outcome.HEARD),
            test_hearing_outcome.TODAY,
            **m,
        ),
    ),
    "pay": (
        test_pay.FILES,
        nothing,
        lambda p, **m: pay(
            p,
            PaymentEntry("application", "C1/1", 100_000, test_pay.TODAY, reason="Seen"),
            test_pay.TODAY,
            **m,
        ),
    ),
    "prepare_draw": (
        test_prepare_draw.FILES,
        nothing,
        lambda p, **m: prepare_draw(p, 1, test_prepare_draw.END, test_prepare_draw.TODAY, **m),
    ),
    "price_change": (test_approve_change.FILES, nothing, priced),
    "release_retainage": (
        test_pay.FILES,
        nothing,
        lambda p, **m: release_retainage(
            p, ReleaseEntry("C1", 100, test_pay.TODAY, "Accepted"), test_pay.TODAY, **m
        ),
    ),
    "return_draw": (
        test_draw_steps.FILES,
        sent,
        lambda p, **m: return_draw(p, 1, "Papers", test_draw_steps.TODAY, **m),
    ),
    "send_draw": (
        test_draw_steps.FILES,
        drafted,
        lambda p, **m: send_draw(p, 1, test_prepare_draw.END, test_draw_steps.TODAY, **m),
    ),
    "sign_contract": (
        test_award.FILES,
        unsigned,
        lambda p, **m: sign_contract(p, "C1", test_award.TODAY, test_award.TODAY, **m),
    ),
    "verify_application": (
        test_verify_application.FILES,
        nothing,
        lambda p, **m: verify_application(
            p, "C1", 1, {"TEAR": {"verified": "15000"}}, "Owner", test_verify_application.ON, **m
        ),
    ),
    "take_snapshot": (
        test_inspections.FILES,
        nothing,
        lambda p, **m: take_snapshot(p, test_inspections.TODAY, **m),
    ),
    "refuse_change": (
        test_approve_change.FILES,
        nothing,
        lambda p, **m: refuse_change(p, "CH-1", "Too dear", **m),
    ),
    "decline_bid": (
        test_award.FILES,
        nothing,
        lambda p, **m: decline_bid(p, "ROOF", "roof-c", "No crew", **m),
    ),
}
"""Each action that can be tried: its files, what has to stand before it, and the action."""


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    with project_of(tmp_path, test_inspections.FILES) as opened:
        yield opened


@contextmanager
def another_program(path: Path) -> Iterator[None]:
    """Somebody else holds the file and writes."""
    other = sqlite3.connect(path, isolation_level=None)
    try:
        other.execute("BEGIN IMMEDIATE")
        yield
    finally:
        other.execute("ROLLBACK")
        other.close()


def functions(module: str) -> Iterator[tuple[str, Any]]:
    found = importlib.import_module(f"tracker.actions.{module}")
    for name, one in inspect.getmembers(found, inspect.isfunction):
        if one.__module__ == found.__name__ and not name.startswith("_"):
            yield name, one


def test_no_action_that_can_be_tried_is_left_out_here() -> None:
    tries = {
        name
        for module in MODULES
        for name, one in functions(module)
        if module != "keeping"
        and ("only_try" in inspect.signature(one).parameters or name.startswith("try_"))
    }
    assert tries == set(ACTS)


@pytest.mark.parametrize("name", ACTS)
def test_while_another_program_writes_an_action_is_tried_and_not_kept(
    tmp_path: Path, name: str
) -> None:
    files, prepare, act = ACTS[name]
    with project_of(tmp_path, files) as made:
        prepare(made)
    with open_file(tmp_path / "p.db", patience_ms=20) as project:
        before = project.tables()
        with another_program(project.path):
            tried = act(project, only_try=True)
            assert getattr(tried, "step", None) is None
            with pytest.raises(BusyError):
                act(project)
        assert project.tables() == before
        kept = act(project)
        assert kept.step is not None
        assert project.tables() != before or name == "take_snapshot"


@pytest.mark.parametrize("module", MODULES)
def test_only_the_step_itself_works_on_the_file(module: str) -> None:
    """No action opens a unit of work of its own, so that none can forget to check or to leave the
    lock alone.
    """
    tree = ast.parse((Path(actions.__file__).parent / f"{module}.py").read_text(encoding="utf-8"))
    calls = {
        node.func.attr
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute)
    }
    assert ("work" in calls, "keep" in calls) == (
        (True, True) if module == "keeping" else (False, False)
    )


def test_what_is_kept_is_worked_out_from_the_rows_as_they_are_under_the_lock(
    project: ProjectFile,
) -> None:
    """Somebody else writes after the rows were read and before the lock is taken."""
    seen: list[str] = []

    def change(before: Rows) -> tuple[Sound, Saved]:
        row = next(a for a in before["activities"] if a.code == "FRAME")
        seen.append(row.name)
        return sound(
            before, with_row(before, new(Project, name=row.name), before["project"][0])
        ), Saved(None)

    step(project, "tried", change, only_try=True)

    class WrittenToMeanwhile(ProjectFile):
        def work(self, what: str, why: str = "") -> Any:
            with open_file(project.path) as other:
                save(other, "activities", "FRAME", {"name": "Framed by somebody else"})
            return super().work(what, why)

    project.__class__ = WrittenToMeanwhile
    try:
        kept = step(project, "kept", change)
    finally:
        project.__class__ = ProjectFile
    assert kept.step is not None
    assert seen[-1] == "Framed by somebody else" != seen[0]
    assert project.tables()["project"][0].name == "Framed by somebody else"


def test_what_changes_nothing_is_no_step(project: ProjectFile) -> None:
    count = len(project.history())
    saved: Saved = step(project, "nothing", lambda before: (sound(before, before), Saved(None)))
    assert saved.step is None
    assert len(project.history()) == count


def test_rows_that_bring_a_fault_are_not_sound(project: ProjectFile) -> None:
    before = project.tables()
    with pytest.raises(ProblemError):
        sound(before, {**before, "calendars": ()})


def test_a_snapshot_that_is_there_already_is_no_step_of_an_import(
    project: ProjectFile, tmp_path: Path
) -> None:
    from tracker.actions.folders import export_folder

    assert take_snapshot(project, test_inspections.TODAY).step is not None
    export_folder(project, tmp_path / "out")
    assert import_folder(project, tmp_path / "out").step is None
    project.undo()
    again = import_folder(project, tmp_path / "out")
    assert (again.step is not None, again.added) == (True, 1)
    assert dt.date(2027, 1, 1) < project.tables()["snapshots"][0].date
