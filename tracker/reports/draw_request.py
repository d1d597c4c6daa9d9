"""A draw request for the lender, in the usual order of its package, with a contents page."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from tracker.answers.draw_request import DrawRequest, from_rows
from tracker.approvals.cautions import for_view
from tracker.reports.application import application, named
from tracker.reports.attached import Attached, listed, papers_of
from tracker.reports.document import CODE, DAY, MONEY, NUMBER, SHARE, Cell, Column, Document, Part, day
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
    Column("share", "Share done", SHARE, "", "IF({budget_now}=0,0,ROUND({drawn_to_date}/{budget_now},4))"),
    Column("retainage", "Held back by the lender", MONEY, sums=True),
)
PAYEES = (
    Column("payee", "Exact name on the check"),
    Column("what", "For", CODE),
    Column("code", "Line", CODE),
    Column("amount", "Amount", MONEY, sums=True),
    Column("paid", "Paid already", MONEY, sums=True),
    Column("to_pay", "To pay", MONEY, "", "{amount}-{paid}", sums=True),
    Column("jointly", "Also on the check"),
)
STATEMENT = (
    Column("who", "Contractor"),
    Column("contract", "Contract", CODE),
    Column("what", "For"),
    Column("now", "Contract now", MONEY, sums=True),
    Column("earned", "Earned", MONEY, sums=True),
    Column("held", "Held back", MONEY, sums=True),
    Column("paid", "Paid", MONEY, sums=True),
    Column("due", "Due now", MONEY, "", "{earned}-{held}-{paid}", sums=True),
    Column("to_come", "Still to earn", MONEY, "", "{now}-{earned}", sums=True),
)
BILLS = (
    Column("who", "From"),
    Column("number", "Number", CODE),
    Column("date", "Date", DAY),
    Column("kind", "Kind", CODE),
    Column("code", "Line", CODE),
    Column("amount", "Amount", MONEY, sums=True),
    Column("paid", "Paid", MONEY, sums=True),
    Column("due", "Due now", MONEY, "", "{amount}-{paid}", sums=True),
)
PRINTED = {
    "request": "request",
    "cost lines": "lines",
    "payees": "payees",
    "sworn statement": "statement",
    "waivers": "waivers",
    "changes": "changes",
    "permits and inspections": "inspections",
}
"""By paper of the package, the part that prints it; the others are attached."""

SWORN = (
    "The undersigned, owner of the building named above and acting without a general contractor, being sworn, says: "
    "below stands every contract that was made for labor and material on this project, with what was earned, held back, paid "
    "and is due. Nobody else has a contract with the owner for it, or a claim that the owner knows of, but those below."
)


def documents(rows: Rows, today: dt.date, number: str | None) -> Document:
    """One draw with no attached paper read: those that are on record are named as not found."""
    return with_papers(rows, today, number, None)[0]


def with_papers(rows: Rows, today: dt.date, number: str | None, folder: Path | None) -> tuple[Document, tuple[Attached, ...]]:
    """One draw, the last without a number, and the papers to put behind it. folder: where the project file lies.

    ProblemError where there is no such draw, or it may not be asked for as it stands.
    """
    answer = from_rows(rows, today, wanted(number))
    if answer is None:
        known = [str(draw.number) for draw in rows.get("draws", ())]
        there = f"there are {', '.join(known[-12:])}" if known else "enter one, or import draws.csv and draw_lines.csv"
        raise ProblemError(Problem(what="there is no such draw", value=number or "", do=there))
    refuse_above_budget(answer)
    names = names_of(rows, "contractors")
    papers = papers_of(rows, answer, folder)
    parts = [
        contents(answer),
        request(answer),
        lines(answer),
        payees(answer),
        statement(answer),
        bills(answer),
        *applications(answer, rows, names),
        waivers(answer),
        missing(answer),
        changes(answer),
        inspections(answer),
        listed(papers),
    ]
    cautions = [*answer.cautions, *(c.text for c in for_view("draws"))]
    return document_of(f"Draw request {answer.draw.number}", rows, today, parts, cautions, main="lines"), papers


def wanted(number: str | None) -> int | None:
    """The draw's number as typed."""
    if number is None:
        return None
    if not (number.isascii() and number.isdigit() and len(number) <= 4):
        raise ProblemError(Problem(what="a draw has a whole number", value=number, do="give --number N"))
    return int(number)


def refuse_above_budget(answer: DrawRequest) -> None:
    """A line may not be drawn above its budget now."""
    above = [line.cost_line for line in answer.draw.lines if line.above_budget_cents and line.this_draw_cents]
    if above:
        what = f"draw {answer.draw.number} takes {', '.join(above)} above its budget now"
        raise ProblemError(Problem(what=what, do="move budget first, with its reason, or take the line out of the draw"))


def contents(answer: DrawRequest) -> Part:
    """The papers of the package in their order, each present, missing or waived, and where it stands."""
    columns = (Column("what", "Paper"), Column("state", "State", CODE), Column("reason", "Remark"), Column("page", "Page", CODE))
    first = named(answer.applications[0]) if answer.applications else ""
    printed = {**PRINTED, "applications": f"sums-{first}" if first else ""}
    papers = answer.draw.package
    rows = tuple(
        (p.what, p.state.upper() if p.state == "missing" else p.state, p.reason, page_words(p.what, p.state)) for p in papers
    )
    lacking = [paper.what for paper in papers if paper.state == "missing"]
    note = f"Missing still: {', '.join(lacking)}." if lacking else "Every paper is present or waived."
    begins = tuple(printed.get(paper.what, "") for paper in papers)
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
        f"The owner asks that {dollars(draw.total.this_draw_cents)} be advanced for the cost lines and the payees on the pages "
        "that follow. What is asked for became payable in the period; the owner's own labor is not in it.",
        balance_words(answer),
        *(f"Against it stands: {remark}." for remark in draw.remarks),
    ]
    columns = (
        Column("source", "Source"),
        Column("amount", f"This draw ({asks})", MONEY, sums=True),
        Column("held", "Held back by the lender", MONEY, sums=True),
    )
    rows = tuple((one.name, one.this_draw_cents, one.retainage_cents) for one in answer.sources)
    foot: tuple[Cell, ...] = ("Total", draw.total.this_draw_cents, draw.total.retainage_cents) if rows else ()
    return Part(
        "request",
        "Request",
        columns,
        rows,
        foot,
        words=tuple(words),
        empty="Nothing is asked for yet.",
        sign=("Owner and borrower",),
        new_page=True,
    )


