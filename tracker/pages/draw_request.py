"""A draw request for the lender, in the usual order of its package, with a contents page."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping

from tracker.answers.draw_request import DrawRequest, asks_in_words, from_rows
from tracker.approvals.cautions import for_view
from tracker.money.overpaid import PAYABLE
from tracker.pages.applications import all_on_paper, named
from tracker.pages.cells import day
from tracker.pages.draw_papers import beside, checks, invoices, of_period, stored
from tracker.pages.loan import FIGURES, figures
from tracker.pages.page import CODE, MONEY, Column, Paper, Part, Row, cells_of, plain_rows
from tracker.pages.sworn_statement import people
from tracker.values.money import dollars
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows

CONTENTS = (
    Column("what", "paper"),
    Column("state", "state", CODE),
    Column("reason", "remark"),
    Column("page", "page", CODE),
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


def chosen(rows: Rows, today: dt.date, number: str | None) -> DrawRequest:
    """One draw, the last without a number. ProblemError where there is no such draw, or it may not
    be asked for as it stands.
    """
    answer = from_rows(rows, today, wanted(number))
    if answer is None:
        known = [str(draw.number) for draw in rows.get("draws", ())]
        there = "enter one, or import draws.csv and draw_lines.csv"
        if known:
            there = f"there are {', '.join(known[-12:])}"
        raise ProblemError(Problem(what="there is no such draw", value=number or "", do=there))
    refuse_above_budget(answer)
    return answer


def wanted(number: str | None) -> int | None:
    """The draw's number as typed."""
    if number is None:
        return None
    if not (number.isascii() and number.isdigit() and len(number) <= 4):
        do = "give --number N"
        raise ProblemError(Problem(what="a draw has a whole number", value=number, do=do))
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
        do = "move budget first, with its reason, or take the line out of the draw"
        raise ProblemError(Problem(what=what, do=do))


def document(answer: DrawRequest, rows: Rows, behind: Mapping[str, str]) -> Paper:
    """The package of a draw. behind: by paper of the package, the name of its first attached page,
    where one is attached.
    """
    aside = {one.key: one.reason for one in answer.set_aside if one.what == PAYABLE}
    parts = (
        contents(answer, behind),
        request(answer),
        checks(answer),
        *beside(answer),
        lines(answer),
        *people(answer),
        *all_on_paper(answer.applications, rows, aside),
        invoices(answer),
        stored(answer),
        *of_period(answer),
    )
    cautions = (*answer.cautions, *(caution.text for caution in for_view("draws")))
    return Paper(f"Draw request {answer.draw.number}", parts, cautions, main="lines")


def contents(answer: DrawRequest, behind: Mapping[str, str]) -> Part:
    """The papers of the package in their order, each present, missing or waived, and where it
    stands.
    """
    first = f"sums-{named(answer.applications[0])}" if answer.applications else ""
    printed = {**PRINTED, "applications": first}
    papers = answer.draw.package
    lacking = [paper.what for paper in papers if paper.state == "missing"]
    note = "Every paper is present or waived."
    if lacking:
        note = f"Missing still: {', '.join(lacking)}."
    rows = []
    for one in papers:
        state = one.state.upper() if one.state == "missing" else one.state
        page = "" if one.what in PRINTED or one.state == "waived" else "attach"
        begins = printed.get(one.what, "") or behind.get(one.what, "")
        rows.append(Row(cells_of(one, CONTENTS, state=state, page=page), begins=begins))
    return Part("contents", "contents of the package", CONTENTS, tuple(rows), note=note)


def request(answer: DrawRequest) -> Part:
    """The letter to the lender, with what each source shall bring."""
    draw = answer.draw
    asks = "asked for" if draw.state in ("draft", "sent") else draw.state
    columns = (
        Column("name", "source"),
        Column("committed", "committed", MONEY, sums=True),
        Column("before", "used before", MONEY, sums=True),
        Column("this_draw", f"this draw ({asks})", MONEY, sums=True),
        Column("left", "left then", MONEY, "", "{committed}-{before}-{this_draw}", sums=True),
        Column("retainage", "held back by the lender", MONEY, sums=True),
    )
    rows = plain_rows(cells_of(one, columns) for one in answer.sources)
    return Part(
        "request",
        "request",
        columns,
        rows,
        (cells_of(answer.sources_total, columns),) if rows else (),
        words=letter(answer),
        empty="No source of money is entered yet.",
        sign=("Owner and borrower",),
        new_page=True,
    )


def letter(answer: DrawRequest) -> tuple[str, ...]:
    """What is asked of whom, and how the money stands."""
    draw = answer.draw
    state = f"Draw {draw.number}, work through {day(answer.until)}. State: {draw.state}"
    state += f", sent {day(draw.sent)}" if draw.sent else ""
    state += f", funded {day(draw.funded_on)}" if draw.funded_on else ""
    return (
        f"{state}.",
        " ".join(asks_in_words(answer.sources, draw.state)),
        f"All sources together: {dollars(draw.total.this_draw_cents)} for the cost lines and the"
        " payees on the next pages. It became payable in the period; the owner's own labor is not"
        " in it.",
        balance_words(answer),
        *(f"Against it stands: {remark}." for remark in draw.remarks),
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
    short = dollars(answer.short_cents)
    return f"Out of balance, short by {short}: lenders usually ask for that sum before they fund."


def lines(answer: DrawRequest) -> Part:
    """The draw by cost line, footing to its total."""
    draw, owner = answer.draw, answer.owner_paid
    rows = plain_rows(
        figures(line, line.cost_line, line.name, owner.get(line.cost_line, 0))
        for line in draw.lines
    )
    foot = figures(draw.total, "total", "", answer.owner_paid_cents)
    note = (
        "Paid by the owner: paid as of today and covered by no draw; it is not asked for again."
        " Left to draw is budget now less drawn to date."
    )
    return Part(
        "lines",
        "cost lines",
        FIGURES,
        rows,
        (foot,) if rows else (),
        note=note if rows else "",
        empty="There is no cost line yet.",
        wide=True,
        new_page=True,
    )
