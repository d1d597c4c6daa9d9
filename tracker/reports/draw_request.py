"""A draw request for the lender, in the usual order of its package, with a contents page."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from pathlib import Path

from tracker.answers.draw_request import DrawRequest, asks_in_words, from_rows
from tracker.answers.draw_request_rows import SourceAsk
from tracker.approvals.cautions import for_view
from tracker.money.overpaid import PAYABLE
from tracker.reports.application import application, named
from tracker.reports.attached import Attached, listed, paper_key, papers_of
from tracker.reports.document import (
    CODE,
    DAY,
    MONEY,
    NUMBER,
    SHARE,
    Cell,
    Column,
    Document,
    Part,
    day,
)
from tracker.reports.draw_checks import checks, cuts, not_in_draw, set_aside
from tracker.reports.draw_papers import invoices, on_file, stored
from tracker.reports.draw_people import (
    bills,
    checks_to_write,
    not_agreed,
    notices,
    payees,
    statement,
)
from tracker.reports.making import document_of, names_of
from tracker.values.money import dollars
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows

SHEET = (
    Column("code", "Line", CODE),
    Column("name", "Name"),
    Column("budget_now", "Budget now", MONEY, sums=True),
    Column("drawn_before", "Drawn before", MONEY, sums=True),
    Column("this_draw", "This draw", MONEY, sums=True),
    Column("drawn_to_date", "Drawn to date", MONEY, "", "{drawn_before}+{this_draw}", sums=True),
    Column("left", "Left to draw", MONEY, "", "{budget_now}-{drawn_to_date}", sums=True),
    Column(
        "share",
        "Share done",
        SHARE,
        "",
        "IF({budget_now}=0,0,ROUND({drawn_to_date}/{budget_now},4))",
    ),
    Column("retainage", "Held back by the lender", MONEY, sums=True),
    Column("owner", "Paid by the owner", MONEY, sums=True),
)
PRINTED = {
    "request": "request",
    "cost lines": "lines",
    "payees": "payees",
    "sworn statement": "statement",
    "waivers": "waivers",
    "changes": "changes",
    "permits and inspections": "inspections",
    "invoices": "invoices",
    "stored materials": "stored",
    "insurance": "on_file",
}
"""By paper of the package, the part that prints it; the others are attached."""


def documents(rows: Rows, today: dt.date, number: str | None) -> Document:
    """One draw with no attached paper read: those that are on record are named as not found."""
    return with_papers(rows, today, number, None)[0]


def with_papers(
    rows: Rows, today: dt.date, number: str | None, folder: Path | None
) -> tuple[Document, tuple[Attached, ...]]:
    """One draw, the last without a number, and the papers to put behind it. folder: where the
    project file lies.

    ProblemError where there is no such draw, or it may not be asked for as it stands.
    """
    answer = from_rows(rows, today, wanted(number))
    if answer is None:
        known = [str(draw.number) for draw in rows.get("draws", ())]
        there = (
            f"there are {', '.join(known[-12:])}"
            if known
            else "enter one, or import draws.csv and draw_lines.csv"
        )
        raise ProblemError(Problem(what="there is no such draw", value=number or "", do=there))
    refuse_above_budget(answer)
    names = names_of(rows, "contractors")
    papers = papers_of(rows, answer, folder)
    parts = [
        contents(answer, papers),
        request(answer),
        checks(answer),
        *([cuts(answer)] if answer.cuts else []),
        set_aside(answer),
        not_in_draw(answer),
        lines(answer),
        payees(answer),
        checks_to_write(answer),
        statement(answer),
        notices(answer),
        not_agreed(answer),
        bills(answer),
        *applications(answer, rows, names),
        invoices(answer),
        stored(answer),
        waivers(answer),
        missing(answer),
        changes(answer),
        moves(answer),
        inspections(answer),
        on_file(answer),
        listed(papers),
    ]
    cautions = [*answer.cautions, *(c.text for c in for_view("draws"))]
    return (
        document_of(
            f"Draw request {answer.draw.number}", rows, today, parts, cautions, main="lines"
        ),
        papers,
    )


def wanted(number: str | None) -> int | None:
    """The draw's number as typed."""
    if number is None:
        return None
    if not (number.isascii() and number.isdigit() and len(number) <= 4):
        raise ProblemError(
            Problem(what="a draw has a whole number", value=number, do="give --number N")
        )
    return int(number)


