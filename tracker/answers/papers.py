"""Papers: whose papers hold, for how long, and do they cover the days on which they are needed?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from tracker.answers.known_plan import plan_of
from tracker.project_file.store import ProjectFile
from tracker.schedule.path.plan import Dates, Plan
from tracker.schedule.records import Activity
from tracker.trades import papers
from tracker.values.records import Rows


@dataclass(frozen=True, slots=True)
class PaperRow:
    """One paper. contractor: blank for the owner's own. state: holds, runs out soon, ran out, not
    yet.
    """

    code: str
    contractor: str
    contractor_name: str
    kind: str
    number: str
    limit_cents: int | None
    from_: dt.date | None
    to: dt.date | None
    state: str
    days_left: int | None
    evidence: str


@dataclass(frozen=True, slots=True)
class PaperGap:
    """Planned days of a contractor that a needed paper does not cover; missing: there is no paper
    of that kind at all.
    """

    contractor: str
    contractor_name: str
    kind: str
    activity: str
    activity_name: str
    first: dt.date
    last: dt.date
    missing: bool
    text: str


@dataclass(frozen=True, slots=True)
class PapersAnswer:
    """All papers, and the planned days that lie outside of them."""

    papers: tuple[PaperRow, ...]
    gaps: tuple[PaperGap, ...]


def answer(project: ProjectFile, today: dt.date) -> PapersAnswer:
    """The answer for a project file on a day."""
    return from_rows(project.tables(), today)


def from_rows(rows: Rows, today: dt.date, plan: Plan | None = None) -> PapersAnswer:
    """The answer from a project's rows. plan: if it is computed already."""
    names = {c.code: c.name or c.code for c in rows.get("contractors", ())}
    return PapersAnswer(
        papers=tuple(_row(state, names) for state in papers.paper_states(rows, today)),
        gaps=gaps_in(rows, plan or plan_of(rows)),
    )


def gaps_in(rows: Rows, plan: Plan) -> tuple[PaperGap, ...]:
    """The gaps of every contractor whose contract has work that is not done, in row order."""
    names = {c.code: c.name or c.code for c in rows.get("contractors", ())}
    activities = {a.code: a.name or a.code for a in rows.get("activities", ())}
    planned = planned_days(rows, plan)
    found = [
        gap
        for code, spans in planned.items()
        for gap in papers.gaps(rows.get("papers", ()), code, spans)
    ]
    return tuple(
        PaperGap(
            contractor=gap.contractor,
            contractor_name=names.get(gap.contractor, gap.contractor),
            kind=gap.kind,
            activity=gap.activity,
            activity_name=activities.get(gap.activity, gap.activity),
            first=gap.first,
            last=gap.last,
            missing=gap.missing,
            text=gap.words(),
        )
        for gap in found
    )


def planned_days(rows: Rows, plan: Plan) -> dict[str, dict[str, papers.Span]]:
    """By contractor and activity, the first and the last day on site that still lie ahead;
    deliveries and gates are none.
    """
    contractor_of = {c.code: c.contractor for c in rows.get("contracts", ())}
    dates = plan.by_code()
    found: dict[str, dict[str, papers.Span]] = {}
    for place, activity in enumerate(rows.get("activities", ())):
        contractor, date = contractor_of.get(activity.contract), dates.get(activity.code)
        if (
            not contractor
            or date is None
            or date.state == "done"
            or not date.duration
            or is_gate(activity, date)
        ):
            continue
        first = goes_on(plan, place) if activity.actual_start else date.early_start
        found.setdefault(contractor, {})[activity.code] = (
            min(first, date.early_finish),
            date.early_finish,
        )
    return found


def goes_on(plan: Plan, place: int) -> dt.date:
    """The working day on which work under way goes on, after the status date. place: its number in
    row order.
    """
    assert plan.run is not None
    return dt.date.fromordinal(plan.run.low + plan.run.times.begin[place])


def is_gate(activity: Activity, date: Dates) -> bool:
    """Whether nobody works on site for it: a gate, a delivery, a meeting."""
    return activity.kind in ("gate", "delivery") or date.meets


def _row(state: papers.PaperState, names: Mapping[str, str]) -> PaperRow:
    """One paper for the answer."""
    paper = state.paper
    return PaperRow(
        code=paper.code,
        contractor=paper.contractor,
        contractor_name=names.get(paper.contractor, "owner"),
        kind=paper.kind,
        number=paper.number,
        limit_cents=paper.limit,
        from_=paper.from_,
        to=paper.to,
        state=state.state,
        days_left=state.days_left,
        evidence=paper.evidence,
    )
