"""What is asked of the lender, on the page of Draws: draws with their package, the next one, the
sources of money and the balance.
"""

from __future__ import annotations

from dataclasses import replace

from tracker.answers.draw_rows import DrawColumns, DrawRow, DrawState
from tracker.answers.draws import DrawsAnswer
from tracker.pages.cells import amount, day
from tracker.pages.marks import ASKS, BLOCKS, FINE
from tracker.pages.page import (
    CODE,
    MONEY,
    NOT_ON_PAPER,
    ON_PAPER,
    ON_SCREEN,
    PAPER,
    SCREEN,
    SHARE,
    Cell,
    Column,
    Line,
    Part,
    Piece,
    Row,
    Section,
    cells_of,
    hint,
    plain_rows,
)

FIGURES = (
    Column("code", "line", CODE, on=ON_PAPER),
    Column("name", "cost line", most=24),
    Column("budget_now", "budget now", MONEY, sums=True, late=True),
    Column("drawn_before", "drawn before", MONEY, sums=True, late=True),
    Column("this_draw", "this draw", MONEY, sums=True),
    Column("drawn_to_date", "drawn to date", MONEY, "", "{drawn_before}+{this_draw}", sums=True),
    Column("left", "left to draw", MONEY, "", "{budget_now}-{drawn_to_date}", sums=True),
    Column(
        "share",
        "share done",
        SHARE,
        "",
        "IF({budget_now}=0,0,ROUND({drawn_to_date}/{budget_now},4))",
        on=(SCREEN, PAPER),
    ),
    Column("retainage", "held back by the lender", MONEY, sums=True, on=(SCREEN, PAPER)),
    Column("owner", "paid by the owner", MONEY, sums=True, on=ON_PAPER),
)
"""The columns of a draw. In a narrow pane what was before stands at the end."""

PACKAGE = (
    Column("what", "paper", CODE, most=26),
    Column("state", "state", CODE, most=8),
    Column("reason", "what there is, or is missing", most=90),
)
SOURCES = (
    Column("name", "source", most=24, grow=True),
    Column("amount", "amount", MONEY),
    Column("drawn", "drawn", MONEY),
    Column("used", "used", MONEY),
    Column("left", "left", MONEY),
)
ASKS_OF = (
    Column("cost_line", "cost line", CODE, most=12),
    Column("source", "of", most=16),
    Column("cents", "amount", MONEY),
    Column("reason", "why not", most=60),
)
CLAIMABLE = (
    Column("cost_line", "cost line", CODE),
    Column("claimable", "claimable", MONEY),
    Column("became_payable", "became payable", MONEY),
    Column("drawn", "drawn", MONEY),
    Column("lenders_retainage", "lender's retainage", MONEY),
)

NEXT = {
    "draft": "P prints it, m marks a paper of its package, s sends it, n prepares it anew.",
    "sent": "f enters the money that came, r that it came back; m marks a paper, P prints it.",
    "funded": "P prints it as it went out.",
    "returned": "n prepares the next draw: what this one asked is claimable again.",
}
"""What can be done next with a draw."""
PAPER_MARKS = {"present": FINE, "missing": BLOCKS, "waived": FINE}


def draws(answer: DrawsAnswer) -> list[Part]:
    """Each draw, the latest first; behind one that is not over, its package paper by paper. As
    text the last one alone.
    """
    found = []
    for one in sorted(answer.draws, key=lambda draw: -draw.number):
        last = one is answer.draws[-1]
        found.append(replace(draw(one), on=NOT_ON_PAPER if last else ON_SCREEN))
        if one.state in ("draft", "sent"):
            marked = hint("m marks a paper as present, missing or waived, with its file.")
            found.append(replace(package(one), on=ON_SCREEN, about=(marked,)))
    return found


def draw(one: DrawState) -> Part:
    """One draw: its sheet of cost lines, then its package."""
    days = (("through", one.period_to), ("sent", one.sent), ("funded", one.funded_on))
    said = " · ".join(f"{name} {day(at)}" for name, at in days if at)
    remarks = [Line(f"{BLOCKS} {words}", "warn") for words in one.remarks]
    return Part(
        f"draw:{one.number}",
        f"draw {one.number}, {one.state}",
        FIGURES,
        tuple(
            Row(
                figures(line, line.cost_line, line.name or line.cost_line),
                "draws",
                str(one.number),
                line.cost_line,
            )
            for line in one.lines
        ),
        (figures(one.total, "total"),),
        name=f"draw {one.number}",
        count=one.state,
        table="draws",
        frozen=1,
        about=(
            Section(f"Draw {one.number}: {one.state}", [said or "no day entered", *remarks]),
            package(one),
            hint(NEXT[one.state]),
        ),
    )


def figures(
    one: DrawRow | DrawColumns, code: str, name: str = "", owner: int | None = None
) -> tuple[Cell, ...]:
    """The columns of a line of a draw, or of its total. owner: paid by the owner, in cents."""
    return cells_of(one, FIGURES, code=code, name=name, owner=owner)


