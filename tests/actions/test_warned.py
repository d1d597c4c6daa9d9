"""An import takes odd money and warns of it."""

import datetime as dt
import json

import pytest

from tests.harness.common import command
from tracker.actions.folders import new_project
from tracker.actions.opening import open_project
from tracker.actions.rows import save
from tracker.actions.warned import money_warnings
from tracker.values.problems import ProblemError

FILES = {
    "cost_lines.csv": "code,budget\nHARD,5000.00\n",
    "contractors.csv": "code,name\nACME,Acme of Nowhere\n",
    "contracts.csv": "code,contractor,signed,sum\nC1,ACME,2026-01-05,1000.00\n",
    "contract_lines.csv": "contract,line,cost_line,value\nC1,L1,HARD,1000.00\n",
    "applications.csv": "contract,number,period_to,verified_on\nC1,1,2026-02-01,2026-02-02\n",
    "application_lines.csv": "contract,number,line,claimed,verified\nC1,1,L1,300.00,300.00\n",
}


def warned(tmp_path, paid):
    folder = tmp_path / "folder"
    folder.mkdir()
    for name, text in FILES.items():
        (folder / name).write_text(text)
    payment = f"code,kind,contract,application,date,amount\nP1,application,C1,1,2026-02-06,{paid}\n"
    (folder / "payments.csv").write_text(payment)
    new_project(tmp_path / "p.db", folder=folder)
    with open_project(tmp_path / "p.db") as project:
        return money_warnings(project, dt.date(2026, 3, 1))


def test_a_payment_of_what_is_payable_is_no_matter(tmp_path):
    assert warned(tmp_path, "300.00") == ()


def test_a_payment_a_cent_above_what_is_payable_is_taken_and_warned_of(tmp_path):
    (warning,) = warned(tmp_path, "300.01")
    assert "P1" in warning
    assert "300.00" in warning


def test_a_check_says_the_same_words_and_they_are_no_fault(tmp_path):
    (words,) = warned(tmp_path, "300.01")
    code, out, err = command("check", tmp_path / "p.db", "--today", "2026-03-01")
    assert (code, err) == (0, "")
    assert out == f"warning: {words}\n0 faults, 1 warning found.\n"
    code, out, _ = command("check", tmp_path / "p.db", "--today", "2026-03-01", "--json")
    assert code == 0
    assert json.loads(out) == {"ok": True, "faults": [], "warnings": [words]}


def test_a_check_without_odd_money_warns_of_nothing(tmp_path):
    assert warned(tmp_path, "300.00") == ()
    code, out, _ = command("check", tmp_path / "p.db", "--today", "2026-03-01")
    assert (code, out) == (0, f"{tmp_path / 'p.db'}: all in order.\n")


def test_a_check_that_finds_a_fault_still_ends_in_one_and_says_both(tmp_path):
    (words,) = warned(tmp_path, "300.01")
    with open_project(tmp_path / "p.db") as project:
        save(
            project,
            "applications",
            "C1/2",
            {"period_to": "2026-02-07", "verified_on": "2026-02-20"},
        )
    code, out, _ = command("check", tmp_path / "p.db", "--today", "2026-02-10")
    assert code == 1
    assert "after today" in out.splitlines()[0]
    assert out.splitlines()[1:] == [f"warning: {words}", "1 fault, 1 warning found."]


def test_a_payment_typed_in_is_warned_of_in_the_same_words(tmp_path):
    assert warned(tmp_path, "300.00") == ()
    cells = {
        "kind": "application",
        "contract": "C1",
        "application": "1",
        "date": "2026-02-13",
        "amount": "0.01",
    }
    with open_project(tmp_path / "p.db") as project:
        saved = save(project, "payments", "P2", cells, today=dt.date(2026, 3, 1))
        again = save(project, "payments", "P2", {"note": "on the job"}, today=dt.date(2026, 3, 1))
    assert "300.01 was paid" in saved.notes[0]
    assert again.notes == ()


def test_what_the_project_began_from_is_not_undone(tmp_path):
    warned(tmp_path, "300.00")
    with open_project(tmp_path / "p.db") as project:
        save(project, "cost_lines", "HARD", {"budget": "6000.00"})
        project.undo()
        with pytest.raises(ProblemError, match="nothing to undo"):
            project.undo()
        assert len(project.tables()["contracts"]) == 1
