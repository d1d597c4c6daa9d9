"""Draws as sheets."""

from __future__ import annotations

from tracker.answers.draw_rows import DrawState
from tracker.answers.draws import DrawsAnswer
from tracker.command_line.sheets import Col, Sheet, day, dollars, facts, number, short_day


def sheets(answer: DrawsAnswer) -> list[Sheet]:
    """Whom to pay on Friday, cash by week, applications, sources, the draw in preparation, who is
    paid ahead.
    """
    last = answer.draws[-1:] if answer.draws else ()
    return [
        balance(answer),
        friday(answer),
        applications(answer),
        weeks(answer),
        sources(answer),
        *(draw(one) for one in last),
        waivers(answer),
        exposure(answer),
        overpaid(answer),
        liens(answer),
    ]


def balance(answer: DrawsAnswer) -> Sheet:
    """In balance or short, and how long the reserve lasts."""
    if not answer.sources:
        return Sheet(
            "",
            empty=(
                "No source of money yet: `tracker add FILE sources CODE kind=loan amount=DOLLARS`."
            ),
        )
    stands = "in balance" if answer.in_balance else f"short by {dollars(answer.short_cents)}"
    if answer.balance_not_known:
        stands = f"not known: {answer.balance_not_known}"
    pairs = [
        ("the loan", stands),
        ("paid out of pocket, to be drawn", dollars(answer.floated_cents)),
        ("interest reserve runs out", day(answer.reserve_runs_out)),
    ]
    return facts("Balance", pairs)


def friday(answer: DrawsAnswer) -> Sheet:
    """The payment list with what stops each payment."""
    columns = (
        Col("Friday", keep=True),
        Col("to"),
        Col("for"),
        Col("dollars", right=True),
        Col("what stops it"),
    )
    rows = tuple(
        (
            short_day(d.friday),
            d.payee,
            f"{d.kind} {d.release or d.key}",
            dollars(d.cents),
            ", ".join(d.closed),
        )
        for d in answer.payments_due
    )
    return Sheet("Payments due" if rows else "", columns, rows)


def applications(answer: DrawsAnswer) -> Sheet:
    """Pay applications that are not paid yet."""
    columns = (
        Col("application"),
        Col("state", keep=True),
        Col("earned", right=True),
        Col("held back", right=True),
        Col("payable", right=True),
        Col("closed gates"),
    )
    rows = tuple(
        (
            f"{a.contract}/{a.number}",
            a.state,
            dollars(a.earned_cents),
            dollars(a.retainage_cents),
            dollars(a.payable_cents),
            ", ".join(gate.gate for gate in a.gates if not gate.open),
        )
        for a in answer.applications
        if a.state != "paid"
    )
    return Sheet("Applications" if rows else "", columns, rows)


def weeks(answer: DrawsAnswer) -> Sheet:
    """Cash for twelve weeks."""
    known = answer.cash_is_entered
    columns = (
        Col("Friday", keep=True),
        Col("due", right=True),
        Col("draws", right=True),
        Col("cash", right=True),
        Col("short", right=True),
    )
    rows = tuple(
        (
            short_day(w.friday),
            dollars(w.due_cents),
            dollars(w.draws_cents),
            dollars(w.cash_cents if known else None),
            dollars(w.short_cents) if known and w.short_cents else "",
        )
        for w in answer.weeks
    )
    note = "" if known else "Cash on hand is not entered: what is left on a Friday is not known."
    return Sheet(
        "Cash by week",
        columns,
        rows,
        note=note if rows else "",
        empty="Nothing is entered yet that comes or goes.",
    )


def sources(answer: DrawsAnswer) -> Sheet:
    """Where the money comes from."""
    columns = (
        Col("source"),
        Col("amount", right=True),
        Col("used", right=True),
        Col("left", right=True),
    )
    rows = tuple(
        (s.name or s.code, dollars(s.amount_cents), dollars(s.used_cents), dollars(s.left_cents))
        for s in answer.sources
    )
    return Sheet("Sources" if rows else "", columns, rows)