def refuse_above_budget(answer: DrawRequest) -> None:
    """A line may not be drawn above its budget now."""
    above = [
        line.cost_line
        for line in answer.draw.lines
        if line.above_budget_cents and line.this_draw_cents
    ]
    if above:
        what = f"draw {answer.draw.number} takes {', '.join(above)} above its budget now"
        raise ProblemError(
            Problem(
                what=what, do="move budget first, with its reason, or take the line out of the draw"
            )
        )


def contents(answer: DrawRequest, attached: Sequence[Attached]) -> Part:
    """The papers of the package in their order, each present, missing or waived, and where it
    stands.
    """
    columns = (
        Column("what", "Paper"),
        Column("state", "State", CODE),
        Column("reason", "Remark"),
        Column("page", "Page", CODE),
    )
    first = named(answer.applications[0]) if answer.applications else ""
    printed = {**PRINTED, "applications": f"sums-{first}" if first else ""}
    papers = answer.draw.package
    rows = tuple(
        (
            p.what,
            p.state.upper() if p.state == "missing" else p.state,
            p.reason,
            page_words(p.what, p.state),
        )
        for p in papers
    )
    lacking = [paper.what for paper in papers if paper.state == "missing"]
    note = (
        f"Missing still: {', '.join(lacking)}." if lacking else "Every paper is present or waived."
    )
    behind = {one.paper for one in attached if one.data is not None}
    begins = tuple(
        printed.get(p.what, "") or (paper_key(p.what) if p.what in behind else "") for p in papers
    )
    return Part("contents", "Contents of the package", columns, rows, note=note, begins=begins)


def page_words(what: str, state: str) -> str:
    """Where a paper stands that is not printed here."""
    return "" if what in PRINTED or state == "waived" else "attach"


def request(answer: DrawRequest) -> Part:
    """The letter to the lender, with what each source shall bring."""
    draw = answer.draw
    asks = "asked for" if draw.state in ("draft", "sent") else draw.state
    words = [
        f"Draw {draw.number}, work through {day(answer.until)}. State: {draw.state}"
        + (f", sent {day(draw.sent)}" if draw.sent else "")
        + (f", funded {day(draw.funded_on)}" if draw.funded_on else "")
        + ".",
        " ".join(asks_in_words(answer.sources, draw.state)),
        (
            f"All sources together: {dollars(draw.total.this_draw_cents)} for the cost lines and"
            " the payees on the next pages. It became payable in the period; the owner's own labor"
            " is not in it."
        ),
        balance_words(answer),
        *(f"Against it stands: {remark}." for remark in draw.remarks),
    ]
    columns = (
        Column("source", "Source"),
        Column("committed", "Committed", MONEY, sums=True),
        Column("before", "Used before", MONEY, sums=True),
        Column("amount", f"This draw ({asks})", MONEY, sums=True),
        Column("left", "Left then", MONEY, "", "{committed}-{before}-{amount}", sums=True),
        Column("held", "Held back by the lender", MONEY, sums=True),
    )
    rows = tuple(source_cells(one) for one in answer.sources)
    foot: tuple[Cell, ...] = source_cells(answer.sources_total) if rows else ()
    return Part(
        "request",
        "Request",
        columns,
        rows,
        foot,
        words=tuple(words),
        empty="No source of money is entered yet.",
        sign=("Owner and borrower",),
        new_page=True,
    )


def source_cells(one: SourceAsk) -> tuple[Cell, ...]:
    """The cells of a source, or of all together."""
    return (
        one.name,
        one.committed_cents,
        one.before_cents,
        one.this_draw_cents,
        one.left_cents,
        one.retainage_cents,
    )


def balance_words(answer: DrawRequest) -> str:
    """Whether the money is enough, in words."""
    if answer.balance_not_known:
        return f"Whether the money is enough is not known: {answer.balance_not_known}."
    if answer.in_balance:
        return (
            "In balance: what is not drawn yet covers the forecast of what is still to pay, with"
            " the interest that is expected."
        )
    return (
        f"Out of balance, short by {dollars(answer.short_cents)}: lenders usually ask for that sum"
        " before they fund."
    )


def lines(answer: DrawRequest) -> Part:
    """The draw by cost line, footing to its total."""
    total = answer.draw.total
    rows = tuple(
        (
            line.cost_line,
            line.name,
            line.budget_now_cents,
            line.drawn_before_cents,
            line.this_draw_cents,
            line.drawn_to_date_cents,
            line.left_cents,
            line.share_bp,
            line.retainage_cents,
            answer.owner_paid.get(line.cost_line, 0),
        )
        for line in answer.draw.lines
    )
    foot = (
        "Total",
        "",
        total.budget_now_cents,
        total.drawn_before_cents,
        total.this_draw_cents,
        total.drawn_to_date_cents,
        total.left_cents,
        total.share_bp,
        total.retainage_cents,
        answer.owner_paid_cents,
    )
    note = (
        "Paid by the owner: paid as of today and covered by no draw; it is not asked for again."
        " Left to draw is budget now less drawn to date."
    )
    return Part(
        "lines",
        "Cost lines",
        SHEET,
        rows,
        foot if rows else (),
        note=note if rows else "",
        empty="There is no cost line yet.",
        wide=True,
        new_page=True,
    )


