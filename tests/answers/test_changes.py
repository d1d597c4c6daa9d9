"""What a change does to money and time before it is approved."""

from __future__ import annotations

import dataclasses
import datetime as dt
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.answers.changes import ChangeRow, from_rows
from tracker.money.books import books_on
from tracker.money.contingency import contingencies
from tracker.money.cost_lines import cost_lines, forecast_without_each_change, total
from tracker.money.paid import Paid
from tracker.money.records import Change, ChangeLine, CostLine
from tracker.schedule.records import Activity, Calendar, Link
from tracker.values.project import Project
from tracker.values.records import new

TODAY = dt.date(2027, 3, 1)
NOTHING_PAID = Paid((), (), {})


def rows(**change: Any) -> dict[str, list[Any]]:
    """Frame (5 days), then doors (2); a change that adds three days to framing and 400.00
    to walls.
    """
    given = {
        "number": "CH-1",
        "title": "More studs",
        "state": "priced",
        "priced": dt.date(2027, 2, 1),
        "days": 3,
    }
    made = new(Change, **{**given, "activities": ("frame",), **change})
    return {
        "project": [new(Project, start=TODAY, tax_per_day=1_000)],
        "calendars": [new(Calendar, code="week", weekdays=("mon", "tue", "wed", "thu", "fri"))],
        "activities": [
            new(Activity, code="frame", duration=5),
            new(Activity, code="doors", duration=2),
        ],
        "links": [Link(from_="frame", to="doors")],
        "cost_lines": [
            new(CostLine, code="walls", budget=100_000, left_to_buy=100_000),
            new(CostLine, code="spare", kind="contingency_construction", budget=50_000),
        ],
        "changes": [made],
        "change_lines": [
            new(ChangeLine, change="CH-1", line="1", cost_line="walls", amount=40_000)
        ],
    }


def only(tables: dict[str, list[Any]]) -> ChangeRow:
    return from_rows(tables, TODAY).changes[0]


def test_a_change_asked_for_shows_forecast_and_opening_with_it_and_without():
    """Mon 1 March + 7 working days end on Tue 9 March; three more, over the weekend, on Fri 12
    March: 3 days x 10.00.
    """
    effect = only(rows()).effect
    assert effect is not None
    assert (effect.forecast_without_cents, effect.forecast_with_cents) == (150_000, 150_000)
    assert (effect.contingency_without_cents, effect.contingency_with_cents) == (50_000, 10_000)
    assert (effect.opening_without, effect.opening_with) == (
        dt.date(2027, 3, 9),
        dt.date(2027, 3, 12),
    )
    assert (effect.opening_days, effect.opening_cost_cents) == (3, 3_000)


def test_a_change_paid_from_the_contingency_shows_what_is_left_of_it():
    tables = rows()
    tables["change_lines"] = [
        new(ChangeLine, change="CH-1", line="1", cost_line="spare", amount=40_000)
    ]
    effect = only(tables).effect
    assert effect is not None
    assert (effect.contingency_without_cents, effect.contingency_with_cents) == (50_000, 10_000)


def test_approving_at_the_price_moves_no_forecast_and_ends_the_question():
    asked, approved = rows(), rows(state="approved", approved=TODAY)
    effect = only(asked).effect
    assert effect is not None
    assert only(approved).effect is None
    answer = from_rows(approved, TODAY)
    assert (answer.approved_cents, answer.asked_for_cents) == (40_000, 0)


def test_an_approval_still_to_come_is_asked_for_today():
    answer = from_rows(rows(state="approved", approved=TODAY + dt.timedelta(days=1)), TODAY)
    assert (answer.approved_cents, answer.asked_for_cents) == (0, 40_000)


def test_a_refused_change_does_nothing():
    answer = from_rows(rows(state="refused"), TODAY)
    assert answer.changes[0].effect is None
    assert (answer.approved_cents, answer.asked_for_cents) == (0, 0)


def test_work_that_is_done_takes_no_more_days():
    tables = rows()
    done = dataclasses.replace(tables["activities"][0], actual_start=TODAY, actual_finish=TODAY)
    tables["activities"][0] = done
    effect = only(tables).effect
    assert effect is not None
    assert effect.opening_days == 0


AMOUNTS = st.integers(-60_000, 60_000)
CHANGES = st.lists(
    st.lists(st.tuples(st.sampled_from(["walls", "spare", "roof", ""]), AMOUNTS), max_size=3),
    min_size=1,
    max_size=4,
)


@settings(max_examples=60, deadline=None)
@given(CHANGES, st.booleans(), st.sampled_from([None, 0, 70_000]))
def test_without_a_change_is_the_whole_budget_worked_out_as_if_it_had_been_refused(
    changes: list[list[tuple[str, int]]], bought_out: bool, left_to_buy: int | None
) -> None:
    tables = {
        "project": [new(Project, start=TODAY)],
        "cost_lines": [
            new(CostLine, code="walls", budget=100_000, left_to_buy=left_to_buy),
            new(CostLine, code="spare", kind="contingency_construction", budget=50_000),
            new(CostLine, code="roof", budget=30_000, bought_out=bought_out),
        ],
        "changes": [
            new(Change, number=f"CH-{n}", state="priced", priced=TODAY) for n in range(len(changes))
        ],
        "change_lines": [
            new(ChangeLine, change=f"CH-{n}", line=str(m), cost_line=cost_line, amount=amount)
            for n, lines in enumerate(changes)
            for m, (cost_line, amount) in enumerate(lines)
        ],
    }
    books = books_on(tables, TODAY)
    without_each = dict(forecast_without_each_change(books, cost_lines(books, NOTHING_PAID)))
    for row, change in zip(from_rows(tables, TODAY).changes, tables["changes"], strict=True):
        refused = [
            dataclasses.replace(c, state="refused") if c is change else c for c in tables["changes"]
        ]
        lines = cost_lines(books_on({**tables, "changes": refused}, TODAY), NOTHING_PAID)
        assert row.effect is not None
        assert (
            row.effect.forecast_without_cents
            == without_each[change.number]
            == total(lines).forecast
        )
        assert row.effect.contingency_without_cents == sum(
            one.left for one in contingencies(lines, None, None)
        )
        assert row.effect.forecast_with_cents == total(cost_lines(books, NOTHING_PAID)).forecast
