"""The words and rows of Draws on what is asked of the lender: draws, the next one, the balance."""

from __future__ import annotations

from typing import Any

from tracker.pages.cells import day
from tracker.screens.entry.money_words import amount
from tracker.screens.entry.typed_text import percent
from tracker.screens.table.marks import ASKS, BLOCKS, FINE, tone_of
from tracker.screens.table.parts_view import Part, PartRow
from tracker.screens.table.rows_table import Cell, Col, Piece
from tracker.screens.table.sections import Line, Section

NEXT = {
    "draft": "P prints it, m marks a paper of its package, s sends it, n prepares it anew.",
    "sent": "f enters the money that came, r that it came back; m marks a paper, P prints it.",
    "funded": "P prints it as it went out.",
    "returned": "n prepares the next draw: what this one asked is claimable again.",
}
"""What can be done next with a draw."""
PREPARE = "n prepares the next draw from this."
PAPER_MARKS = {"present": FINE, "missing": BLOCKS, "waived": FINE}


def draw_parts(answer: Any) -> list[Part]:
    """Each draw, the latest first; behind one that is not over, its package paper by paper."""
    found = []
    for one in sorted(answer.draws, key=lambda d: -d.number):
        found.append(draw_part(one))
        if one.state in ("draft", "sent"):
            found.append(package_part(one))
    return found


def package_part(draw: Any) -> Part:
    """The papers of a draw, one a row."""
    columns = [
        Col("", width=1),
        Col("paper", most=26),
        Col("state", most=8),
        Col("what there is, or is missing", most=90),
    ]
    rows = []
    for paper in draw.package:
        mark = PAPER_MARKS.get(paper.state, ASKS)
        cells: list[Cell] = [Piece(mark, tone_of(mark)), paper.what, paper.state, paper.reason]
        about = [
            Section(paper.what, [f"{paper.state}{': ' if paper.reason else ''}{paper.reason}"])
        ]
        rows.append(PartRow("", f"{draw.number}/{paper.what}", cells, lambda about=about: about))  # type: ignore[misc]
    missing = sum(paper.state == "missing" for paper in draw.package)
    about = [
        Section(
            "", [Line("m marks a paper as present, missing or waived, with its file.", "muted")]
        )
    ]
    count = f"{missing} lack" if missing else "whole"
    return Part(
        f"package:{draw.number}",
        f"  its package ({draw.number})",
        "",
        columns,
        rows,
        count,
        about=about,
        offers=(),
    )


def draw_part(draw: Any) -> Part:
    """One draw: its sheet of cost lines, then its package."""
    columns = [
        Col("cost line", most=24),
        Col("this draw", right=True),
        Col("budget now", right=True),
    ]
    columns += [
        Col(name, right=True)
        for name in ("drawn before", "drawn to date", "left to draw", "done", "held back")
    ]
    rows = [
        PartRow(
            "draws",
            str(draw.number),
            draw_cells(line.name or line.cost_line, line),
            at=line.cost_line,
        )
        for line in draw.lines
    ]
    count = draw.state
    days = [
        f"{name} {day(at)}"
        for name, at in (
            ("through", draw.period_to),
            ("sent", draw.sent),
            ("funded", draw.funded_on),
        )
        if at
    ]
    remarks = [Line(f"! {words}", "warn") for words in draw.remarks]
    head = Section(
        f"Draw {draw.number}: {draw.state}", [" · ".join(days) or "no day entered", *remarks]
    )
    about = [head, package_section(draw), Section("", [Line(NEXT[draw.state], "muted")])]
    foot = [draw_cells("total", draw.total)]
    return Part(
        f"draw:{draw.number}",
        f"draw {draw.number}",
        "draws",
        columns,
        rows,
        count,
        foot,
        frozen=1,
        about=about,
    )


def draw_cells(name: str, line: Any) -> list[Cell]:
    """The columns of a line of a draw, or of its total."""
    return [
        name,
        amount(line.this_draw_cents),
        amount(line.budget_now_cents),
        amount(line.drawn_before_cents),
        amount(line.drawn_to_date_cents),
        amount(line.left_cents),
        percent(line.share_bp),
        amount(line.retainage_cents),
    ]


def package_section(draw: Any) -> Section:
    """What is in the package, and what is missing."""
    lines = []
    for paper in draw.package:
        mark = PAPER_MARKS.get(paper.state, ASKS)
        reason = f": {paper.reason}" if paper.reason else ""
        lines.append(
            Line(f"{mark} {paper.state:<8} {paper.what}{reason}", "warn" if mark == BLOCKS else "")
        )
    return Section("Its package", lines)


