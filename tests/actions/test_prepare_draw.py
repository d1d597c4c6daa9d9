"""A draft draw asks what is claimable and names what it covers; one step, which undo takes back."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.actions.exported import exported, project_of
from tests.conftest import copied
from tests.every import every
from tracker.actions.prepare_draw import prepare_draw
from tracker.actions.rows import save
from tracker.answers import draws as draws_answer
from tracker.project_file.store import ProjectFile, open_file
from tracker.values.problems import ProblemError

TODAY = dt.date(2027, 4, 10)
END = dt.date(2027, 4, 9)
GATES = ("conditional waiver", "unconditional waiver", "license", "insurance", "tax form")
FILES = {
    "cost_lines": "code,budget,kind\nB20,90000,hard\nB30,40000,hard\nFEES,3000,soft\n",
    "contractors": "code,name\nroofer,Invented Roofing\niron,Invented Iron\n",
    "sources": (
        "code,kind,amount,retainage,minimum_draw\nOWN,equity,30000,,\nLOAN,loan,200000,15,90000\n"
    ),
    "contracts": (
        "code,contractor,signed,sum,retainage\nC1,roofer,2027-03-01,40000,10\nC2,iron,2027-03-01,60000,\n"
    ),
    "contract_lines": "contract,line,cost_line,value\nC1,SKIN,B30,40000\nC2,STAIR,B20,60000\n",
    "applications": (
        "contract,number,period_to,verified_on\nC1,1,2027-03-31,2027-04-02\nC1,2,2027-04-09,\n"
    ),
    "application_lines": (
        "contract,number,line,claimed,verified\nC1,1,SKIN,20000,20000\nC1,2,SKIN,5000,\n"
    ),
    "invoices": (
        "code,contractor,cost_line,number,date,amount,kind\nI-OLD,iron,FEES,1,2027-03-01,1000,fee\nI-NEW,iron,FEES,2,2027-04-01,500,fee\nI-WORK,iron,B20,3,2027-04-02,29800,work\nI-LATE,iron,FEES,4,2027-04-10,70,fee\nI-OWN,,FEES,,2027-04-01,300,own"
        " labor\n"
    ),
    "payments": (
        "code,kind,contract,invoice,date,amount\nP1,deposit,C2,,2027-03-02,25200\nP2,invoice,,I-OLD,2027-03-03,1000\n"
    ),
    "overrides": (
        "code,what,key,date,reason\n"
        + "".join(f"O{n},{gate},C1/1,2027-04-02,seen\n" for n, gate in enumerate(GATES))
    ),
}


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    with project_of(tmp_path, FILES) as opened:
        yield opened


@pytest.fixture
def sample(sample_made: Path, tmp_path: Path) -> Iterator[ProjectFile]:
    with open_file(copied(sample_made, tmp_path / "sample.db")) as opened:
        yield opened


def named(project: ProjectFile, number: int) -> tuple[list[str], list[str]]:
    """What names a draw: applications, invoices."""
    tables = project.tables()
    return (
        [f"{a.contract}/{a.number}" for a in tables["applications"] if a.draw == number],
        [i.code for i in tables["invoices"] if i.draw == number],
    )


def test_a_draw_asks_what_is_claimable_of_each_source_in_its_order(project: ProjectFile) -> None:
    """Of 30,000 equity, 26,200 are paid.

    The stair's 29,800 take the other 3,800 of it, and 26,000 of the loan.

    On the roof 18,000 are due after the contract's 10 %; the lender holds 15 % of 20,000, that is
    1,000 beyond the contract's 2,000: 17,000. On fees equity paid 1,000 of 1,500: 500.
    """
    done = prepare_draw(project, 1, END, TODAY)
    assert [(ln.source, ln.cost_line, ln.asked, ln.retainage) for ln in done.lines] == [
        ("OWN", "B20", 380_000, 0),
        ("LOAN", "B20", 2_600_000, 0),
        ("LOAN", "B30", 1_700_000, 100_000),
        ("LOAN", "FEES", 50_000, 0),
    ]
    assert done.asked == 4_730_000
    assert project.tables()["draw_lines"] == done.lines
    assert (done.draw.state, done.draw.period_to) == ("draft", END)
    assert project.check() == ()


def test_it_names_what_it_covers_and_leaves_what_equity_paid_and_what_is_not_due(
    project: ProjectFile,
) -> None:
    done = prepare_draw(project, 1, END, TODAY)
    assert named(project, 1) == (["C1/1"], ["I-NEW", "I-WORK"])
    assert (done.applications, done.invoices) == ((("C1", 1),), ("I-NEW", "I-WORK"))
    notes = " / ".join(done.notes)
    assert "B20: 25,200.00 stays out, deposits or stored goods" in notes
    assert "application C1/2 is not in it, closed: verified" in notes
    assert "LOAN is asked for 43,500.00, less than its minimum of 90,000.00" in notes


def test_the_package_is_listed_with_the_state_of_each_paper(project: ProjectFile) -> None:
    papers = {p.what: (p.state, p.reason) for p in prepare_draw(project, 1, END, TODAY).papers}
    assert papers["applications"] == ("present", "1 application")
    assert papers["invoices"] == ("missing", "no evidence for I-NEW, I-WORK")
    assert papers["title date-down"][0] == "missing"


def test_the_lines_foot_to_the_columns_of_the_answer(project: ProjectFile) -> None:
    done = prepare_draw(project, 1, END, TODAY)
    found = draws_answer.from_rows(project.tables(), TODAY).draws[0]
    assert found.total.this_draw_cents == done.asked
    assert every(line.left_cents >= 0 for line in found.lines)


def test_a_second_draw_asks_only_what_came_since(project: ProjectFile) -> None:
    prepare_draw(project, 1, END, TODAY)
    save(project, "draws", "1", {"state": "sent", "sent": "2027-04-10"})
    with pytest.raises(ProblemError, match="sent already"):
        prepare_draw(project, 1, END, TODAY)
    done = prepare_draw(project, 2, TODAY, TODAY)
    assert [(ln.source, ln.cost_line, ln.asked) for ln in done.lines] == [("LOAN", "FEES", 7_000)]
    assert (done.applications, done.invoices) == ((), ("I-LATE",))
    with pytest.raises(ProblemError, match="nothing can be asked"):
        prepare_draw(project, 3, TODAY, TODAY)


def test_what_a_returned_draw_covered_goes_into_the_next(project: ProjectFile) -> None:
    first = prepare_draw(project, 1, END, TODAY)
    save(project, "draws", "1", {"state": "returned", "sent": "2027-04-10"})
    second = prepare_draw(project, 2, END, TODAY)
    assert second.asked == first.asked
    assert (second.applications, second.invoices) == (first.applications, first.invoices)
    assert named(project, 1) == ([], [])


def test_a_draft_prepared_again_is_the_same(project: ProjectFile) -> None:
    prepare_draw(project, 1, END, TODAY)
    assert prepare_draw(project, 1, END, TODAY).step is None
    save(project, "draw_lines", "1/LOAN/FEES", {"asked": "400"})
    done = prepare_draw(project, 1, END, TODAY)
    assert done.step is not None
    assert any("asked 47,200.00 before" in note for note in done.notes)


def test_a_line_above_its_budget_is_refused_until_budget_is_moved(project: ProjectFile) -> None:
    """The roof's budget is 10,000 short of 17,000 once 30,000 are moved away."""
    moved = {
        "from": "B30",
        "to": "B20",
        "amount": "30000",
        "date": "2027-04-01",
        "reason": "stairs",
    }
    save(project, "budget_moves", "M1", moved)
    before = project.tables()
    with pytest.raises(ProblemError, match=r"cost_lines B30, budget.*7,000\.00.*move budget"):
        prepare_draw(project, 1, END, TODAY)
    assert project.tables() == before
    done = prepare_draw(project, 1, END, TODAY, leave_out_above_budget=True)
    assert [ln.asked for ln in done.lines if ln.cost_line == "B30"] == [1_000_000]
    assert any(
        "B30: 7,000.00 stays out, above the line's budget now" in note for note in done.notes
    )


