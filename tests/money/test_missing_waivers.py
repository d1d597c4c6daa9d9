"""Which waivers are missing, from whom and for how much."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.actions.exported import project_of
from tests.actions.test_pay import FILES
from tracker.actions.pay import PaymentEntry, pay
from tracker.actions.record_waiver import WaiverEntry, record_waiver
from tracker.answers.draws import answer
from tracker.project_file.store import ProjectFile

TODAY = dt.date(2027, 4, 9)
MARCH, APRIL = dt.date(2027, 3, 31), dt.date(2027, 4, 30)


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    """13,500 payable on application 1, with its conditional waiver; a supplier sent a notice;
    application 2 is entered.
    """
    with project_of(tmp_path, FILES) as opened:
        yield opened


def missing(project: ProjectFile) -> list[tuple[int, str, str, int | None, dt.date]]:
    return [
        (w.application, w.from_party, w.kind, w.amount_cents, w.through)
        for w in answer(project, TODAY).waivers_missing
    ]


def test_the_supplier_who_sent_a_notice_owes_one_for_each_period(project: ProjectFile) -> None:
    supplier = "Invented Supply"
    assert missing(project) == [
        (n, supplier, "conditional progress", None, day) for n, day in ((1, MARCH), (2, APRIL))
    ]
    entry = WaiverEntry(
        "C1", 1, "conditional progress", 100, through=MARCH, on=TODAY, from_party=supplier
    )
    record_waiver(project, entry, TODAY)
    assert missing(project) == [(2, supplier, "conditional progress", None, APRIL)]


def test_one_for_another_amount_is_missing_still(project: ProjectFile) -> None:
    pay(project, PaymentEntry("deposit", "C1", 100_000, dt.date(2027, 3, 5)), TODAY)
    row = next(w for w in answer(project, TODAY).waivers_missing if not w.from_party)
    assert (row.application, row.amount_cents, row.gate) == (1, 1_250_000, "conditional waiver")
    assert row.reason == "the conditional waiver is not for 12,500.00"


def test_the_last_payment_asks_for_its_unconditional_waiver_though_no_other_application_counts(
    project: ProjectFile,
) -> None:
    pay(project, PaymentEntry("application", "C1/1", 1_350_000, TODAY, reason="Joint check"), TODAY)
    assert (1, "", "unconditional progress", 1_350_000, MARCH) in missing(project)
    record_waiver(
        project, WaiverEntry("C1", 1, "unconditional progress", 1_350_000, MARCH, TODAY), TODAY
    )
    assert not [one for one in missing(project) if one[2] == "unconditional progress"]
