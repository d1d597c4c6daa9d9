"""An import takes odd money and warns of it."""

import datetime as dt

from tracker.actions.folders import new_project
from tracker.actions.opening import open_project
from tracker.actions.warned import money_warnings

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
