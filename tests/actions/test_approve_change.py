"""An approval writes money and schedule together, or neither; one step, which undo takes back."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.actions.exported import exported, project_of
from tracker.actions.approve_change import approve_change, refuse_change
from tracker.actions.rows import save
from tracker.answers import changes as changes_answer
from tracker.money.records import Change
from tracker.project_file.store import ProjectFile, StaleError, Work
from tracker.schedule.path.plan import compute
from tracker.schedule.records import Activity
from tracker.values.problems import BusyError, Problem, ProblemError
from tracker.values.records import Rows

TODAY = dt.date(2027, 3, 12)
ON = dt.date(2027, 3, 11)
FILES = {
    "project": (
        "name,start,opening,status_date,insurance_per_day,loan_interest_per_day,rent_per_day\n"
        "Invented hall,2027-03-01,OPEN,2027-03-12,10,40,50\n"
    ),
    "calendars": "code,weekdays\nSITE,mon tue wed thu fri\n",
    "activities": (
        "code,kind,duration,actual_start,actual_finish,remaining,because\n"
        "DEMO,work,3,2027-03-01,2027-03-03,,\nFRAME,work,10,2027-03-08,,8,\nSLAB,work,2,2027-03-04,,,\n"
        "ROOF,work,5,,,,CH-0\nOPEN,milestone,0,,,,\n"
    ),
    "links": "from,to\nDEMO,FRAME\nFRAME,ROOF\nSLAB,ROOF\nROOF,OPEN\n",
    "step_costs": "code,date,amount,reason\nEXT,2027-03-31,5000,extension\n",
    "cost_lines": "code,budget,kind\nB30,100000,hard\nCC,10000,contingency_construction\n",
    "contractors": "code,name\nroofer,Invented Roofing\n",
    "contracts": "code,contractor,signed,sum\nC1,roofer,2027-03-01,60000\n",
    "contract_lines": "contract,line,cost_line,value\nC1,ROOF,B30,60000\n",
    "applications": "contract,number,period_to,verified_on\nC1,1,2027-03-12,2027-03-12\n",
    "changes": (
        "number,contract,title,state,noticed,approved,days,activities\n"
        "CH-0,C1,Curbs,approved,2027-03-01,2027-03-01,1,ROOF\n"
        "CH-1,C1,Rotten deck,priced,2027-03-09,,2,FRAME ROOF DEMO\n"
        "CH-2,C1,No price,priced,2027-03-09,,1,ROOF\n"
        "CH-3,C1,An estimate,noticed,2027-03-09,,1,ROOF\n"
        "CH-4,,Nobody's,priced,2027-03-09,,1,ROOF\n"
        "CH-5,C1,Refused,refused,2027-03-09,,1,ROOF\n"
        "CH-6,C1,Less roof,priced,2027-03-09,,-20,ROOF\n"
        "CH-7,C1,Pump,priced,2027-03-09,,3,SLAB\n"
    ),
    "change_lines": (
        "change,line,cost_line,amount\nCH-0,1,B30,100\nCH-1,1,B30,7000\nCH-1,2,CC,500.25\nCH-3,1,B30,100\n"
        "CH-4,1,B30,100\nCH-5,1,B30,100\nCH-6,1,B30,-2000\nCH-7,1,B30,0\n"
    ),
}


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    with project_of(tmp_path, FILES) as opened:
        yield opened


def durations(project: ProjectFile) -> dict[str, tuple[int | None, int | None, str]]:
    return {a.code: (a.duration, a.remaining, a.because) for a in project.rows(Activity)}


def test_price_and_days_are_written_together(project: ProjectFile) -> None:
    """Eight days of framing are left from 15 March, then five of roofing: through 31 March.

    Two and two more: 6 April.

    Six calendar days at 100.00 and the 5,000.00 of the extension, whose date of 31 March is passed.
    """
    done = approve_change(project, "CH-1", ON, TODAY)
    assert (done.change.state, done.change.approved, done.price) == ("approved", ON, 750_025)
    assert durations(project) == {
        "DEMO": (3, None, ""),
        "FRAME": (12, 10, "CH-1"),
        "SLAB": (2, None, ""),
        "ROOF": (7, None, "CH-1"),
        "OPEN": (0, None, ""),
    }
    assert done.lengthened == ("FRAME", "ROOF")
    assert (done.old_opening, done.new_opening) == (dt.date(2027, 3, 31), dt.date(2027, 4, 6))
    assert (done.days, done.cost) == (6, 6 * 10_000 + 500_000)
    assert done.new_opening == compute(project.tables()).opening
    assert project.check() == ()


def test_approval_at_its_price_never_moves_the_forecast_but_the_contract(
    project: ProjectFile,
) -> None:
    done = approve_change(project, "CH-1", ON, TODAY)
    assert done.forecast_before == done.forecast_after
    assert (done.before.contract, done.after.contract) == (6_010_000, 6_760_025)


def test_the_answer_before_foretells_the_opening_after(project: ProjectFile) -> None:
    for number in ("CH-1", "CH-6", "CH-7"):
        told = next(
            c
            for c in changes_answer.from_rows(project.tables(), TODAY).changes
            if c.number == number
        )
        assert told.effect is not None
        done = approve_change(project, number, ON, TODAY)
        assert (done.new_opening, done.days, done.cost) == (
            told.effect.opening_with,
            told.effect.opening_days,
            told.effect.opening_cost_cents,
        )
        project.undo()


def test_what_is_done_or_had_another_reason_or_is_verified_is_said(project: ProjectFile) -> None:
    notes = " / ".join(approve_change(project, "CH-1", ON, TODAY).notes)
    assert "DEMO takes none of the change's days" in notes
    assert "ROOF was revised because of CH-0 before" in notes
    assert "application C1/1, verified already" in notes


def test_work_keeps_at_least_a_day(project: ProjectFile) -> None:
    assert approve_change(project, "CH-6", ON, TODAY).days < 0
    assert durations(project)["ROOF"] == (1, None, "CH-6")


def test_days_count_in_full_where_work_has_overrun_its_duration(project: ProjectFile) -> None:
    """The slab was to take two days from 4 March; on 12 March one day is left, so three more make
    four.
    """
    approve_change(project, "CH-7", ON, TODAY)
    assert durations(project)["SLAB"] == (5, 4, "CH-7")
    assert compute(project.tables()).by_code()["SLAB"].early_finish == dt.date(2027, 3, 18)


def test_undo_gives_the_first_state_byte_for_byte(project: ProjectFile, tmp_path: Path) -> None:
    before, steps = exported(project, tmp_path / "a"), len(project.history())
    approve_change(project, "CH-1", ON, TODAY)
    assert len(project.history()) == steps + 1
    assert exported(project, tmp_path / "b") != before
    project.undo()
    assert exported(project, tmp_path / "c") == before
    refuse_change(project, "CH-1", "too dear")
    project.undo()
    assert exported(project, tmp_path / "d") == before


@pytest.mark.parametrize(
    ("number", "on", "words"),
    [
        ("CH-9", ON, "no such change"),
        ("CH-2", ON, "has no price"),
        ("CH-3", ON, "not priced yet"),
        ("CH-4", ON, "whose change"),
        ("CH-5", ON, "was refused"),
        ("CH-0", ON, "approved already"),
        ("CH-1", dt.date(2027, 3, 13), "has not come yet"),
        ("CH-1", dt.date(2027, 3, 8), "before it was noticed"),
    ],
)
def test_what_cannot_be_approved_leaves_money_and_schedule_untouched(
    project: ProjectFile, number: str, on: dt.date, words: str
) -> None:
    before = project.tables()
    with pytest.raises(ProblemError, match=words):
        approve_change(project, number, on, TODAY)
    assert project.tables() == before


def test_neither_money_nor_days_stay_where_the_writing_fails_halfway(
    project: ProjectFile, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = exported(project, tmp_path / "a")

    def fails_after_changes(work: Work, old: Rows, new: Rows) -> None:
        work.put(next(c for c in new["changes"] if c.number == "CH-1"))
        raise BusyError(Problem(what="the disk is full"))

    monkeypatch.setattr("tracker.actions.keeping.write_difference", fails_after_changes)
    with pytest.raises(BusyError):
        approve_change(project, "CH-1", ON, TODAY)
    assert exported(project, tmp_path / "b") == before


def test_a_change_that_was_edited_meanwhile_is_not_approved(project: ProjectFile) -> None:
    seen = next(c for c in project.rows(Change) if c.number == "CH-1")
    save(project, "changes", "CH-1", {"days": "9"})
    with pytest.raises(StaleError):
        approve_change(project, "CH-1", ON, TODAY, expected=seen)
    assert durations(project)["ROOF"] == (5, None, "CH-0")


def test_a_refused_change_is_asked_for_no_longer(project: ProjectFile) -> None:
    before = changes_answer.from_rows(project.tables(), TODAY).asked_for_cents
    saved = refuse_change(project, "CH-1", "too dear")
    assert saved.step is not None
    assert saved.step.why == "too dear"
    assert changes_answer.from_rows(project.tables(), TODAY).asked_for_cents == before - 750_025
    for number in ("CH-1", "CH-0"):
        with pytest.raises(ProblemError, match="already"):
            refuse_change(project, number)


def test_trying_an_approval_tells_the_same_and_writes_nothing(project: ProjectFile) -> None:
    before, steps = project.tables(), project.history()
    tried = approve_change(project, "CH-1", ON, TODAY, only_try=True)
    assert tried.step is None and project.tables() == before and project.history() == steps
    done = approve_change(project, "CH-1", ON, TODAY)
    assert (tried.price, tried.days, tried.cost, tried.after, tried.lengthened) == (
        done.price,
        done.days,
        done.cost,
        done.after,
        done.lengthened,
    )