def balance_words(answer: DrawRequest) -> str:
    """Whether the money is enough, in words."""
    if answer.in_balance:
        return (
            "In balance: what is not drawn yet covers the forecast of what is still to pay, with the interest that is expected."
        )
    return f"Out of balance, short by {dollars(answer.short_cents)}: lenders usually ask for that sum before they fund."


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
    )
    return Part(
        "lines", "Cost lines", SHEET, rows, foot if rows else (), empty="There is no cost line yet.", wide=True, new_page=True
    )


def payees(answer: DrawRequest) -> Part:
    """Who gets a check, under which exact name, from which line."""
    rows = tuple(
        (p.payee, p.what, p.cost_line, p.amount_cents, p.paid_cents, p.to_pay_cents, ", ".join(p.jointly)) for p in answer.payees
    )
    foot = ("Total", "", "", answer.payees_total_cents, answer.payees_paid_cents, answer.payees_to_pay_cents, "")
    beyond = answer.beyond_payees_cents
    more = "more" if beyond > 0 else "less"
    note = (
        f"This draw is {dollars(abs(beyond))} {more} than these payees get: payable before, cut, or held back."
        if beyond and rows
        else ""
    )
    empty = "No application and no invoice names this draw."
    return Part("payees", "Payees", PAYEES, rows, foot if rows else (), note=note, empty=empty, wide=True, new_page=True)


def statement(answer: DrawRequest) -> Part:
    """The owner's sworn statement: every contract, paid and due."""
    rows = tuple(
        (s.contractor, s.contract, s.what, s.now_cents, s.earned_cents, s.held_cents, s.paid_cents, s.due_cents, s.to_come_cents)
        for s in answer.statement
    )
    t = answer.statement_total
    foot = ("Total", "", "", t.now_cents, t.earned_cents, t.held_cents, t.paid_cents, t.due_cents, t.to_come_cents)
    return Part(
        "statement",
        "Sworn statement of the owner",
        STATEMENT,
        rows,
        foot if rows else (),
        words=(SWORN,),
        note="Due now is negative where more was paid than is earned and released: a deposit, or paid ahead.",
        empty="No contract is signed.",
        wide=True,
        new_page=True,
    )


def bills(answer: DrawRequest) -> Part:
    """The rest of the statement: bills outside of the contracts; here it is signed."""
    rows = tuple(
        (b.contractor, b.number, b.date, b.kind, b.cost_line, b.amount_cents, b.paid_cents, b.due_cents) for b in answer.bills
    )
    foot = ("Total", "", None, "", "", answer.bills_total_cents, answer.bills_paid_cents, answer.bills_due_cents)
    return Part(
        "bills",
        "Bills outside of the contracts",
        BILLS,
        rows,
        foot if rows else (),
        words=("Part of the sworn statement: what was billed for the project by others than those under contract.",)
        if rows
        else (),
        empty="There is none.",
        note="Form of the statement and the oath follow state law: ask the title company or an attorney before signing.",
        sign=("Owner, sworn", "Sworn before me, where the state asks for it"),
        wide=True,
    )


def applications(answer: DrawRequest, rows: Rows, names: dict[str, str]) -> list[Part]:
    """The pay applications of the draw, each with its lines."""
    by = {(a.contract, a.number): a for a in rows.get("applications", ())}
    found: list[Part] = []
    for one in answer.applications:
        seen = by[one.contract, one.number]
        words = f"verified {day(seen.verified_on)}" if seen.verified_on else "not verified yet"
        found += application(one, names.get(one.contractor, one.contractor), words, place=1)
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
        (w.code, w.contract, w.application, w.from_party, w.kind, w.amount_cents, w.through, w.date) for w in answer.waivers
    )
    return Part("waivers", "Waivers", columns, rows, empty="No waiver is on record for this draw.", wide=True, new_page=True)


def missing(answer: DrawRequest) -> Part:
    """Waivers that are missing or that the owner set aside."""
    columns = (
        Column("application", "Application", CODE),
        Column("gate", "Waiver"),
        Column("state", "State", CODE),
        Column("reason", "Reason"),
    )
    rows = tuple((f"{m.contract}/{m.application}", m.gate, m.state, m.reason) for m in answer.missing_waivers)
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
    rows = tuple((c.number, c.contract, c.title, c.reason, c.approved, c.price_cents, c.days) for c in answer.changes)
    foot = ("Total", "", "", "", None, answer.changes_total_cents, None) if rows else ()
    title = "Changes approved in the period"
    return Part("changes", title, columns, rows, foot, empty="None was approved in the period.", wide=True)


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
    rows = tuple((i.code, i.name, i.permit, i.date, i.state, i.open_items) for i in answer.inspections)
    return Part("inspections", "Inspections of the period", columns, rows, empty="None took place in the period.", wide=True)