def package(one: DrawState) -> Part:
    """The papers of a draw, one a row."""
    rows = []
    for paper in one.package:
        mark = PAPER_MARKS.get(paper.state, ASKS)
        state = Piece(paper.state, "warn" if mark == BLOCKS else "")
        said = f"{paper.state}{': ' if paper.reason else ''}{paper.reason}"
        about = Section(paper.what, [said])
        cells = cells_of(paper, PACKAGE, state=state)
        key = f"{one.number}/{paper.what}"
        rows.append(Row(cells, "", key, mark=mark, about=lambda about=about: (about,)))  # type: ignore[misc]
    missing = sum(paper.state == "missing" for paper in one.package)
    return Part(
        f"package:{one.number}",
        f"package of draw {one.number}",
        PACKAGE,
        tuple(rows),
        name=f"  its package ({one.number})",
        count=f"{missing} lack" if missing else "whole",
        marked=True,
        offers=(),
    )


def next_draw(answer: DrawsAnswer) -> Part:
    """What the next draw would ask for, and what would stay out."""
    rows = [
        Row(cells_of(one, ASKS_OF, reason=""), "cost_lines", one.cost_line, one.source, FINE)
        for one in answer.next_draw
    ]
    rows += [
        Row(cells_of(one, ASKS_OF, source="stays out"), "cost_lines", one.cost_line, "out", ASKS)
        for one in answer.kept_out
    ]
    claims = plain_rows(cells_of(c, CLAIMABLE) for c in answer.claimable if c.claimable_cents)
    return Part(
        "next",
        "next draw",
        ASKS_OF,
        tuple(rows),
        note=(
            ""
            if answer.next_draw
            else "Nothing is left to ask for beyond the draws that are there."
        ),
        count=str(len(answer.next_draw)),
        marked=True,
        table="draws",
        offers=("open",),
        about=(
            Part("claimable", "claimable", CLAIMABLE, claims),
            hint("n prepares the next draw from this."),
        ),
        on=NOT_ON_PAPER,
    )


def balance(answer: DrawsAnswer) -> Part:
    """Sources in order of use; the test of balance; interest and reserve."""
    floated = answer.floated_cents
    count = "in balance" if answer.in_balance else "short"
    return Part(
        "balance",
        "loan and balance",
        SOURCES,
        tuple(
            Row(cells_of(one, SOURCES, name=one.name or one.code), "sources", one.code)
            for one in answer.sources
        ),
        empty="No source of money yet: `tracker add FILE sources CODE kind=loan amount=DOLLARS`.",
        count="not known" if answer.balance_not_known else count,
        table="sources",
        frozen=1,
        about=(
            test_of_balance(answer),
            reserve(answer),
            interest(answer),
            Section(
                "Paid by the owner beyond the equity, to be drawn",
                [amount(floated)] if floated else [],
            ),
        ),
        on=NOT_ON_PAPER,
    )


def test_of_balance(answer: DrawsAnswer) -> Part:
    """What the test of balance adds up, and how it comes out."""
    parts, known = answer.balance, not answer.balance_not_known
    said = "in balance" if answer.in_balance else f"short by {amount(answer.short_cents)}"
    if not known:
        said = f"not known: {answer.balance_not_known}"
    verdict = Piece(said, "strong" if answer.in_balance and known else "warn")
    columns = (Column("amount", "", MONEY), Column("what", "", CODE))
    rows: tuple[tuple[Cell, ...], ...] = (
        (parts.not_yet_drawn_cents, "not yet drawn from sources"),
        (parts.not_yet_paid_out_cents, "drawn and not yet paid out"),
        (parts.still_to_pay_cents, "still to pay"),
        (parts.interest_beyond_cents, "interest beyond what the financing lines hold"),
        ("", verdict),
    )
    shown = plain_rows(rows) if answer.sources else ()
    return Part("test_of_balance", "the test of balance", columns, shown)


def reserve(answer: DrawsAnswer) -> Section:
    """Interest expected; months that the reserve lasts."""
    lines: list[Line | str] = []
    opening = answer.forecast_opening
    if answer.reserve_left_cents is not None:
        months = answer.reserve_months
        lasts = f", {months} months at today's balance" if months is not None else ""
        lines.append(f"reserve left {amount(answer.reserve_left_cents)}{lasts}")
    if answer.reserve_runs_out is not None:
        early = opening is not None and answer.reserve_runs_out < opening
        said = f"it runs out on {day(answer.reserve_runs_out)}"
        said += f"; forecast opening {day(opening)}" if opening else ""
        lines.append(Line(f"{BLOCKS} {said}", "warn") if early else said)
    if answer.sources:
        lines.append(f"interest expected to the opening {amount(answer.expected_interest_cents)}")
    return Section("Interest and its reserve", lines)


def interest(answer: DrawsAnswer) -> Part:
    """The interest of each month, posted and running."""
    columns = (Column("month", "month", CODE), Column("source", "source", CODE))
    rows = [
        *((one, "") for one in answer.interest),
        *((one, "running") for one in answer.interest_running),
    ]
    return Part(
        "interest",
        "interest by month",
        (*columns, Column("cents", "interest", MONEY), Column("state", "", CODE)),
        plain_rows((one.month, one.source, one.cents, state) for one, state in rows),
    )
