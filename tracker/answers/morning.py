"""Morning: what must happen next?

The other answers say how things stand; this one says what follows from that for today, each thing
with the view where it is handled. Its windows (two weeks for calls, thirty days for filings and
deliveries) are common practice, no source.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, replace

from tracker.answers import (
    morning_approvals,
    morning_facts,
    morning_money,
    morning_trades,
    morning_work,
)
from tracker.answers.as_json import for_screen
from tracker.answers.known_plan import plan_of
from tracker.answers.morning_rows import Blocker, Item, Section
from tracker.answers.office_days import office_days
from tracker.answers.path import PathAnswer, from_plan
from tracker.project_file.store import ProjectFile
from tracker.schedule.path.filings import late_filings
from tracker.schedule.path.plan import Plan
from tracker.values.records import Rows


@dataclass(frozen=True, slots=True)
class MorningAnswer:
    """What must happen next. as_of: the status date (without one the project's start), if
    today is more than a week after it, else None.

    days_late in calendar days, to today where the forecast opening is over; blockers: what the
    longest path waits for now, and who unblocks it.
    """

    today: dt.date
    as_of: dt.date | None
    status_date: dt.date | None
    forecast_opening: dt.date | None
    opening_is_over: bool
    promised_opening: dt.date | None
    days_late: int | None
    cost_of_a_day_cents: int
    cost_of_lateness_cents: int | None
    blockers: tuple[Blocker, ...]
    sections: tuple[Section, ...]
    day_cost_missing: tuple[str, ...] = for_screen()


def answer(project: ProjectFile, today: dt.date) -> MorningAnswer:
    """The answer for a project file on a day."""
    return from_rows(project.tables(), today)


def from_rows(rows: Rows, today: dt.date, plan: Plan | None = None) -> MorningAnswer:
    """The answer from a project's rows. plan: if it is computed already."""
    plan = plan or plan_of(rows)
    path = from_plan(plan, rows, today, {})
    return MorningAnswer(
        today=today,
        as_of=path.as_of,
        status_date=path.status_date,
        forecast_opening=path.forecast_opening,
        opening_is_over=path.opening_is_over,
        promised_opening=path.promised_opening,
        days_late=path.days_late,
        cost_of_a_day_cents=path.cost_of_a_day_cents,
        cost_of_lateness_cents=path.cost_of_lateness_cents,
        blockers=morning_work.blockers(rows, today, path),
        sections=tuple(section for section in sections(rows, today, plan, path) if section.items),
        day_cost_missing=path.day_cost_missing,
    )


def with_file_words(found: MorningAnswer, words: str) -> MorningAnswer:
    """The answer with what is wrong with the file itself in front, if anything is."""
    if not words:
        return found
    return replace(
        found, sections=(Section("The project file", (Item("!", words, "", ""),)), *found.sections)
    )


def sections(rows: Rows, today: dt.date, plan: Plan, path: PathAnswer) -> list[Section]:
    """All sections in the order of the day; empty ones too."""
    opens = office_days(rows, today)
    asked = morning_approvals.approvals(rows, today, path, opens)
    calls = morning_trades.calls(rows, today, path, opens)
    words = morning_trades.words_due(rows, today, path)
    goods = morning_work.deliveries(rows, today, path)
    late = late_filings(plan)
    told = {
        i.activity
        for i in (*calls, *words, *goods, *asked["inspections"], *asked["coming"], *asked["failed"])
        if i.day and i.day < today
    }
    return [
        Section("Dates that can't be right", morning_facts.facts(rows, today)),
        Section("The first question", asked["answers"]),
        Section("Calls to make", calls),
        Section("Words given", words),
        Section("Inspections that failed", asked["failed"]),
        Section("Inspections to ask for", asked["inspections"]),
        Section("Inspections that come", asked["coming"]),
        Section("Filings before a cut-off", morning_work.filings(rows, today, path, late)),
        Section("Hearings and their notices", morning_approvals.hearings(rows, today, late, plan)),
        Section("Days of the purchase", morning_approvals.purchase(rows, today, plan)),
        Section("Deliveries", goods),
        Section("Papers that run out before their work", morning_trades.papers(rows, today, plan)),
        Section("Money waiting", morning_money.money(rows, today, plan)),
        Section("Checklist", asked["checklist"]),
        Section("Permits that lapse", asked["permits"]),
        Section("Gone by since the status date", morning_work.gone_by(today, path, told)),
    ]
