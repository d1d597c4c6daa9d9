"""Loans: shares of cost and value, and the order in which equity and loan are used."""

from __future__ import annotations

from tests.money.making import TODAY, Site, cents, day
from tracker.answers.cost import from_rows as cost
from tracker.answers.draws import from_rows as draws
from tracker.money.loan_limits import CONSTRUCTION, SUPERVISORY_LIMITS_BP
from tracker.money.records import Invoice, Source
from tracker.values.project import Project
from tracker.values.records import new


def financed() -> Site:
    """A cost of 1,000,000: 250,000 equity, 750,000 loan; 310,000 of bills paid by the owner."""
    site = Site().cost_lines("A", budget=1_000_000)
    site.add(new(Source, code="LOAN", kind="loan", amount=cents(750_000)))
    site.add(new(Source, code="OWN", kind="equity", amount=cents(250_000)))
    site.add(new(Invoice, code="I1", cost_line="A", amount=cents(310_000), date=day("2-1")))
    return site.pay("2-15", 310_000, kind="invoice", invoice="I1")


def test_loan_to_cost_and_loan_to_value() -> None:
    """12 CFR 365, subpart A, appendix A (read): 80 % of value for commercial construction. 750,000
    of 1,000,000 is 75 %.
    """
    site = financed().add(new(Project, value_when_done=cents(1_000_000)))
    found = cost(site.tables, TODAY)
    assert (found.loan_to_cost_bp, found.loan_to_value_bp) == (7_500, 7_500)
    assert SUPERVISORY_LIMITS_BP[CONSTRUCTION] == 8_000


def test_equity_first_then_loan() -> None:
    """Equity first (rule from memory, numbers ours): of 310,000 spent, 250,000 is equity and 60,000
    comes from the loan.
    """
    found = draws(financed().tables, TODAY)
    assert [(s.code, s.used_cents, s.left_cents) for s in found.sources] == [
        ("OWN", cents(250_000), 0),
        ("LOAN", 0, cents(750_000)),
    ]
    assert found.floated_cents == cents(60_000)
    assert [(ask.source, ask.cost_line, ask.cents) for ask in found.next_draw] == [
        ("LOAN", "A", cents(60_000))
    ]


def test_after_that_draw_the_loan_has_690_000_left() -> None:
    """The same example, drawn: 60,000 of the loan used, 690,000 left, nothing floated."""
    from tracker.money.records import Draw, DrawLine

    site = financed().add(new(Draw, number=1, state="funded", funded_on=day("3-1")))
    site.add(
        new(
            DrawLine,
            draw=1,
            source="LOAN",
            cost_line="A",
            asked=cents(60_000),
            funded=cents(60_000),
        )
    )
    found = draws(site.tables, TODAY)
    assert [(s.code, s.used_cents, s.left_cents) for s in found.sources] == [
        ("OWN", cents(250_000), 0),
        ("LOAN", cents(60_000), cents(690_000)),
    ]
    assert found.floated_cents == 0


def test_income_covers_the_interest_of_a_year() -> None:
    """750,000 at 8 % costs 60,000 a year; 96,000 of income cover it 1.6 times (own numbers)."""
    from tracker.values.project import Space

    site = financed().add(new(Space, code="S", rent_per_month=cents(8_000)))
    site.tables["sources"][0] = new(
        Source, code="LOAN", kind="loan", amount=cents(750_000), rate=8_000
    )
    assert cost(site.tables, TODAY).interest_coverage == "1.600"


