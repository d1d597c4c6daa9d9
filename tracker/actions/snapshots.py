"""Closing a status date: the plan as it stands is kept, for the post-mortem to measure against."""

from __future__ import annotations

import dataclasses
import datetime as dt
from dataclasses import dataclass
from typing import Any

from tracker.actions.keeping import Sound, sound, step
from tracker.money.applications import accounts
from tracker.money.books import Books
from tracker.money.contingency import contingencies
from tracker.money.cost_lines import cost_lines
from tracker.money.cost_of_a_day import day_of
from tracker.money.paid import paid
from tracker.project_file.store import ProjectFile, Step, Work, content_hash
from tracker.project_folder.snapshot_text import texts_of
from tracker.schedule.path.filings import held_back
from tracker.schedule.path.plan import Plan, compute
from tracker.schedule.progress import UNDER_WAY, mode_of
from tracker.schedule.records import CalendarDay, Snapshot
from tracker.schedule.weather_days import weather_days
from tracker.tables.books import books_of
from tracker.tables.consequences import cash_dated
from tracker.tables.step_costs import step_costs
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows, key_of, new

KEPT = (
    "project",
    "step_costs",
    "calendars",
    "calendar_days",
    "activities",
    "links",
    "contract_lines",
    "changes",
    "change_lines",
    "applications",
    "application_lines",
)
"""The tables of a snapshot: the plan, and the money that earned value needs."""

WEATHER_YEARS = 2
"""For so many years after the last finish the days that weather is expected to take are kept as
days.
"""


@dataclass(frozen=True)
class Closed:
    """A closed status date: its step in the history, None where nothing was different or it was
    tried only; the head of the snapshot, and of the one before, None: it is the first.
    """

    step: Step | None
    head: Snapshot
    last: Snapshot | None = None

    @property
    def days(self) -> int | None:
        """Calendar days by which the opening moved since the snapshot before; None where one of the
        two has none.
        """
        if self.last is None or self.last.opening is None or self.head.opening is None:
            return None
        return (self.head.opening - self.last.opening).days


def take_snapshot(
    project: ProjectFile,
    date: dt.date,
    baseline: bool = False,
    note: str = "",
    today: dt.date | None = None,
    only_try: bool = False,
) -> Closed:
    """Close a status date: set it, and keep the plan as it stands with opening, cost of a day and
    contingency shares.

    today: a date after it is refused; None: it is not asked. only_try: tell what would be kept, and
    write nothing. ProblemError also for a date on or before that of the last snapshot, or before an
    actual date of an activity.
    """
    kept: list[tuple[Snapshot, dict[str, str]]] = []

    def change(before: Rows) -> tuple[Sound, Closed]:
        after, head, texts = _closed(before, date, baseline, note, today)
        kept[:] = [(head, texts)]
        heads = before.get("snapshots", ())
        return after, Closed(None, head, max(heads, key=lambda one: one.date, default=None))

    def put_snapshot(work: Work) -> bool:
        work.put_snapshot(*kept[0])
        return True

    return step(project, f"closed {date.isoformat()}", change, only_try=only_try, more=put_snapshot)


def mark_baseline(project: ProjectFile, date: dt.date, baseline: bool) -> Closed:
    """Mark a snapshot as a baseline to be held against, or take the mark away.

    Its content stays as it is.

    ProblemError where there is no snapshot of this date.
    """
    verb = "marked as baseline" if baseline else "no longer a baseline:"
    marked: list[Snapshot] = []

    def change(before: Rows) -> tuple[Sound, Closed]:
        head = next((one for one in before.get("snapshots", ()) if one.date == date), None)
        if head is None:
            what, do = "there is no snapshot of this date", "choose one that is there"
            raise ProblemError(
                Problem(what, do, "snapshots", date.isoformat(), value=date.isoformat())
            )
        now = dataclasses.replace(head, baseline=baseline)
        marked[:] = [now] if now != head else []
        return sound(before, before), Closed(None, now)

    def put_head(work: Work) -> bool:
        for head in marked:
            work.put(head)
        return bool(marked)

    return step(project, f"{verb} {date.isoformat()}", change, more=put_head)


