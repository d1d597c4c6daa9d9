"""Questions of money: each is read by its rule, an answer that is none is taken as no answer, and
the form offers them.
"""

from __future__ import annotations

import pytest

from tests.money.making import TODAY, Site, cents, day
from tracker.answers.cost import from_rows as cost
from tracker.answers.draws import from_rows as draws
from tracker.approvals.records import Answer
from tracker.money.questions import QUESTIONS
from tracker.money.records import Source
from tracker.money.yield_on_cost import level_payment
from tracker.values.project import Space
from tracker.values.records import new


def answered(question: str, answer: str) -> Site:
    """A loan of 750,000 at 8 %, 8,000 of rent a month, one answer."""
    site = (
        Site()
        .cost_lines("A", budget=1_000_000)
        .add(new(Space, code="S", rent_per_month=cents(8_000)))
    )
    site.add(new(Source, code="LOAN", kind="loan", amount=cents(750_000), rate=8_000))
    return site.add(
        new(Answer, question=question, answer=answer, source="statute", checked_on=day("1-5"))
    )


@pytest.mark.parametrize(
    ("answer", "years"),
    [("15", 15), ("50", 50), ("1", 1), ("51", 25), ("0", 25), ("ten", 25), ("", 25), ("2.5", 25)],
)
def test_the_owner_says_in_how_many_years_the_loans_are_paid_off(answer: str, years: int) -> None:
    found = cost(answered("loan_years", answer).tables, TODAY)
    times = 96_000_00 * 1_000 / (12 * level_payment(cents(750_000), 8_000, 12 * years))
    assert found.loan_coverage is not None
    assert abs(float(found.loan_coverage) * 1_000 - times) <= 0.5
    (words,) = [text for text in found.assumptions if "level payments" in text]
    assert f"over {years} years" in words
    assert ("no source" in words) == (years == 25)


def test_the_states_lien_days_stand_with_their_source_and_day_of_checking() -> None:
    rule = draws(answered("lien_days", "120").tables, TODAY).lien_rule
    assert rule is not None
    assert (rule.days, rule.source, rule.checked_on) == (120, "statute", day("1-5"))
    for answer in ("", "four months", "-3", "12345", "1.5"):
        assert draws(answered("lien_days", answer).tables, TODAY).lien_rule is None


def test_the_form_of_an_answer_offers_each_question_that_is_not_answered_yet() -> None:
    from tracker.screens.entry.fields import known_rows
    from tracker.values.records import key_columns

    (column,) = key_columns(Answer)
    known = known_rows(column, {"answers": (new(Answer, question="state"),)}, "answers")
    assert known is not None
    assert set(QUESTIONS) - set(known.names) == {"state"}
    assert "owner_contractor" in known.names
    assert known_rows(column, {}, "") is None


def test_the_form_of_a_cost_line_offers_the_standard_codes() -> None:
    from tracker.money.records import CostLine
    from tracker.screens.entry.fields import known_rows
    from tracker.values.records import columns_of, key_columns

    (column,) = key_columns(CostLine)
    known = known_rows(column, {"cost_lines": (new(CostLine, code="D20"),)}, "cost_lines")
    assert known is not None
    assert "D20" not in known.names
    assert known.names["D50"] == "Electrical"
    name = next(c for c in columns_of(CostLine) if c.name == "name")
    assert known_rows(name, {}, "cost_lines") is None
