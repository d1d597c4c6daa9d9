"""Slip: why are we late, through whom, at what cost?

Windows from the snapshots, causes from the site log; all adds up.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from tracker.answers.as_json import for_screen
from tracker.answers.known_plan import plan_of
from tracker.answers.slip_lessons import Lessons, lessons
from tracker.answers.slip_offers import OfferRow, offers
from tracker.answers.slip_reading import Closed, History, Warned, Watch, history_of
from tracker.answers.slip_reasons import reasons
from tracker.answers.slip_rows import (
    ActivityRow,
    CauseRow,
    DirectCostRow,
    EvidenceRow,
    OpeningRow,
    PartyRow,
    ReasonRow,
    RevisionRow,
    StepCostRow,
    StepRow,
    Sum,
    WindowRow,
)
from tracker.answers.slip_sums import (
    by_activity,
    by_cause,
    by_party,
    direct_costs,
    evidence,
    names_of,
    step_costs,
    sum_of,
)
from tracker.money.cost_of_a_day import cost_of_a_day
from tracker.project_file.store import ProjectFile
from tracker.schedule.records import Snapshot
from tracker.schedule.slip.causes import MADE_UP, NOT_EXPLAINED, Share, account
from tracker.values.frozen import value
from tracker.values.records import Rows

CAUTION = (
    "This is an account of what happened, made of the plans as they stood and of what the site log"
    " says. It is no opinion on who owes what: contract terms and an attorney decide that."
)
RATES = "Each window has its own cost of a day, the one in force when it was closed."
CONCURRENT = (
    "Delays ran at the same time in the windows marked concurrent: days of one party there may be"
    " another's as well."
)
MOST_WINDOWS = 3
MOST_ACTIVITIES = 5


@value
class SlipAnswer:
    """The slip from the first to the last snapshot, in calendar days, with its cost in cents, step
    costs apart.

    causes, not_explained and made_up add up to slip_days and cost_cents; so do parties,
    not_explained and made_up, and by_activity, and windows. most_windows, most_activities: those
    that made most of it (dates of the windows' ends, codes). offers: delay events that the records
    suggest and the site log lacks.
    """

    from_: dt.date | None
    to: dt.date | None
    baseline_opening: dt.date | None
    now_opening: dt.date | None
    slip_days: int
    cost_cents: int
    cost_known: bool
    windows: tuple[WindowRow, ...]
    causes: tuple[CauseRow, ...]
    parties: tuple[PartyRow, ...]
    not_explained: Sum
    made_up: Sum
    step_costs: tuple[StepCostRow, ...]
    direct_costs: tuple[DirectCostRow, ...]
    by_activity: tuple[ActivityRow, ...]
    most_windows: tuple[dt.date, ...]
    most_activities: tuple[str, ...]
    openings: tuple[OpeningRow, ...]
    evidence: tuple[EvidenceRow, ...]
    lessons: Lessons
    offers: tuple[OfferRow, ...]
    cautions: tuple[str, ...]
    warnings: tuple[Warned, ...]
    heads: tuple[Snapshot, ...] = for_screen()


def answer(project: ProjectFile, today: dt.date, watch: Watch | None = None) -> SlipAnswer:
    """The answer for a project file: of all its snapshots, whatever day it is. watch: is told of
    each window.

    ProblemError where a snapshot can't be read or computed.
    """
    rows = project.tables()
    return from_rows(rows, today, project.snapshots() if rows["snapshots"] else {}, watch)


def from_rows(
    rows: Rows,
    today: dt.date,
    snapshots: Mapping[dt.date, Mapping[str, str]],
    watch: Watch | None = None,
) -> SlipAnswer:
    """The answer from a project's rows with the heads of its snapshots, and the texts of the
    snapshots' tables by date.
    """
    heads = sorted(rows.get("snapshots", ()), key=lambda head: head.date)
    return from_history(history_of(heads, snapshots, watch), rows, today)


def from_history(known: History, rows: Rows, today: dt.date) -> SlipAnswer:
    """The answer from windows that are computed, and the project's rows as they are now. today: for
    what could be entered.
    """
    closed = known.windows
    windows = [one.window for one in closed]
    delays = rows.get("delays", ())
    told = account(windows, delays, reasons(rows))
    shares, rates = told.shares, [one.cost_of_a_day for one in closed]
    names = names_of(closed, rows)
    first = known.first
    missed = [one for window in closed for one in window.missed]
    activities = by_activity(shares, rates, names)
    last = windows[-1].opening_after if windows else first.opening if first else None
    end = windows[-1].to if windows else first.date if first else None
    return SlipAnswer(
        from_=first.date if first else None,
        to=end,
        baseline_opening=first.opening if first else None,
        now_opening=last,
        slip_days=sum(one.days for one in windows),
        cost_cents=sum(one.days * rate for one, rate in zip(windows, rates, strict=True)),
        cost_known=any(rates) or cost_of_a_day(rows, today).is_known,
        windows=tuple(
            window_row(place, one, shares, names, rows) for place, one in enumerate(closed)
        ),
        causes=by_cause(shares, rates),
        parties=by_party(shares, rates, rows, first.date if first else None, end or today),
        not_explained=sum_of((s for s in shares if s.reason.cause == NOT_EXPLAINED), rates),
        made_up=sum_of((s for s in shares if s.reason.cause == MADE_UP), rates),
        step_costs=step_costs(closed),
        direct_costs=direct_costs(delays, end),
        by_activity=activities,
        most_windows=most([(one.to, one.days) for one in windows], MOST_WINDOWS),
        most_activities=most([(one.code, one.days) for one in activities], MOST_ACTIVITIES),
        openings=tuple(openings(known)),
        evidence=evidence(rows, end, told, names),
        lessons=lessons(rows, first, end),
        offers=offers(
            rows,
            plan_of(rows),
            missed,
            first.date if first else None,
            max(today, end) if end else today,
        ),
        cautions=cautions(windows, shares),
        warnings=known.warnings,
        heads=tuple(sorted(rows.get("snapshots", ()), key=lambda head: head.date)),
    )


def openings(known: History) -> Iterable[OpeningRow]:
    """The forecast opening at each status date."""
    if known.first:
        yield OpeningRow(known.first.date, known.first.opening)
    for one in known.windows:
        yield OpeningRow(one.window.to, one.window.opening_after)


def cautions(windows: Sequence[Any], shares: Sequence[Share]) -> tuple[str, ...]:
    """What must be said with the figures."""
    if not windows:
        return (CAUTION,)
    return (
        (CAUTION, RATES, CONCURRENT)
        if any(share.concurrent for share in shares)
        else (CAUTION, RATES)
    )


def most(parts: Sequence[tuple[Any, int]], count: int) -> tuple[Any, ...]:
    """Those with the most positive days, the largest first, of equals the first."""
    late = [part for part in parts if part[1] > 0]
    return tuple(part[0] for part in sorted(late, key=lambda part: -part[1])[:count])


def window_row(
    place: int, closed: Closed, shares: Sequence[Share], names: dict[str, str], rows: Rows
) -> WindowRow:
    """One window with its activities and revisions and their reasons."""
    one = closed.window
    own = [share for share in shares if share.window == place]
    progress: dict[str, list[ReasonRow]] = {}
    for share in own:
        if share.what == "progress":
            reason = share.reason
            progress.setdefault(share.code, []).append(
                ReasonRow(reason.cause, reason.party, reason.event, share.days)
            )
    revised = iter([share for share in own if share.what == "revision"])
    moving = [revision for revision in one.revisions if revision.days]
    return WindowRow(
        from_=one.from_,
        to=one.to,
        opening_before=one.opening_before,
        half_step_opening=one.half_step_opening,
        opening_after=one.opening_after,
        days=one.days,
        progress_days=one.progress_days,
        revision_days=one.revision_days,
        concurrent=one.concurrent,
        cost_of_a_day_cents=closed.cost_of_a_day,
        cost_cents=one.days * closed.cost_of_a_day,
        not_explained_days=sum(share.days for share in own if share.reason.cause == NOT_EXPLAINED),
        note=next((head.note for head in rows.get("snapshots", ()) if head.date == one.to), ""),
        activities=tuple(
            StepRow(
                step.code,
                names.get(step.code, step.code),
                step.days,
                step.days_alone,
                step.own_lateness,
                tuple(progress.get(step.code, ())) if step.days else (),
            )
            for step in one.steps
        ),
        revisions=tuple(
            RevisionRow(
                revision.kind,
                revision.code,
                names.get(revision.code, revision.code),
                revision.days,
                revision.what,
                (reason := next(revised).reason).cause,
                reason.party,
                reason.event,
            )
            for revision in moving
        ),
        revisions_without_effect=len(one.revisions) - len(moving),
    )
