"""Permits: what must be inspected, and what did the inspector say?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import Any

from tracker.answers.office_days import office_days
from tracker.answers.permits_rows import (
    Certificate,
    CorrectionItem,
    DeliveryRow,
    Doubt,
    GateRow,
    InspectionRow,
    PermitRow,
    PermitsAnswer,
)
from tracker.answers.rezoning import NOTICE, plan_of, planned_days
from tracker.approvals import cautions, certificate, inspections, permits
from tracker.approvals.applies import considered
from tracker.approvals.checklist import gates_held
from tracker.approvals.inspections import Uncovered
from tracker.approvals.visits import repeat_of, repeated
from tracker.project_file.store import ProjectFile
from tracker.schedule.delivery_steps import delivery_standing
from tracker.schedule.path.plan import Plan
from tracker.values.days import full_day
from tracker.values.grouped import grouped
from tracker.values.records import Rows


def answer(project: ProjectFile, today: dt.date) -> PermitsAnswer:
    """The answer for a project file on a day."""
    return from_rows(project.tables(), today)


def from_rows(rows: Rows, today: dt.date, plan: Plan | None = None) -> PermitsAnswer:
    """The answer from a project's rows. plan: if it is computed already; without one that can be
    computed, inspections have the days that are set alone.
    """
    plan = plan or plan_of(rows)
    planned = planned_days(plan)
    opens = office_days(rows, today)
    known = tuple(rows.get("inspections", ()))
    done = inspections.passed_in(rows)
    answers = tuple(rows.get("answers", ()))
    under = grouped(known, "permit")
    clocks = {
        p.code: permits.clock(p, under.get(p.code, ()), answers, today, done)
        for p in rows.get("permits", ())
    }
    missing = certificate.missing(rows, clocks)
    covers = inspections.uncovered(rows)
    again = repeat_of(rows)
    covered = grouped(list(covers), "inspection")
    return PermitsAnswer(
        permits=tuple(
            _permit(p, clocks[p.code], under.get(p.code, ()), done) for p in rows.get("permits", ())
        ),
        inspections=tuple(
            _inspection(i, rows, planned, done, covered.get(i.code, ()), today, opens)
            for i in inspections.in_order(known, planned)
        ),
        not_to_cover=covers,
        certificate=Certificate(
            tuple(m for m in missing if m.temporary), missing, certificate.TEMPORARY_NOTE
        ),
        deliveries=_deliveries(rows, plan, today),
        gates=_gates(rows, plan, today),
        reinspections=len(again),
        reinspection_fees_cents=sum(i.fee or 0 for i in known if i.code in again),
        warnings=_warnings(rows, done),
        cautions=cautions.lines("permits"),
        notice=NOTICE,
    )


def _permit(
    permit: Any, clock: permits.Clock, under: tuple[Any, ...], done: frozenset[str]
) -> PermitRow:
    """One permit for the view. under: its inspections."""
    own = [i for i in under if i.state != "called off"]
    mark = {"closed": "=", "lapsed": "!", "applied": "?"}.get(clock.state, " ")
    return PermitRow(
        code=permit.code,
        kind=permit.kind,
        authority=permit.authority,
        number=permit.number,
        applied=permit.applied,
        issued=permit.issued,
        expires=permit.expires,
        state=clock.state,
        counts_from=clock.counts_from,
        lapses_on=clock.lapses_on,
        ends_on=clock.ends_on,
        days_left=clock.days_left,
        passed=sum(i.code in done for i in own),
        of=len(own),
        note=permit.note,
        text=clock.text,
        mark="~" if clock.warn and mark != "!" else mark,
    )


def _inspection(
    inspection: Any,
    rows: Rows,
    planned: Mapping[str, dt.date],
    done: frozenset[str],
    covers: Sequence[Uncovered],
    today: dt.date,
    opens: inspections.Opens,
) -> InspectionRow:
    """One inspection for the view. covers: what it keeps from being covered."""
    ask = inspections.ask_by(inspection, planned, opens)
    series = repeated(rows, inspection.code)
    own = grouped(rows.get("inspection_items", ()), "inspection").get(inspection.code, ())
    visits = grouped(rows["inspections"], "code")
    items = tuple(
        CorrectionItem(i.item, i.text, i.closed_on, i.evidence, i.closed_on is None) for i in own
    )
    day = inspections.day_of(inspection, planned)
    return InspectionRow(
        code=inspection.code,
        permit=inspection.permit,
        name=inspection.name,
        activity=inspection.activity,
        state=inspection.state,
        passed=inspection.code in done,
        day=day,
        day_basis="set" if inspection.date else "plan" if day else "",
        ask_by=ask,
        ask_days_left=(ask - today).days if ask else None,
        requested=inspection.requested,
        present=inspection.present,
        fee_cents=inspection.fee,
        covers=inspection.covers,
        may_not_cover=tuple(c.activity for c in covers if not c.excused),
        repeated_by=inspections.repeats(rows).get(inspection.code, ()),
        items=items,
        open_items=sum(i.open for i in items),
        visit=len(series),
        fees_cents=sum(i.fee or 0 for code in series for i in visits[code]),
        mark=_mark(inspection, done, ask, any(i.open for i in items), today),
    )


def _mark(
    inspection: Any, done: frozenset[str], ask: dt.date | None, corrections: bool, today: dt.date
) -> str:
    """The mark in the first column; one that failed is never marked as done, also where a later one
    made up for it.
    """
    if inspection.code in done or inspection.state == "called off":
        passed = inspection.state not in ("failed", "partly passed")
        return "?" if corrections else "=" if passed else " "
    if inspection.state in ("failed", "partly passed") or (ask and ask <= today):
        return "!"
    if inspection.state == "requested" or inspection.requested:
        return "?"
    return "~" if ask and (ask - today).days <= 14 else " "


def _deliveries(rows: Rows, plan: Plan | None, today: dt.date) -> tuple[DeliveryRow, ...]:
    """Deliveries of the plan in row order, with their five dates; none without a plan."""
    dates = plan.by_code() if plan else {}
    steps = {d.activity: d for d in rows.get("deliveries", ())}
    found = []
    for a in rows.get("activities", ()):
        if a.kind != "delivery" or a.code not in dates:
            continue
        d, own = dates[a.code], steps.get(a.code)
        stands = delivery_standing(
            own, d.early_start, d.early_finish, d.late_start, d.late_finish, today
        )
        done = d.state == "done"
        found.append(
            DeliveryRow(
                activity=a.code,
                name=a.name,
                state=d.state,
                submitted=own.submitted if own else None,
                approved=own.approved if own else None,
                ordered=own.ordered if own else None,
                promised_ship=own.promised_ship if own else None,
                on_site=(own.on_site if own else None) or (a.actual_finish if done else None),
                next_step="" if done else stands.next_step,
                planned=stands.planned,
                needed=stands.needed,
                order_by=None if done else stands.order_by,
                order_latest=None if done else stands.order_latest,
                promise_late_days=0 if done else stands.promise_late_days,
                text=f"on site since {full_day(a.actual_finish)}" if done else stands.text,
                mark="=" if done else stands.mark,
                recorded=own is not None,
            )
        )
    return tuple(found)


def _gates(rows: Rows, plan: Plan | None, today: dt.date) -> tuple[GateRow, ...]:
    """Unfinished gates that are neither a hearing nor an inspection, earliest first; none without a
    plan.
    """
    dates = plan.by_code() if plan else {}
    looked_at = {i.activity for i in rows.get("inspections", ())}
    held = gates_held(considered(rows))
    found = [
        GateRow(
            activity=a.code,
            name=a.name or a.code,
            state=d.state,
            permit=a.permit,
            day=d.early_finish,
            held=a.held,
            waits_for=held.get(a.code, ()),
            mark=(
                "!"
                if a.held
                else (
                    "?"
                    if d.early_finish < today
                    else "~"
                    if (d.early_finish - today).days <= 14
                    else " "
                )
            ),
        )
        for a in rows.get("activities", ())
        if a.kind == "gate"
        and a.code not in looked_at
        and (d := dates.get(a.code))
        and d.state != "done"
        and not d.meets
    ]
    return tuple(sorted(found, key=lambda gate: gate.day))


def _warnings(rows: Rows, done: frozenset[str]) -> tuple[Doubt, ...]:
    """What doesn't look right: order of checks, a pass without its day, a gate done early, work
    before its permit.
    """
    known = tuple(rows.get("inspections", ()))
    finished = {a.code for a in rows.get("activities", ()) if a.actual_finish}
    found = [
        Doubt("order", text.split(" ", 1)[0], text)
        for text in inspections.out_of_order(known, done)
    ]
    for i in known:
        if i.state == "passed" and not i.date:
            text = f"{i.code} has passed without a day: the permit's clock can't count from it"
            found.append(Doubt("no day", i.code, text))
        if i.activity in finished and i.state in ("planned", "requested"):
            text = f"{i.code} is still {i.state}, but its gate {i.activity} is marked done"
            found.append(Doubt("gate", i.code, text))
    return (*found, *_before_permit(rows))


def _before_permit(rows: Rows) -> tuple[Doubt, ...]:
    """Work that began before its permit was issued."""
    issued = {p.code: p.issued for p in rows.get("permits", ())}
    return tuple(
        Doubt(
            "no permit",
            a.code,
            f"{a.code} began on {a.actual_start.isoformat()}, before permit {a.permit} was issued",
        )
        for a in rows.get("activities", ())
        if a.permit in issued
        and a.actual_start
        and (issued[a.permit] is None or a.actual_start < issued[a.permit])
    )