def next_part(answer: Any) -> Part:
    """What the next draw would ask for, and what would stay out."""
    columns = [
        Col("", width=1),
        Col("cost line", most=12),
        Col("of", most=16),
        Col("sum", right=True),
        Col("why not", most=60),
    ]
    ask = Piece(FINE, "")
    rows = [
        PartRow(
            "cost_lines",
            one.cost_line,
            [ask, one.cost_line, one.source, amount(one.cents), ""],
            at=one.source,
        )
        for one in answer.next_draw
    ]
    out = Piece(ASKS, tone_of(ASKS))
    rows += [
        PartRow(
            "cost_lines",
            one.cost_line,
            [out, one.cost_line, "stays out", amount(one.cents), one.reason],
            at="out",
        )
        for one in answer.kept_out
    ]
    claimable = [
        f"{amount(one.claimable_cents):>14}  {one.cost_line}: became payable"
        f" {amount(one.became_payable_cents)}, drawn {amount(one.drawn_cents)}, lender's retainage"
        f" {amount(one.lenders_retainage_cents)}"
        for one in answer.claimable
        if one.claimable_cents
    ]
    none = (
        ["Nothing is left to ask for beyond the draws that are there."]
        if not answer.next_draw
        else []
    )
    about = [
        Section("", none),
        Section("Claimable", claimable),
        Section("", [Line(PREPARE, "muted")]),
    ]
    return Part(
        "next",
        "next draw",
        "draws",
        columns,
        rows,
        str(len(answer.next_draw)),
        about=about,
        offers=("open",),
    )


def balance_part(answer: Any) -> Part:
    """Sources in order of use; the test of balance; interest and reserve."""
    columns = [Col("source", most=24, grow=True), Col("sum", right=True), Col("drawn", right=True)]
    columns += [Col("used", right=True), Col("left", right=True)]
    rows = [
        PartRow(
            "sources",
            one.code,
            [
                one.name or one.code,
                *(
                    amount(c)
                    for c in (one.amount_cents, one.drawn_cents, one.used_cents, one.left_cents)
                ),
            ],
        )
        for one in answer.sources
    ]
    parts = answer.balance
    unknown = answer.balance_not_known
    said = "in balance" if answer.in_balance else f"short by {amount(answer.short_cents)}"
    said = f"not known: {unknown}" if unknown else said
    test: list[Line | str] = [
        f"{amount(parts.not_yet_drawn_cents):>16}  not yet drawn from sources",
        f"{amount(parts.not_yet_paid_out_cents):>16}  drawn and not yet paid out",
        f"{amount(parts.still_to_pay_cents):>16}  still to pay",
        f"{amount(parts.interest_beyond_cents):>16}  interest beyond what the financing lines hold",
        Line(f"{said:>16}", "strong" if answer.in_balance and not unknown else "warn"),
    ]
    about = [
        Section("The test of balance", test if answer.sources else []),
        Section("Interest and its reserve", reserve_lines(answer)),
        Section(
            "Paid by the owner beyond the equity",
            [amount(answer.floated_cents)] if answer.floated_cents else [],
        ),
    ]
    count = "not known" if unknown else "in balance" if answer.in_balance else "short"
    return Part(
        "balance", "loan and balance", "sources", columns, rows, count, frozen=1, about=about
    )


def reserve_lines(answer: Any) -> list[Line | str]:
    """Interest expected and posted; months that the reserve lasts."""
    lines: list[Line | str] = []
    if answer.reserve_left_cents is not None:
        lasts = (
            f", {answer.reserve_months} months at today's balance"
            if answer.reserve_months is not None
            else ""
        )
        lines.append(f"reserve left {amount(answer.reserve_left_cents)}{lasts}")
    if answer.reserve_runs_out is not None:
        early = (
            answer.forecast_opening is not None
            and answer.reserve_runs_out < answer.forecast_opening
        )
        opening = (
            f"; forecast opening {day(answer.forecast_opening)}" if answer.forecast_opening else ""
        )
        lines.append(
            Line(
                f"{'! ' if early else ''}it runs out on {day(answer.reserve_runs_out)}{opening}",
                "warn" if early else "",
            )
        )
    if answer.sources:
        lines.append(f"interest expected to the opening {amount(answer.expected_interest_cents)}")
    lines.extend(f"{amount(one.cents):>14}  {one.month} {one.source}" for one in answer.interest)
    lines.extend(
        f"{amount(one.cents):>14}  {one.month} {one.source}, running"
        for one in answer.interest_running
    )
    return lines