@pytest.mark.parametrize(
    ("number", "end", "words"),
    [
        (0, END, "draws 0"),
        (1, END, "later draw, 2"),
        (3, dt.date(2027, 3, 1), "before that of an earlier draw"),
    ],
)
def test_numbers_and_periods_run_forward(
    project: ProjectFile, number: int, end: dt.date, words: str
) -> None:
    prepare_draw(project, 2, END, TODAY)
    before = project.tables()
    with pytest.raises(ProblemError, match=words):
        prepare_draw(project, number, end, TODAY)
    assert project.tables() == before


def test_an_application_waits_for_the_one_before_it(project: ProjectFile) -> None:
    """The second application is cleared, but the first lost a gate: what is due on the second rests
    on the first.
    """
    save(project, "applications", "C1/2", {"verified_on": "2027-04-09"})
    for number, gate in enumerate(GATES):
        save(
            project,
            "overrides",
            f"N{number}",
            {"what": gate, "key": "C1/2", "date": "2027-04-09", "reason": "seen"},
        )
    save(project, "overrides", "O2", {"key": "C1/9"})
    done = prepare_draw(project, 1, END, TODAY)
    assert done.applications == ()
    assert "application C1/1 is not in it, closed: license" in done.notes
    assert "application C1/2 is not in it, one before it is not cleared" in done.notes


def test_undo_gives_the_first_state_byte_for_byte(project: ProjectFile, tmp_path: Path) -> None:
    before, steps = exported(project, tmp_path / "a"), len(project.history())
    prepare_draw(project, 1, END, TODAY)
    assert len(project.history()) == steps + 1
    assert exported(project, tmp_path / "b") != before
    project.undo()
    assert exported(project, tmp_path / "c") == before


def test_the_sample_projects_draft_was_put_together_by_hand_and_comes_out_the_same(
    sample: ProjectFile,
) -> None:
    """Without its lines and without the column draw, the fourth draw is found again: lines,
    applications, invoices.
    """
    day = dt.date(2026, 7, 17)
    lines = {ln for ln in sample.tables()["draw_lines"] if ln.draw == 4}
    covered = named(sample, 4)
    for code in covered[0]:
        save(sample, "applications", code, {"draw": ""})
    for code in covered[1]:
        save(sample, "invoices", code, {"draw": ""})
    done = prepare_draw(sample, 4, day, day)
    assert set(done.lines) == lines
    assert named(sample, 4) == covered
