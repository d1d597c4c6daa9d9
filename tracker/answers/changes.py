"""Changes: what changed, who agreed, what does it do to money and time?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from tracker.answers.known_plan import plan_of
from tracker.money.applications import accounts
from tracker.money.books import Books
from tracker.money.contingency import contingencies
from tracker.money.cost_lines import AskedChanges, CostLineState, cost_lines
from tracker.money.paid import paid
from tracker.money.records import Change
from tracker.money.schedule_of_values import is_approved, is_pending
from tracker.project_file.store import ProjectFile
from tracker.schedule.lateness import cost_of_move
from tracker.schedule.path.change_days import with_days
from tracker.schedule.path.plan import Plan
from tracker.schedule.records import StepCost
from tracker.tables.books import books_of
from tracker.tables.step_costs import step_costs
from tracker.values.grouped import grouped
from tracker.values.records import Rows


@dataclass(frozen=True, slots=True)
class ChangeLineRow:
    """One line of a change's price."""

    line: str
    name: str
    cost_line: str
    amount_cents: int


@dataclass(frozen=True, slots=True)
class Effect:
    """What a change that is asked for does to money and time.

    Days are calendar days on the opening.

    contingency: what both contingencies have left, together.
    opening_with: the change's working days added to each unfinished activity that it names.
    """

    forecast_without_cents: int
    forecast_with_cents: int
    contingency_without_cents: int
    contingency_with_cents: int
    opening_without: dt.date | None
    opening_with: dt.date | None
    opening_days: int | None
    opening_cost_cents: int | None


@dataclass(frozen=True, slots=True)
class ChangeRow:
    """One change. price_cents: the sum of its lines. days: working days that it adds. effect: while
    it is asked for only.
    """

    number: str
    contract: str
    contractor: str
    title: str
    reason: str
    asked_by: str
    state: str
    noticed: dt.date | None
    priced: dt.date | None
    approved: dt.date | None
    price_cents: int
    days: int | None
    activities: tuple[str, ...]
    days_open: int | None
    lines: tuple[ChangeLineRow, ...]
    effect: Effect | None


@dataclass(frozen=True, slots=True)
class ChangesAnswer:
    """All changes in row order, with what is approved and what is asked for. Cents."""

    changes: tuple[ChangeRow, ...]
    approved_cents: int
    asked_for_cents: int
    forecast_opening: dt.date | None
    cost_of_a_day_cents: int


@dataclass(frozen=True, slots=True)
class _Known:
    """What every change is held against.

    asked: the cost lines with all that is asked for. contingency: what both have left, in cents.
    """

    rows: Rows
    books: Books
    asked: AskedChanges
    contingency: int
    plan: Plan
    cost_of_a_day: int
    steps: tuple[StepCost, ...]


def answer(project: ProjectFile, today: dt.date) -> ChangesAnswer:
    """The answer for a project file on a day."""
    return from_rows(project.tables(), today)


def from_rows(rows: Rows, today: dt.date, plan: Plan | None = None) -> ChangesAnswer:
    """The answer from a project's rows. plan: if it is computed already."""
    from tracker.money.cost_of_a_day import day_of

    books = books_of(rows, today)
    lines = cost_lines(books, paid(books, accounts(books)))
    known = _Known(
        rows=rows,
        books=books,
        asked=AskedChanges(books, lines),
        contingency=_contingency_left(lines),
        plan=plan or plan_of(rows),
        cost_of_a_day=day_of(books).total_cents,
        steps=step_costs(rows),
    )
    changes = tuple(change_row(known, change) for change in rows.get("changes", ()))
    return ChangesAnswer(
        changes=changes,
        approved_cents=sum(
            r.price_cents
            for r, c in zip(changes, rows.get("changes", ()), strict=True)
            if is_approved(c, today)
        ),
        asked_for_cents=sum(c.price_cents for c in changes if c.effect is not None),
        forecast_opening=known.plan.opening,
        cost_of_a_day_cents=known.cost_of_a_day,
    )


def change_row(known: _Known, change: Change) -> ChangeRow:
    """One change."""
    contract = known.books.contracts.get(change.contract)
    lines = grouped(known.books.table("change_lines"), "change").get(change.number, ())
    asked = is_pending(change, known.books.today)
    return ChangeRow(
        number=change.number,
        contract=change.contract,
        contractor=contract.contractor if contract else "",
        title=change.title,
        reason=change.reason,
        asked_by=change.asked_by,
        state=change.state,
        noticed=change.noticed,
        priced=change.priced,
        approved=change.approved,
        price_cents=sum(line.amount for line in lines),
        days=change.days,
        activities=change.activities,
        days_open=(known.books.today - change.noticed).days if asked and change.noticed else None,
        lines=tuple(
            ChangeLineRow(line.line, line.name or line.line, line.cost_line, line.amount)
            for line in lines
        ),
        effect=effect(known, change) if asked else None,
    )


def effect(known: _Known, change: Change) -> Effect:
    """Forecast, contingency and opening without the change and with it."""
    without = known.asked.without(change.number)
    lines = known.asked.lines
    now, then = known.plan.opening, opening_with(known, change)
    moved = (then - now).days if now and then else None
    return Effect(
        forecast_without_cents=known.asked.forecast_with(without),
        forecast_with_cents=known.asked.forecast,
        contingency_without_cents=known.contingency
        + _contingency_left(without.values())
        - _contingency_left(lines[code] for code in without),
        contingency_with_cents=known.contingency,
        opening_without=now,
        opening_with=then,
        opening_days=moved,
        opening_cost_cents=(
            cost_of_move(known.steps, now, then, known.cost_of_a_day) if now and then else None
        ),
    )


def _contingency_left(lines: Iterable[CostLineState]) -> int:
    """What both contingencies have left together, in cents."""
    return sum(one.left for one in contingencies(tuple(lines), None, None))


def opening_with(known: _Known, change: Change) -> dt.date | None:
    """The opening if each unfinished activity that the change names took its days longer."""
    if not change.days or not change.activities:
        return known.plan.opening
    return with_days(known.rows, known.plan, change.activities, change.days).plan.opening
