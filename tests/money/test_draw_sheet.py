"""The columns of a draw and the room for the next, line by line."""

from __future__ import annotations

from tests.money.making import TODAY, Site, cents, day
from tracker.answers.draw_rows import DrawRow
from tracker.answers.draws import DrawsAnswer, from_rows
from tracker.money.records import BudgetMove, Draw, DrawLine, Invoice, Source
from tracker.values.records import new


def site(bill: float = 100, budget: float = 1_000) -> Site:
    """A budget on A and B, a loan and other money, a bill on A."""
    made = (
        Site()
        .cost_lines("A", "B", budget=budget)
        .add(new(Invoice, code="I", cost_line="A", amount=cents(bill), date=day("1-5")))
    )
    made.add(
        new(Source, code="LOAN", kind="loan", amount=cents(5_000)),
        new(Source, code="AID", kind="other", amount=cents(5_000)),
    )
    return made


def draw(made: Site, number: int, state: str, *lines: tuple[str, str, float, float]) -> Site:
    """A draw; lines: source, cost line, asked, held back."""
    made.add(
        new(
            Draw,
            number=number,
            state=state,
            sent=day("2-1"),
            funded_on=day("3-1") if state == "funded" else None,
        )
    )
    for source, line, asked, held in lines:
        row = new(
            DrawLine,
            draw=number,
            source=source,
            cost_line=line,
            asked=cents(asked),
            retainage=cents(held),
        )
        made.add(row)
    return made


def row(found: DrawsAnswer, line: str = "A", number: int = 1) -> DrawRow:
    """One line of a draw."""
    return next(
        one for d in found.draws if d.number == number for one in d.lines if one.cost_line == line
    )


def test_a_line_that_two_sources_fund_is_one_line_of_both_with_what_both_hold_back() -> None:
    made = draw(site(), 1, "funded", ("LOAN", "A", 30, 3), ("AID", "A", 20, 2), ("LOAN", "B", 7, 1))
    found = from_rows(draw(made, 2, "draft", ("AID", "A", 11, 4)).tables, TODAY)
    assert (row(found).this_draw_cents, row(found).retainage_cents) == (cents(50), cents(5))
    second = row(found, number=2)
    assert (second.drawn_before_cents, second.this_draw_cents, second.retainage_cents) == (
        cents(50),
        cents(11),
        cents(4),
    )
    assert (row(found, "B", 2).drawn_before_cents, row(found, "B", 2).drawn_to_date_cents) == (
        cents(7),
        cents(7),
    )
    assert found.draws[1].total.drawn_before_cents == cents(57)


def test_a_returned_draw_holds_nothing_back_and_brings_nothing() -> None:
    found = from_rows(draw(site(), 1, "returned", ("LOAN", "A", 30, 3)).tables, TODAY)
    assert (row(found).this_draw_cents, row(found).retainage_cents) == (0, 0)


def test_a_line_may_be_drawn_up_to_its_budget_to_the_cent() -> None:
    """40 drawn of a budget of 100: 60 more fit, and a cent above stays out."""
    made = draw(site(100, budget=100), 1, "funded", ("LOAN", "A", 40, 0))
    found = from_rows(made.tables, TODAY)
    assert [(a.cost_line, a.cents) for a in found.next_draw] == [("A", cents(60))]
    assert found.kept_out == ()
    made.tables["invoices"][0] = new(
        Invoice, code="I", cost_line="A", amount=cents(100) + 1, date=day("1-5")
    )
    found = from_rows(made.tables, TODAY)
    assert [(a.cost_line, a.cents) for a in found.next_draw] == [("A", cents(60))]
    assert [(k.cost_line, k.cents) for k in found.kept_out] == [("A", 1)]


def test_a_line_whose_budget_was_moved_away_is_not_drawn_above_it_while_nothing_is_drawn() -> None:
    made = draw(site(), 1, "draft", ("LOAN", "B", 10, 0))
    made.add(new(BudgetMove, number="M", from_="A", to="B", amount=cents(1_200), date=day("1-5")))
    found = from_rows(made.tables, TODAY)
    assert (row(found).budget_now_cents, row(found).left_cents, row(found).above_budget_cents) == (
        cents(-200),
        cents(-200),
        0,
    )


def test_the_share_done_is_of_the_budget_now_and_nothing_without_one() -> None:
    found = from_rows(draw(site(budget=300), 1, "draft", ("LOAN", "A", 100, 0)).tables, TODAY)
    assert row(found).share_bp == 3_333
    assert (
        from_rows(draw(site(budget=0), 1, "draft", ("LOAN", "A", 100, 0)).tables, TODAY)
        .draws[0]
        .lines[0]
        .share_bp
        is None
    )


def test_sources_are_filled_one_after_the_other_over_the_lines() -> None:
    """A loan of 80 and 5,000 of other money: A takes 80 of its 100 from the loan and 20 from the
    other, B all from the other.
    """
    made = site().add(new(Invoice, code="J", cost_line="B", amount=cents(50), date=day("1-5")))
    made.tables["sources"][0] = new(Source, code="LOAN", kind="loan", amount=cents(80))
    found = from_rows(made.tables, TODAY)
    assert [(a.source, a.cost_line, a.cents) for a in found.next_draw] == [
        ("LOAN", "A", cents(80)),
        ("AID", "A", cents(20)),
        ("AID", "B", cents(50)),
    ]


def test_what_no_source_has_left_stays_out() -> None:
    made = site()
    made.tables["sources"] = [new(Source, code="LOAN", kind="loan", amount=cents(80))]
    found = from_rows(made.tables, TODAY)
    assert [(k.cost_line, k.cents, k.reason) for k in found.kept_out] == [
        ("A", cents(20), "the sources are used up")
    ]