def draw(one: DrawState) -> Sheet:
    """One draw by cost line; a line without anything this time is left out."""
    columns = (
        Col("cost line"),
        Col("budget now", right=True),
        Col("drawn before", right=True),
        Col("this draw", right=True),
        Col("to date", right=True),
        Col("left", right=True),
    )
    shown = [line for line in one.lines if line.this_draw_cents or line.drawn_before_cents]
    rows = tuple(
        (
            line.name or line.cost_line,
            dollars(line.budget_now_cents),
            dollars(line.drawn_before_cents),
            dollars(line.this_draw_cents),
            dollars(line.drawn_to_date_cents),
            dollars(line.left_cents),
        )
        for line in shown
    )
    total = one.total
    foot = (
        (
            "total of all lines",
            dollars(total.budget_now_cents),
            dollars(total.drawn_before_cents),
            dollars(total.this_draw_cents),
            dollars(total.drawn_to_date_cents),
            dollars(total.left_cents),
        ),
    )
    missing = [paper.what for paper in one.package if paper.state == "missing"]
    said = [f"missing: {', '.join(missing)}"] if missing else []
    return Sheet(
        f"Draw {number(one.number)}, {one.state}",
        columns,
        rows,
        foot,
        "; ".join([*said, *one.remarks]),
    )


def waivers(answer: DrawsAnswer) -> Sheet:
    """Waivers that are missing: for what, from whom, for how much."""
    columns = (
        Col("waiver missing for", keep=True),
        Col("from"),
        Col("kind"),
        Col("dollars", right=True),
        Col("through", keep=True),
    )
    rows = tuple(
        (
            f"{w.contract}/{w.application}",
            w.from_party or w.contractor,
            w.kind,
            dollars(w.amount_cents) if w.amount_cents is not None else "",
            short_day(w.through),
        )
        for w in answer.waivers_missing
    )
    return Sheet("", columns, rows)


def exposure(answer: DrawsAnswer) -> Sheet:
    """Who was paid more than was verified."""
    columns = (
        Col("paid ahead"),
        Col("paid", right=True),
        Col("earned", right=True),
        Col("held back", right=True),
        Col("ahead", right=True),
    )
    rows = tuple(
        (
            e.contractor,
            dollars(e.paid_cents),
            dollars(e.earned_cents),
            dollars(e.held_cents),
            dollars(e.paid_ahead_cents),
        )
        for e in answer.exposure
        if e.paid_ahead_cents > 0
    )
    return Sheet("", columns, rows)


def overpaid(answer: DrawsAnswer) -> Sheet:
    """What was paid above what was payable, with the reason on record."""
    columns = (
        Col("paid above"),
        Col("paid", right=True),
        Col("payable", right=True),
        Col("above", right=True),
        Col("reason"),
    )
    rows = tuple(
        (
            one.key,
            dollars(one.paid_cents),
            dollars(one.payable_cents),
            dollars(one.above_cents),
            one.reason or "none on record",
        )
        for one in answer.overpaid
    )
    return Sheet("", columns, rows)


def liens(answer: DrawsAnswer) -> Sheet:
    """Until when a lien can come from each who was on site, by the state's days as they are on
    record.
    """
    columns = (Col("lien clock"), Col("last on site"), Col("until"), Col("sent a notice"))
    rows = tuple(
        (
            one.contractor,
            short_day(one.last_day),
            short_day(one.until) if one.until else "not known",
            ", ".join(one.notices),
        )
        for one in answer.lien_clocks
    )
    rule = answer.lien_rule
    if rule is None:
        note = (
            "The state's days are not on record: ask an attorney, then enter the answer lien_days."
        )
    else:
        checked = (
            f"checked on {rule.checked_on.isoformat()}"
            if rule.checked_on
            else "nobody said when that was checked"
        )
        note = (
            f"{rule.days} days after the last work: {rule.source or 'no source given'}, {checked}."
            " Ask an attorney."
        )
    return Sheet("", columns, rows, note=note if rows else "")
