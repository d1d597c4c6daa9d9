"""What the schedule asks for this morning: what blocks the path, filings, deliveries, dates gone
by.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Iterable, Mapping

from tracker.answers.morning_rows import Blocker, Item, by_day, days, shown
from tracker.answers.path import PathActivity, PathAnswer
from tracker.approvals.questions import given
from tracker.schedule.delivery_steps import delivery_standing
from tracker.schedule.path.filings import DO, LateFiling
from tracker.schedule.path.gates import Gate
from tracker.schedule.records import Delivery
from tracker.trades.records import Contractor
from tracker.values.grouped import grouped
from tracker.values.money import cost_of_days
from tracker.values.records import Rows

FILING_DAYS = 30
SOON_DAYS = 7
MOST_GONE_BY = 12


def blockers(rows: Rows, today: dt.date, path: PathAnswer) -> tuple[Blocker, ...]:
    """The front of the longest path: unfinished activities on it of which no unfinished one drives
    them; held ones always.
    """
    unfinished = {a.code for a in path.activities if a.state != "done"}
    front = [
        a
        for a in path.activities
        if a.on_longest_path
        and a.code in unfinished
        and (a.held or not unfinished.intersection(a.drivers))
    ]
    return tuple(_blocker(rows, today, a) for a in front)


def _blocker(rows: Rows, today: dt.date, a: PathActivity) -> Blocker:
    """One of them with who unblocks it."""
    who, reach = in_charge(rows, a)
    if a.held:
        mark, stands = "!", f"held: {a.held}"
    elif a.state == "under way":
        mark, stands = "~", _under_way(a, today)
    elif a.is_gate:
        verb = (
            ("met" if a.meets else "was due")
            if a.early_finish < today
            else ("meets" if a.meets else "due")
        )
        mark, stands = "!", f"{verb} {shown(a.early_finish)}"
    else:
        mark, stands = (
            "!",
            (
                f"{a.state}, {'was to start' if a.early_start < today else 'starts'}"
                f" {shown(a.early_start)}"
            ),
        )
    view = (
        "permits"
        if a.is_gate and not a.meets and a.kind == "gate"
        else "rezoning"
        if a.meets
        else "path"
    )
    return Blocker(mark, f"{a.name}: {stands}", view, a.code, who, reach, a.early_start)


def _under_way(a: PathActivity, today: dt.date) -> str:
    """How far work, or a delivery, has come."""
    over = a.early_finish < today
    if a.kind == "delivery":
        return f"on its way, {'was due on site' if over else 'on site'} {shown(a.early_finish)}"
    if over:
        return f"under way, was to be done {shown(a.early_finish)}"
    return f"under way, {days(a.remaining)} left, done {shown(a.early_finish)}"


def in_charge(rows: Rows, a: PathActivity) -> tuple[str, str]:
    """Who unblocks an activity and how to reach them: its contractor, else its permit's authority,
    its body, its trade.
    """
    who = contractor_of(rows, a.contract)
    if who is not None:
        return who.name, who.phone or who.email
    row = next((r for r in rows.get("activities", ()) if r.code == a.code), None)
    permit = next(
        (p for p in rows.get("permits", ()) if row and row.permit and p.code == row.permit), None
    )
    if permit is not None and permit.authority:
        return permit.authority, ""
    calendar = next(
        (c for c in rows.get("calendars", ()) if row and a.meets and c.code == row.calendar), None
    )
    if calendar is not None:
        return calendar.name or calendar.code, ""
    return a.trade or "owner", ""


def contractor_of(rows: Rows, contract: str) -> Contractor | None:
    """Who has a contract; None where there is none."""
    code = next(
        (c.contractor for c in grouped(rows.get("contracts", ()), "code").get(contract, ())), ""
    )
    return next((c for c in rows.get("contractors", ()) if code and c.code == code), None)


def filings(
    rows: Rows, today: dt.date, path: PathAnswer, late: Iterable[LateFiling] = ()
) -> tuple[Item, ...]:
    """Cut-offs within thirty days, or gone by with the filing not done; each with what missing it
    costs.

    late: cases that were filed after the cut-off of the meeting that they aimed at.
    """
    hour = str(given(rows.get("answers", ()), "cutoff_hour").value)
    names = {a.code: a.name for a in path.activities}
    done = {a.code for a in path.activities if a.state == "done"}
    filing = {link.to: link.from_ for link in rows.get("links", ()) if link.lag_unit == "cutoff"}
    filed = {
        case.activity
        for case in rows.get("hearings", ())
        if case.filed_on and case.filed_on <= today and not case.outcome
    }
    found = [
        Item(
            "!",
            f"{one.words(hour)}; {DO}",
            "rezoning",
            one.case,
            one.filed_on,
            "hearings",
            one.case,
            "",
            one.activity,
        )
        for one in late
    ]
    for gate in path.gates:
        if (
            gate.cutoff is None
            or (gate.cutoff - today).days > FILING_DAYS
            or filing.get(gate.code) in done
        ):
            continue
        if gate.code in filed:
            continue
        left = (gate.cutoff - today).days
        if gate.cutoff < today:
            text = (
                f"the cut-off of {names[gate.code]} was {shown(gate.cutoff)}; enter the filing, or"
                " plan the next meeting"
            )
        else:
            until = f"{shown(gate.cutoff)}, {hour}" if hour else shown(gate.cutoff)
            by = f"today, {until}" if left == 0 else f"by {until}, {days(left)} left"
            text = f"file for {names[gate.code]} {by}{_missing(gate, path.day_cost_known)}"
        mark = "!" if left <= SOON_DAYS else "~"
        found.append(
            Item(
                mark,
                text,
                "rezoning",
                gate.code,
                gate.cutoff,
                "activities",
                gate.code,
                "",
                gate.code,
            )
        )
    return by_day(found)


def _missing(gate: Gate, known: bool) -> str:
    """What missing a cut-off costs, in words. known: whether anything of the cost of a day is."""
    lost, cost = gate.opening_days_lost, gate.cost_if_missed_cents
    if lost is None or cost is None:
        return ""
    if lost <= 0:
        return "; missing it does not move the opening"
    costs = cost_of_days(cost, lost, known)
    return (
        f"; missing it moves the opening by {days(lost)}{' and costs ' if known else '; '}{costs}"
    )


def deliveries(rows: Rows, today: dt.date, path: PathAnswer) -> tuple[Item, ...]:
    """Deliveries that are due within thirty days, to be ordered within two weeks or overdue, or
    promised too late.
    """
    known: Mapping[str, Delivery] = {d.activity: d for d in rows.get("deliveries", ())}
    found = []
    for a in path.activities:
        if a.kind != "delivery" or a.state == "done":
            continue
        steps = known.get(a.code)
        stands = delivery_standing(
            steps, a.early_start, a.early_finish, a.late_start, a.late_finish, today
        )
        if stands.mark in ("?", "!", "~"):
            row = ("deliveries", a.code) if steps else ("activities", a.code)
            found.append(
                Item(
                    stands.mark,
                    f"{a.name}: {stands.text}",
                    "permits",
                    a.code,
                    a.early_finish,
                    *row,
                    "",
                    a.code,
                )
            )
    return by_day(found)


def gone_by(today: dt.date, path: PathAnswer, told: Collection[str] = ()) -> tuple[Item, ...]:
    """Starts, finishes and gates that the plan had between the status date and today, if the status
    date is over a week old.

    told: activities of which another section tells already that they should have started.
    """
    if path.as_of is None:
        return ()
    found = []
    for a in path.activities:
        if a.state == "done" or a.code in told:
            continue
        if a.early_finish < today:
            text, day = f"{a.name} was to be done {shown(a.early_finish)}: was it?", a.early_finish
        elif a.early_start < today and a.state != "under way":
            text, day = f"{a.name} was to start {shown(a.early_start)}: did it?", a.early_start
        else:
            continue
        found.append(Item("?", text, "path", a.code, day, "activities", a.code, "", a.code))
    first = by_day(found)
    more = len(first) - MOST_GONE_BY
    return (
        (*first[:MOST_GONE_BY], Item("?", f"and {more} more", "path", "", None))
        if more > 0
        else first
    )
