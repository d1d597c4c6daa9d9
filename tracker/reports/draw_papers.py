"""The papers that a draw request lists: bills, stored goods, licenses and insurance of those who
are paid.
"""

from __future__ import annotations

from tracker.answers.draw_request import DrawRequest
from tracker.reports.document import CODE, DAY, MONEY, Column, Part


def invoices(answer: DrawRequest) -> Part:
    """The bills of this draw, each with its paper."""
    columns = (
        Column("who", "From"),
        Column("number", "Number", CODE),
        Column("date", "Date", DAY),
        Column("kind", "Kind", CODE),
        Column("code", "Line", CODE),
        Column("amount", "Amount", MONEY, sums=True),
        Column("evidence", "Paper"),
    )
    rows = tuple(
        (
            b.contractor,
            b.number,
            b.date,
            b.kind,
            b.cost_line,
            b.amount_cents,
            b.evidence or "none on record",
        )
        for b in answer.invoices
    )
    foot = ("Total", "", None, "", "", answer.invoices_cents, "") if rows else ()
    empty = "No bill names this draw."
    return Part(
        "invoices",
        "Invoices of this draw",
        columns,
        rows,
        foot,
        empty=empty,
        wide=True,
        new_page=True,
    )


def stored(answer: DrawRequest) -> Part:
    """Goods that are paid for and not built in yet."""
    columns = (
        Column("application", "Application", CODE),
        Column("line", "Line", CODE),
        Column("name", "What"),
        Column("amount", "Stored", MONEY, sums=True),
    )
    rows = tuple((s.application, s.line, s.name, s.stored_cents) for s in answer.stored)
    foot = ("Total", "", "", answer.stored_cents) if rows else ()
    note = (
        "Each needs a bill of sale, the place where it lies, its insurance and a photograph."
        if rows
        else ""
    )
    return Part(
        "stored",
        "Stored materials",
        columns,
        rows,
        foot,
        note=note,
        empty="Nothing is stored.",
        wide=True,
    )


def on_file(answer: DrawRequest) -> Part:
    """Licenses, insurance and tax forms of those who are paid, and the owner's own insurance."""
    columns = (
        Column("holder", "Of"),
        Column("kind", "Paper", CODE),
        Column("number", "Number", CODE),
        Column("begins", "From", DAY),
        Column("ends", "To", DAY),
        Column("state", "State", CODE),
    )
    rows = tuple(
        (p.holder, p.kind, p.number, p.from_, p.to, "valid" if p.valid else "NOT VALID")
        for p in answer.papers
    )
    return Part(
        "on_file",
        "Insurance, licenses, tax forms",
        columns,
        rows,
        empty="None is on record.",
        wide=True,
    )
