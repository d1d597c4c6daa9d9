"""Checks of our own on the schedule: clashes of a trade, uninspected cover-ups, work before its
permit, papers.
"""

from __future__ import annotations

from tracker.schedule.path.clashes import clashes
from tracker.schedule.path.health import Check, judged
from tracker.schedule.path.plan import Dates, Plan
from tracker.trades.papers import Span, gaps
from tracker.values.records import Rows


def own_checks(rows: Rows, plan: Plan) -> list[Check]:
    """The four checks; each allows no offender."""
    dates = plan.by_code()
    left = {code: d for code, d in dates.items() if d.state != "done"}
    return [
        trade_twice(rows, plan),
        cover_before_inspection(rows, plan, left),
        work_before_permit(rows, dates),
        papers_on_planned_days(rows, left),
    ]


def none_allowed(name: str, codes: list[str], of: int, note: str) -> Check:
    """A check that passes without offenders."""
    return judged(name, codes, of, "none", not codes, note)


def trade_twice(rows: Rows, plan: Plan) -> Check:
    """Two activities of one trade at once."""
    found = clashes(rows.get("activities", ()), plan.dates)
    of = sum(1 for a in rows.get("activities", ()) if a.trade)
    codes = sorted({code for c in found for code in (c.one, c.other)})
    return none_allowed("trade on two activities at once", codes, of, "by early dates")


def cover_before_inspection(rows: Rows, plan: Plan, left: dict[str, Dates]) -> Check:
    """Work that would cover something up and does not come after the inspection in the network."""
    pairs = [(i, code) for i in rows.get("inspections", ()) for code in i.covers if code in left]
    behind = {
        activity: following(plan, activity)
        for activity in {i.activity for i, _ in pairs if i.state != "passed"}
    }
    codes = sorted(
        {code for i, code in pairs if i.state != "passed" and code not in behind[i.activity]}
    )
    return none_allowed(
        "inspection missing before work is covered",
        codes,
        len(pairs),
        "not linked behind its inspection",
    )


def following(plan: Plan, code: str) -> set[str]:
    """The codes of everything that comes after an activity in the network; nothing for one that is
    not in it.
    """
    if plan.run is None:
        return set()
    g = plan.run.gathered
    begin = [i for i, a in enumerate(g.activities) if a.code == code]
    found: set[int] = set()
    while begin:
        for s, _, _ in g.network.arcs_after(begin.pop()):
            if s not in found:
                found.add(s)
                begin.append(s)
    return {g.activities[i].code for i in found}


def work_before_permit(rows: Rows, dates: dict[str, Dates]) -> Check:
    """Work that begins before its permit is issued, or goes on after it has run out."""
    permits = {p.code: p for p in rows.get("permits", ())}
    codes, of = [], 0
    for a in rows.get("activities", ()):
        permit = permits.get(a.permit)
        if permit is None or a.kind != "work":
            continue
        of += 1
        d = dates[a.code]
        begun = d.state in ("done", "under way")
        early = d.early_start < permit.issued if permit.issued else begun
        late = permit.expires is not None and d.state != "done" and d.early_finish > permit.expires
        if early or late:
            codes.append(a.code)
    return none_allowed(
        "work before its permit", codes, of, "before the permit is issued, or after it runs out"
    )


def papers_on_planned_days(rows: Rows, left: dict[str, Dates]) -> Check:
    """Planned work of a contractor whose license, liability or workers' compensation does not cover
    all of its days.
    """
    contractor_of = {c.code: c.contractor for c in rows.get("contracts", ())}
    planned: dict[str, dict[str, Span]] = {}
    for a in rows.get("activities", ()):
        if a.code in left and a.kind == "work" and a.contract in contractor_of:
            days = left[a.code].early_start, left[a.code].early_finish
            planned.setdefault(contractor_of[a.contract], {})[a.code] = days
    papers = rows.get("papers", ())
    bare = {
        gap.activity
        for contractor, spans in planned.items()
        for gap in gaps(papers, contractor, spans)
    }
    codes = [a.code for a in rows.get("activities", ()) if a.code in bare]
    of = sum(len(spans) for spans in planned.values())
    return none_allowed(
        "contractor without valid papers",
        codes,
        of,
        "license, liability, workers comp on the planned days",
    )
