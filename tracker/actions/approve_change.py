"""A change is approved: its price joins the contract and its days the schedule, both in one step;
or it is refused.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from dataclasses import dataclass

from tracker.actions.keeping import Sound, row_there, sound, step
from tracker.actions.rows import Saved
from tracker.money.applications import period_of
from tracker.money.books import is_verified
from tracker.money.change_effect import MoneyNow, money_now
from tracker.money.cost_of_a_day import cost_of_a_day
from tracker.money.records import Change, Contract
from tracker.project_file.store import ProjectFile, StaleError, Step
from tracker.schedule.path.change_days import Lengthened, with_days
from tracker.schedule.path.plan import compute
from tracker.schedule.path.what_if import WhatIf, what_if
from tracker.schedule.records import Activity
from tracker.tables.books import books_of
from tracker.tables.row_edits import with_row
from tracker.tables.step_costs import step_costs
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows


@dataclass(frozen=True, slots=True)
class Approved:
    """What an approval did, or would do (step: None). days: calendar days by which the opening
    moves; cost: of those days, with step costs passed, cents.

    price: what joins the contract, cents. before, after: the money as it stood, asked for, and as
    it stands. lengthened: activities that took the change's days. notes: what the owner should
    know.
    """

    step: Step | None
    change: Change
    price: int
    old_opening: dt.date | None
    new_opening: dt.date | None
    days: int
    cost: int
    before: MoneyNow
    after: MoneyNow
    lengthened: tuple[str, ...]
    effect: WhatIf
    notes: tuple[str, ...]

    @property
    def forecast_before(self) -> int:
        """The forecast at completion before, in cents."""
        return self.before.forecast

    @property
    def forecast_after(self) -> int:
        """The forecast at completion after, in cents.

        A change asked for at its price was in the forecast already.
        """
        return self.after.forecast


def approve_change(
    project: ProjectFile,
    number: str,
    on: dt.date,
    today: dt.date,
    expected: Change | None = None,
    only_try: bool = False,
) -> Approved:
    """Approve a priced change on a day: money and schedule together, or neither.

    Its lines join the contract as of that day; its days are added to each unfinished activity that
    it names, which carries the change's number as its reason. expected: the change as it was shown;
    StaleError if it is no longer so. only_try: tell what it would do and write nothing.
    ProblemError for a change that is not there, not priced, of no contract, refused, approved
    already, or of a day that can't be.
    """

    def change(before: Rows) -> tuple[Sound, Approved]:
        old = _change(before, number)
        new = dataclasses.replace(old, state="approved", approved=on)
        if expected is not None and expected != old:
            raise StaleError(expected, old, new)
        if problem := _why_not(before, old, on, today):
            raise ProblemError(problem)
        now = compute(before)
        longer = with_days(before, now, old.activities, old.days or 0, number)
        after = sound(before, with_row(longer.rows, new, old))
        effect = what_if(
            now, longer.plan, cost_of_a_day(before, today).total_cents, step_costs(before)
        )
        money = [money_now(books_of(rows, today), old.contract) for rows in (before, after)]
        return after, Approved(
            step=None,
            change=new,
            price=sum(
                line.amount for line in before.get("change_lines", ()) if line.change == number
            ),
            old_opening=effect.old_opening,
            new_opening=effect.new_opening,
            days=effect.days,
            cost=effect.cost_cents,
            before=money[0],
            after=money[1],
            lengthened=longer.touched,
            effect=effect,
            notes=_notes(before, new, longer, today),
        )

    return step(project, f"approved change {number}", change, only_try=only_try)


def refuse_change(
    project: ProjectFile,
    number: str,
    why: str = "",
    expected: Change | None = None,
    only_try: bool = False,
) -> Saved:
    """Refuse a change that is noticed or priced: it is asked for no longer. why: kept in the
    history. only_try: write nothing.

    ProblemError for a change that is not there, approved, or refused already.
    """

    def change(before: Rows) -> tuple[Sound, Saved]:
        old = _change(before, number)
        new = dataclasses.replace(old, state="refused")
        if expected is not None and expected != old:
            raise StaleError(expected, old, new)
        if old.state in ("approved", "refused"):
            do = (
                "undo the approval, or enter a change that takes it back"
                if old.state == "approved"
                else "nothing is left to do"
            )
            raise ProblemError(
                _problem(old, f"the change is {old.state} already", do, "state", old.state)
            )
        after = sound(before, with_row(before, new, old))
        return after, Saved(None, (), new)

    return step(project, f"refused change {number}", change, why.strip(), only_try)


def _change(rows: Rows, number: str) -> Change:
    """The change of a number. ProblemError where there is none."""
    return row_there(rows, Change, "change", "choose one of the changes", number=number)


def _why_not(rows: Rows, change: Change, on: dt.date, today: dt.date) -> Problem | None:
    """Why a change can't be approved on a day; None where it can."""
    if change.state == "approved":
        return _problem(
            change, "the change is approved already", "nothing is left to do", "state", change.state
        )
    if change.state == "refused":
        do = "set its state to priced first, if it is asked for again"
        return _problem(change, "the change was refused", do, "state", change.state)
    if not any(line.change == change.number for line in rows.get("change_lines", ())):
        return _problem(
            change,
            "the change has no price",
            "enter its lines; 0.00 if it costs nothing",
            "state",
            change.state,
        )
    if change.state != "priced":
        do = "set its state to priced once its lines are the price and no estimate"
        return _problem(change, "the change is not priced yet", do, "state", change.state)
    if not change.contract:
        return _problem(
            change,
            "it is not known whose change it is",
            "name the contract that it changes",
            "contract",
        )
    if on > today:
        do = f"approve it on that day, or give a day through {today.isoformat()}"
        return _problem(
            change, "the day of the approval has not come yet", do, "approved", on.isoformat()
        )
    if change.noticed is not None and on < change.noticed:
        do = f"give a day on or after {change.noticed.isoformat()}, when it was noticed"
        return _problem(
            change,
            "the change would be approved before it was noticed",
            do,
            "approved",
            on.isoformat(),
        )
    return None


def _notes(rows: Rows, change: Change, longer: Lengthened, today: dt.date) -> tuple[str, ...]:
    """What the owner should know: what took no days, what had another reason, what is
    counted anew.
    """
    activities: dict[str, Activity] = {a.code: a for a in rows.get("activities", ())}
    days = change.days or 0
    notes = [
        f"{code} takes none of the change's days: it is done or has no duration"
        for code in longer.left_alone
    ]
    if days and not change.activities:
        notes.append(f"the change says {days} days and names no activity: nothing moves")
    for code in longer.touched:
        because = activities[code].because
        if because and because != change.number:
            notes.append(
                f"{code} was revised because of {because} before; it carries {change.number} now"
            )
    contract: Contract = next(c for c in rows.get("contracts", ()) if c.code == change.contract)
    if contract.signed is None or contract.signed > today:
        notes.append(f"contract {contract.code} is not signed yet")
    approved = change.approved or today
    notes.extend(
        f"application {a.contract}/{a.number}, verified already, has the change in its contract"
        " now: look at it again"
        for a in rows.get("applications", ())
        if a.contract == change.contract and is_verified(a, today) and approved <= period_of(a)
    )
    return tuple(notes)


def _problem(change: Change, what: str, do: str, column: str, value: str = "") -> Problem:
    """A problem of one change."""
    return Problem(what=what, do=do, table="changes", key=change.number, column=column, value=value)