def applications(answer: DrawRequest, rows: Rows, names: dict[str, str]) -> list[Part]:
    """The pay applications of the draw, each with its lines."""
    by = {(a.contract, a.number): a for a in rows.get("applications", ())}
    aside = {one.key: one.reason for one in answer.set_aside if one.what == PAYABLE}
    found: list[Part] = []
    for one in answer.applications:
        seen = by[one.contract, one.number]
        words = f"verified {day(seen.verified_on)}" if seen.verified_on else "not verified yet"
        who = names.get(one.contractor, one.contractor)
        found += application(one, who, words, place=1, aside=aside.get(named(one), ""))
    return found


def waivers(answer: DrawRequest) -> Part:
    """The waivers that belong to the draw."""
    columns = (
        Column("code", "Waiver", CODE),
        Column("contract", "Contract", CODE),
        Column("application", "Application", NUMBER),
        Column("who", "From"),
        Column("kind", "Kind"),
        Column("amount", "Amount", MONEY),
        Column("through", "Through", DAY),
        Column("date", "Given", DAY),
    )
    rows = tuple(
        (w.code, w.contract, w.application, w.from_party, w.kind, w.amount_cents, w.through, w.date)
        for w in answer.waivers
    )
    return Part(
        "waivers",
        "Waivers",
        columns,
        rows,
        empty="No waiver is on record for this draw.",
        wide=True,
        new_page=True,
    )


def missing(answer: DrawRequest) -> Part:
    """Waivers that are missing or that the owner set aside."""
    columns = (
        Column("application", "Application", CODE),
        Column("gate", "Waiver"),
        Column("state", "State", CODE),
        Column("reason", "Reason"),
    )
    rows = tuple(
        (f"{m.contract}/{m.application}", m.gate, m.state, m.reason) for m in answer.missing_waivers
    )
    return Part("missing", "Waivers missing, or set aside", columns, rows, empty="None.", wide=True)


def changes(answer: DrawRequest) -> Part:
    """The changes approved in the period."""
    columns = (
        Column("number", "Change", CODE),
        Column("contract", "Contract", CODE),
        Column("title", "What"),
        Column("reason", "Why"),
        Column("approved", "Approved", DAY),
        Column("price", "Price", MONEY, sums=True),
        Column("days", "Days", NUMBER),
    )
    rows = tuple(
        (c.number, c.contract, c.title, c.reason, c.approved, c.price_cents, c.days)
        for c in answer.changes
    )
    foot = ("Total", "", "", "", None, answer.changes_total_cents, None) if rows else ()
    title = "Changes approved in the period"
    return Part(
        "changes", title, columns, rows, foot, empty="None was approved in the period.", wide=True
    )


def moves(answer: DrawRequest) -> Part:
    """Budget that was moved in the period: a lender asks for the reason, and some for their
    consent.
    """
    columns = (
        Column("number", "Move", CODE),
        Column("date", "Date", DAY),
        Column("from", "From line", CODE),
        Column("to", "To line", CODE),
        Column("amount", "Amount", MONEY),
        Column("reason", "Why"),
    )
    rows = tuple(
        (m.number, m.date, m.from_line, m.to_line, m.amount_cents, m.reason) for m in answer.moves
    )
    return Part(
        "moves",
        "Budget moved in the period",
        columns,
        rows,
        empty="None was moved in the period.",
        wide=True,
    )


def inspections(answer: DrawRequest) -> Part:
    """The inspections of the period, as the inspector left them."""
    columns = (
        Column("code", "Inspection", CODE),
        Column("name", "What"),
        Column("permit", "Permit", CODE),
        Column("date", "Date", DAY),
        Column("state", "State", CODE),
        Column("open", "Corrections open", NUMBER),
    )
    rows = tuple(
        (i.code, i.name, i.permit, i.date, i.state, i.open_items) for i in answer.inspections
    )
    return Part(
        "inspections",
        "Inspections of the period",
        columns,
        rows,
        empty="None took place in the period.",
        wide=True,
    )