def _closed(
    before: Rows, date: dt.date, baseline: bool, note: str, today: dt.date | None
) -> tuple[Sound, Snapshot, dict[str, str]]:
    """The rows with the status date closed, and the snapshot of them: its head and texts.

    ProblemError where it can't be.
    """
    if problems := [
        *_not_ahead(date, today),
        *_not_later(before, date),
        *_actual_dates_after(before, date),
    ]:
        raise ProblemError(problems)
    moved, _ = cash_dated(
        before,
        {**before, "project": (dataclasses.replace(before["project"][0], status_date=date),)},
        today,
    )
    after = sound(before, moved)
    plan = compute(after)
    texts = texts_of(content_rows(after, plan))
    return after, head_of(after, plan, date, baseline, note, content_hash(texts)), texts


def content_rows(rows: Rows, plan: Plan) -> dict[str, tuple[Any, ...]]:
    """The rows that a snapshot keeps: remaining days of work under way as they are in force,
    weather days as days.

    The cases are not among them: a hearing that waits because of the day of its filing keeps its
    meeting as "not before".
    """
    kept = {table: tuple(rows.get(table, ())) for table in KEPT}
    dates = plan.by_code()
    waits = held_back(plan)
    kept["activities"] = tuple(
        (
            dataclasses.replace(a, remaining=dates[a.code].remaining)
            if mode_of(a) == UNDER_WAY
            else dataclasses.replace(a, not_before=waits[a.code])
            if a.code in waits
            else a
        )
        for a in kept["activities"]
    )
    kept["calendar_days"] = _with_weather(rows, plan)
    kept["step_costs"] = step_costs(rows)
    return kept


def head_of(
    rows: Rows, plan: Plan, date: dt.date, baseline: bool, note: str, fingerprint: str
) -> Snapshot:
    """The head of a snapshot. Shares are of hard cost left to pay, in thousandths of a percent."""
    books = books_of(rows, date)
    design, construction = _contingency_shares(books)
    return Snapshot(
        date=date,
        baseline=baseline,
        note=note,
        opening=plan.opening,
        cost_of_a_day=day_of(books).total_cents,
        design_share=design,
        construction_share=construction,
        hash=fingerprint,
    )


def _contingency_shares(books: Books) -> tuple[int | None, int | None]:
    """Design and construction contingency as shares of the hard cost left to pay; None where none
    is left.
    """
    lines = cost_lines(books, paid(books, accounts(books)))
    design, construction = contingencies(lines, None, None)
    return design.share, construction.share


def _with_weather(rows: Rows, plan: Plan) -> tuple[CalendarDay, ...]:
    """The days of all calendars, with those that weather is expected to take after the
    status date.
    """
    days = {key_of(day): day for day in rows.get("calendar_days", ())}
    until = dt.date((plan.last_finish or plan.project_start).year + WEATHER_YEARS + 1, 1, 1)
    for calendar, date in weather_days(rows, plan.status_date or plan.project_start, until):
        old = days.get((calendar, date)) or new(CalendarDay, calendar=calendar, date=date)
        days[calendar, date] = dataclasses.replace(
            old, works=False, reason=old.reason or "weather expected"
        )
    return tuple(days.values())


def _not_ahead(date: dt.date, today: dt.date | None) -> list[Problem]:
    """What is closed is over."""
    if today is None or date <= today:
        return []
    what = (
        f"the status date lies after today, {today.isoformat()}: nobody knows yet what happens"
        " until then"
    )
    return [
        Problem(
            what, "close a day through today", "snapshots", date.isoformat(), value=date.isoformat()
        )
    ]


def _not_later(rows: Rows, date: dt.date) -> list[Problem]:
    """Status dates are closed one after the other."""
    last = max((head.date for head in rows.get("snapshots", ())), default=None)
    if last is None or date > last:
        return []
    what = f"the status date {last.isoformat()} is closed already, and this one is not later"
    return [
        Problem(
            what=what,
            do="give a later date",
            table="snapshots",
            key=date.isoformat(),
            value=date.isoformat(),
        )
    ]


def _actual_dates_after(rows: Rows, date: dt.date) -> list[Problem]:
    """A status date is closed with all that was known on it, and nothing that came after."""
    found = []
    for activity in rows.get("activities", ()):
        for column in ("actual_start", "actual_finish"):
            day = getattr(activity, column)
            if day is not None and day > date:
                what = f"the actual date lies after {date.isoformat()}, which is to be closed"
                do = "close a later date, or correct the actual date"
                found.append(
                    Problem(what, do, "activities", activity.code, column, day.isoformat())
                )
    return found