def test_income_covers_level_payments() -> None:
    """750,000 at 8 % over 300 months: against the annuity formula in decimal arithmetic of 50
    digits (own numbers).
    """
    from decimal import Decimal, localcontext

    from tracker.money.yield_on_cost import level_payment
    from tracker.values.project import Space

    with localcontext() as context:
        context.prec = 50
        month = Decimal(8) / 1200
        annuity = Decimal(750_000) * month / (1 - (1 + month) ** -300)
    assert level_payment(cents(750_000), 8_000, 300) == int((annuity * 100).quantize(Decimal(1)))
    site = financed().add(new(Space, code="S", rent_per_month=cents(8_000)))
    site.tables["sources"][0] = new(
        Source, code="LOAN", kind="loan", amount=cents(750_000), rate=8_000
    )
    assert cost(site.tables, TODAY).loan_coverage == "1.382"


def test_a_lender_that_pays_in_proportion_leaves_the_owner_the_rest() -> None:
    """Pro rata (own numbers): of 310,000 spent the loan pays 75 %, 232,500, and 77,500 stay with
    the owner.
    """
    from tracker.money.records import Draw, DrawLine

    site = financed().add(new(Draw, number=1, state="funded", funded_on=day("3-1")))
    site.add(
        new(
            DrawLine,
            draw=1,
            source="LOAN",
            cost_line="A",
            asked=cents(232_500),
            funded=cents(232_500),
        )
    )
    found = draws(site.tables, TODAY)
    assert [(s.code, s.used_cents, s.left_cents) for s in found.sources] == [
        ("OWN", cents(77_500), cents(172_500)),
        ("LOAN", cents(232_500), cents(517_500)),
    ]


def earning_site() -> Site:
    """A budget of 1,000,000 with 750,000 borrowed at 8 %, 96,000 of rent a year and a day that
    costs 500.
    """
    from tracker.values.project import Space

    site = Site().cost_lines("A", "B", budget=500_000)
    site.add(new(Source, code="LOAN", kind="loan", amount=cents(750_000), rate=8_000))
    site.add(new(Space, code="S", rent_per_month=cents(8_000)))
    return site.add(
        new(Project, loan_interest_per_day=cents(300), insurance_per_day=cents(200), rent_per_day=0)
    )


def test_late_months_lower_yield_and_coverage() -> None:
    """96,000 / 1,000,000 is 9.60 %; three months late cost 45,000: 9.19 % (own numbers).

    With that borrowed too: 96,000 over twelve level payments on 795,000 at 8 % over 300 months,
    found in decimal arithmetic.
    """
    from decimal import Decimal

    found = cost(earning_site().tables, TODAY)
    assert found.yield_on_cost_bp == 960
    late = [(one.what[:7], one.yield_bp, one.forecast_cents) for one in found.yield_if]
    assert late == [
        ("open a ", 946, cents(1_015_000)),
        ("open 2 ", 932, cents(1_030_000)),
        ("open 3 ", 919, cents(1_045_000)),
    ]
    month = Decimal(8) / 1200
    payment = Decimal(795_000) * month / (1 - (1 + month) ** -300)
    assert found.yield_if[2].loan_coverage == str(
        (96_000 / (12 * payment)).quantize(Decimal("0.001"))
    )
    assert found.loan_coverage is not None
    assert found.yield_if[2].loan_coverage < found.yield_if[0].loan_coverage < found.loan_coverage


def test_a_change_asked_for_shows_what_the_yield_would_be_without_it_and_a_move_does_not() -> None:
    """A change of 60,000 on a line that has 10,000 to spare costs 50,000.

    A move of budget is paper: it costs nothing by itself, and is not told as if it did.
    """
    from tracker.money.records import BudgetMove

    site = earning_site().contract("C1", {"A": 500_000}).contract("C2", {"B": 490_000})
    site.change("CO1", "C1", {"A": 60_000})
    site.add(new(BudgetMove, number="M1", from_="B", to="A", amount=cents(10_000), date=day("1-5")))
    found = cost(site.tables, TODAY)
    assert found.total.forecast_cents == cents(1_050_000)
    assert [(one.what, one.forecast_cents) for one in found.yield_if[3:]] == [
        ("without the change CO1 that is asked for", cents(1_000_000)),
    ]
