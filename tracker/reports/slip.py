"""The post-mortem on paper: the slip by window, cause and party, down to each share of it, and the
evidence list.

The spreadsheet's list of shares carries its costs and totals as live formulas. No cost by party
stands without its concurrent days. The caution that it is an account and no opinion on who owes
what stands first and last.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Container, Iterator, Mapping

from tracker.answers.slip import CAUTION, SlipAnswer, from_rows
from tracker.answers.slip_rows import Sum
from tracker.reports.document import (
    CODE,
    DAY,
    MONEY,
    NUMBER,
    Cell,
    Column,
    Document,
    Part,
    day,
    facts,
)
from tracker.reports.making import cautions_of, document_of
from tracker.schedule.slip.causes import MADE_UP, NOT_EXPLAINED
from tracker.values.money import cost_of_days
from tracker.values.records import Rows

DAYS = Column("days", "Days", NUMBER, sums=True)
COST = Column("cost", "Cost", MONEY, sums=True)


def documents(
    rows: Rows, today: dt.date, number: str | None, snapshots: Mapping[dt.date, Mapping[str, str]]
) -> Document:
    """The post-mortem as of a day; it has no number. snapshots: the texts of their tables
    by date.
    """
    answer = from_rows(rows, today, snapshots)
    parts = (
        standing(answer),
        not_explained(answer),
        causes(answer),
        parties(answer),
        windows(answer),
        shares(answer),
        by_activity(answer),
        lump_sums(answer),
        direct_costs(answer),
        waits(answer),
        durations(answer),
        came(answer),
        evidence(answer),
        remarks(answer),
    )
    kept = [part for part in parts if part.rows or part.empty]
    cautions = [*answer.cautions, *cautions_of("slip", rows)]
    return document_of(
        "Slip: what took longer, and why", rows, today, kept, cautions, main="shares"
    )


def standing(answer: SlipAnswer) -> Part:
    """From which opening to which."""
    pairs: list[tuple[str, Cell]] = [
        ("From", day(answer.from_)),
        ("Opening forecast then", day(answer.baseline_opening)),
        ("To", day(answer.to)),
        ("Opening forecast now", day(answer.now_opening)),
        ("Slip", f"{answer.slip_days:,} calendar days" if answer.windows else ""),
        (
            "At the cost of a day",
            (
                cost_of_days(answer.cost_cents, answer.slip_days, answer.cost_known)
                if answer.windows
                else ""
            ),
        ),
        ("Most in the windows to", ", ".join(day(one) for one in answer.most_windows)),
        (
            "Most by",
            ", ".join(a.name for a in answer.by_activity if a.code in answer.most_activities),
        ),
    ]
    empty = "No status date is closed yet, so that there is no slip to measure."
    return facts("standing", "The slip", pairs, empty=empty, words=(CAUTION,))


def ledger(answer: SlipAnswer) -> Iterator[tuple[Cell, ...]]:
    """Each share of the slip: window, activity, what, cause, party, event, days, cost of a day,
    cost.
    """
    names = {one.party: one.name for one in answer.parties}
    for window in answer.windows:
        rate = window.cost_of_a_day_cents
        for step in window.activities:
            for r in step.reasons:
                name = names.get(r.party, r.party)
                yield (
                    window.to,
                    step.code,
                    step.name,
                    "progress",
                    r.cause,
                    name,
                    r.event,
                    r.days,
                    rate,
                    r.days * rate,
                )
        for one in window.revisions:
            name = names.get(one.party, one.party)
            what = f"{one.kind}: {one.what}"
            yield (
                window.to,
                one.code,
                one.name,
                what,
                one.cause,
                name,
                one.event,
                one.days,
                rate,
                one.days * rate,
            )


def is_concurrent(row: tuple[Cell, ...], at_once: Container[Cell]) -> bool:
    """Whether a line of the ledger is progress days lost in a window in which delays ran at the
    same time.
    """
    days = row[7]
    return row[0] in at_once and row[3] == "progress" and isinstance(days, int) and days > 0


def shares(answer: SlipAnswer) -> Part:
    """Every share of the slip; they add up to it."""
    columns = (
        Column("window", "Window to", DAY),
        Column("code", "Code", CODE),
        Column("name", "Activity"),
        Column("what", "What"),
        Column("cause", "Cause"),
        Column("party", "Through whom"),
        Column("event", "Event", CODE),
        DAYS,
        Column("rate", "A day costs", MONEY),
        Column("cost", "Cost", MONEY, formula="ROUND({days}*{rate},2)", sums=True),
        Column("concurrent", "At the same time", CODE),
    )
    at_once = {window.to for window in answer.windows if window.concurrent}
    rows = tuple(
        (*row, "concurrent" if is_concurrent(row, at_once) else "") for row in ledger(answer)
    )
    foot = ("Slip", *("" for _ in range(6)), answer.slip_days, None, answer.cost_cents, "")
    note = (
        "Progress: the plan then was not kept to. Else the plan itself was changed. Days are"
        " calendar days of the opening."
    )
    empty = "The opening has not moved." if answer.windows else "There is no window yet."
    return Part(
        "shares",
        "Each share of it",
        columns,
        rows,
        foot if rows else (),
        note=note,
        empty=empty,
        wide=True,
    )


def not_explained(answer: SlipAnswer) -> Part:
    """What nobody explained, before everything else."""
    columns = (
        Column("window", "Window to", DAY),
        Column("code", "Code", CODE),
        Column("name", "Activity"),
        DAYS,
        COST,
    )
    rows = tuple((r[0], r[1], r[2], r[7], r[9]) for r in ledger(answer) if r[4] == NOT_EXPLAINED)
    foot = ("Total", "", "", answer.not_explained.days, answer.not_explained.cost_cents)
    empty = "Every day has its reason." if answer.windows else ""
    return Part(
        "not_explained", "What nobody explained", columns, rows, foot if rows else (), empty=empty
    )


def apart(answer: SlipAnswer) -> tuple[tuple[str, Sum], ...]:
    """What stands beside causes and parties and adds up with each of the two."""
    return (NOT_EXPLAINED, answer.not_explained), (MADE_UP, answer.made_up)


def causes(answer: SlipAnswer) -> Part:
    """By cause, down to the slip."""
    if not answer.windows:
        return Part("causes", "")
    rows = [(one.cause, one.days, one.cost_cents) for one in answer.causes]
    rows += [(name, one.days, one.cost_cents) for name, one in apart(answer)]
    foot = ("Slip", answer.slip_days, answer.cost_cents)
    return Part("causes", "By cause", (Column("cause", "Cause"), DAYS, COST), tuple(rows), foot)


def parties(answer: SlipAnswer) -> Part:
    """By party, down to the slip, with the concurrent days beside each cost, and the words given
    and kept.
    """
    if not answer.windows:
        return Part("parties", "")
    columns = (
        Column("party", "Through whom"),
        DAYS,
        COST,
        Column("concurrent", "Of which concurrent", NUMBER, sums=True),
        Column("given", "Words given", NUMBER),
        Column("kept", "Kept", NUMBER),
    )
    rows: list[tuple[Cell, ...]] = [
        (
            p.name,
            p.days,
            p.cost_cents,
            p.concurrent_days,
            p.words_given or None,
            p.words_kept if p.words_given else None,
        )
        for p in answer.parties
    ]
    rows += [
        (name, one.days, one.cost_cents, one.concurrent_days, None, None)
        for name, one in apart(answer)
    ]
    concurrent = (
        sum(p.concurrent_days for p in answer.parties) + answer.not_explained.concurrent_days
    )
    foot = ("Slip", answer.slip_days, answer.cost_cents, concurrent, None, None)
    note = (
        "Concurrent: days of windows in which delays ran at the same time; another party's may be"
        " in them as well."
    )
    return Part("parties", "Through whom", columns, tuple(rows), foot, note=note)


def windows(answer: SlipAnswer) -> Part:
    """Window by window, each with its own cost of a day."""
    columns = (
        Column("to", "Window to", DAY),
        Column("opening", "Opening", DAY),
        Column("progress", "By progress", NUMBER, sums=True),
        Column("revised", "By revision", NUMBER, sums=True),
        Column("days", "Days", NUMBER, formula="{progress}+{revised}", sums=True),
        Column("rate", "A day costs", MONEY),
        Column("cost", "Cost", MONEY, formula="ROUND({days}*{rate},2)", sums=True),
        Column("mark", "Mark", CODE),
    )
    rows = tuple(
        (
            w.to,
            w.opening_after,
            w.progress_days,
            w.revision_days,
            w.days,
            w.cost_of_a_day_cents,
            w.cost_cents,
            "concurrent" if w.concurrent else "",
        )
        for w in answer.windows
    )
    sums = (
        sum(w.progress_days for w in answer.windows),
        sum(w.revision_days for w in answer.windows),
    )
    foot = ("Slip", "", *sums, answer.slip_days, None, answer.cost_cents, "")
    note = "A window begins after the status date before it. Each has its own cost of a day."
    return Part("windows", "By window", columns, rows, foot if rows else (), note=note, wide=True)


def by_activity(answer: SlipAnswer) -> Part:
    """By activity over all windows."""
    columns = (
        Column("code", "Code", CODE),
        Column("name", "Activity"),
        Column("progress", "By progress", NUMBER, sums=True),
        Column("revised", "By revision", NUMBER, sums=True),
        Column("days", "Days", NUMBER, formula="{progress}+{revised}", sums=True),
        COST,
    )
    rows = tuple(
        (a.code, a.name, a.progress_days, a.revision_days, a.days, a.cost_cents)
        for a in answer.by_activity
    )
    sums = (
        sum(a.progress_days for a in answer.by_activity),
        sum(a.revision_days for a in answer.by_activity),
    )
    foot = ("Slip", "", *sums, answer.slip_days, answer.cost_cents)
    return Part("activities", "By activity", columns, rows, foot if rows else (), wide=True)


def lump_sums(answer: SlipAnswer) -> Part:
    """Step costs, by themselves."""
    columns = (
        Column("date", "Date", DAY),
        Column("window", "Passed in the window to", DAY),
        Column("reason", "What for"),
        Column("amount", "Amount", MONEY, sums=True),
    )
    rows = tuple((s.date, s.window, s.reason, s.amount_cents) for s in answer.step_costs)
    foot = ("Total", "", "", sum(s.amount_cents for s in answer.step_costs))
    note = (
        "Nobody's: they fall due when the opening passes their date, and are not among the costs by"
        " day."
    )
    return Part(
        "lump_sums",
        "Lump sums whose date was passed",
        columns,
        rows,
        foot if rows else (),
        note=note,
        wide=True,
    )


def direct_costs(answer: SlipAnswer) -> Part:
    """What delay events cost by themselves."""
    columns = (
        Column("code", "Event", CODE),
        Column("date", "From", DAY),
        Column("note", "What"),
        Column("amount", "Amount", MONEY, sums=True),
    )
    rows = tuple((d.code, d.date, d.note, d.amount_cents) for d in answer.direct_costs)
    foot = ("Total", "", "", sum(d.amount_cents for d in answer.direct_costs))
    note = "As the site log has them; not among the costs by day."
    return Part(
        "direct",
        "Direct costs from the site log",
        columns,
        rows,
        foot if rows else (),
        note=note,
        wide=True,
    )


def waits(answer: SlipAnswer) -> Part:
    """Next time: how long gates were waited for."""
    columns = (
        Column("kind", "Kind of gate"),
        Column("passed", "Passed", NUMBER),
        Column("waiting", "Still waited for", NUMBER),
        Column("longest", "Longest, days", NUMBER),
        Column("name", "Which"),
    )
    rows = tuple(
        (w.kind, w.count, w.still_waiting, w.longest, w.name) for w in answer.lessons.waits
    )
    return Part("waits", "Next time: waits for gates", columns, rows, wide=True)


def durations(answer: SlipAnswer) -> Part:
    """Next time: planned against taken."""
    columns = (
        Column("trade", "Trade"),
        Column("count", "Finished", NUMBER),
        Column("planned", "Planned at first", NUMBER),
        Column("taken", "Taken", NUMBER),
        Column("more", "More", NUMBER, formula="{taken}-{planned}"),
    )
    rows = tuple(
        (t.trade, t.count, t.planned, t.taken, t.taken - t.planned)
        for t in answer.lessons.durations
    )
    return Part("durations", "Next time: working days by trade", columns, rows, wide=True)


def came(answer: SlipAnswer) -> Part:
    """Next time: who came on the day."""
    columns = (
        Column("name", "Contractor"),
        Column("kept", "Came on the day", NUMBER),
        Column("due", "Words due", NUMBER),
    )
    rows = tuple((c.name, c.kept, c.due) for c in answer.lessons.came_on_the_day)
    return Part("came", "Next time: who came on the day", columns, rows, wide=True)


def evidence(answer: SlipAnswer) -> Part:
    """Every delay event of the site log, with its evidence and what it explained."""
    columns = (
        Column("code", "Event", CODE),
        Column("first", "From", DAY),
        Column("activity", "Activity"),
        Column("cause", "Cause"),
        Column("party", "Through whom"),
        Column("lost", "Working days lost", NUMBER),
        Column("days", "Days explained", NUMBER, sums=True),
        Column("note", "What happened"),
        Column("evidence", "Evidence"),
    )
    rows = tuple(
        (e.code, e.first, e.name, e.cause, e.who, e.days_lost, e.days_explained, e.note, e.evidence)
        for e in answer.evidence
    )
    foot = ("Total", "", "", "", "", None, sum(e.days_explained for e in answer.evidence), "", "")
    empty = "The site log has no delay event." if answer.windows else ""
    return Part(
        "evidence",
        "Evidence",
        columns,
        rows,
        foot if rows else (),
        empty=empty,
        wide=True,
        new_page=bool(rows),
    )


def remarks(answer: SlipAnswer) -> Part:
    """What is odd about the snapshots."""
    columns = (Column("key", "Snapshot", CODE), Column("text", "What"))
    return Part(
        "remarks",
        "Worth a look",
        columns,
        tuple((w.key, w.text) for w in answer.warnings),
        wide=True,
    )
