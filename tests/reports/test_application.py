"""A pay application on paper: three plain groups, lines that foot to them, and why it may be paid
or not.
"""

from __future__ import annotations

from typing import Any

import pytest

from tests.every import every
from tests.reports.reading import TODAY, text, workbook
from tracker.answers import draws
from tracker.reports.printing import made
from tracker.values.money import dollars
from tracker.values.problems import ProblemError

Rows = dict[str, tuple[Any, ...]]


def one(rows: Rows, contract: str, number: int) -> Any:
    """An application of the answer."""
    found = draws.from_rows(rows, TODAY).applications
    return next(a for a in found if (a.contract, a.number) == (contract, number))


def test_the_three_groups_stand_as_the_answer_has_them(rows: Rows) -> None:
    answer, said = one(rows, "C04", 8), text(made(rows, TODAY, "application", ".pdf", "C04/8").data)
    for words, cents in (
        ("The contract as signed", answer.as_signed_cents),
        ("approved changes", answer.changes_cents),
        ("The work in place to date", answer.in_place_cents),
        ("earned", answer.earned_cents),
        ("The money held back", answer.retainage_cents),
        ("approved before", answer.approved_before_cents),
        ("due now", answer.due_cents),
        ("still to pay on this contract", answer.still_to_pay_cents),
    ):
        assert f"{words} {dollars(cents)}" in said, words
    assert answer.still_to_pay_cents == answer.contract_now_cents - (
        answer.earned_cents - answer.retainage_cents
    )


def test_a_gate_that_was_set_aside_is_printed_with_its_reason(rows: Rows) -> None:
    aside = [gate for gate in one(rows, "C04", 8).gates if gate.overridden]
    said = text(made(rows, TODAY, "application", ".pdf", "C04/8").data)
    assert aside
    assert every(gate.reason in said for gate in aside)


def test_lines_foot_to_the_sums_for_every_application(rows: Rows) -> None:
    for answer in draws.from_rows(rows, TODAY).applications:
        name = f"{answer.contract}/{answer.number}"
        book = workbook(made(rows, TODAY, "application", ".xlsx", name).data, values=True)
        sheet = book[f"Lines {answer.contract} {answer.number}"]
        table = [row for row in sheet.iter_rows(values_only=True) if row[2] is not None]
        lines, total = table[1:-1], table[-1]
        assert total[0] == "Total"
        for place in range(2, 9):
            assert sum(round(row[place] * 100) for row in lines) == round(total[place] * 100), (
                name,
                place,
            )
        assert round(total[8] * 100) == answer.due_cents


def test_without_a_number_the_one_whose_period_ends_last_is_printed(rows: Rows) -> None:
    last = max(a.period_to for a in draws.from_rows(rows, TODAY).applications)
    said = text(made(rows, TODAY, "application", ".pdf").data)
    assert f"work through {last:%a %d %b %Y}" in said


def test_a_number_alone_prints_that_application_of_each_contract(rows: Rows) -> None:
    said = text(made(rows, TODAY, "application", ".pdf", "2").data)
    for answer in draws.from_rows(rows, TODAY).applications:
        assert (f"Contract {answer.contract}, application {answer.number}," in said) == (
            answer.number == 2
        )


def test_an_application_that_is_not_there_is_refused_with_those_that_are(rows: Rows) -> None:
    with pytest.raises(ProblemError, match="C09/2"):
        made(rows, TODAY, "application", ".pdf", "C04/77")
    with pytest.raises(ProblemError, match="no pay application yet"):
        made({}, TODAY, "application", ".pdf")


def test_what_was_paid_above_is_printed_with_its_reason(rows: Rows) -> None:
    from tracker.money.records import Payment
    from tracker.values.project import Override
    from tracker.values.records import new

    paid = new(
        Payment,
        code="X",
        kind="application",
        contract="C04",
        application=8,
        date=TODAY,
        amount=90_000_00,
    )
    aside = new(
        Override,
        code="X",
        what="payable amount",
        key="C04/8",
        date=TODAY,
        reason="the bank agreed in writing",
    )
    more = {**rows, "payments": (*rows["payments"], paid), "overrides": (*rows["overrides"], aside)}
    for name, number in (("application", "C04/8"), ("draw", "4")):
        said = text(made(more, TODAY, name, ".pdf", number).data)
        assert "payable amount set aside set aside: the bank agreed in writing" in said, name
    assert "the bank agreed" not in text(
        made({**more, "overrides": rows["overrides"]}, TODAY, "application", ".pdf", "C04/8").data
    )
