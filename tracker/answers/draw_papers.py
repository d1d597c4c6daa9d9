"""What a draw request lists of its papers: bills, stored goods, licenses and insurance.

Amounts in cents.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from tracker.answers.draw_payees import names, paid_by_invoice
from tracker.answers.draw_request_rows import BillRow, PaperOnFile, StoredRow
from tracker.answers.draw_rows import PayApplication
from tracker.money.books import Books
from tracker.money.paid import Paid

OWNERS = "builders risk"
"""The insurance that the owner holds."""


def bills_outside(books: Books, payments: Paid) -> tuple[BillRow, ...]:
    """Every bill by today that lies outside of the contracts, the owner's own labor apart."""
    people, done = names(books.table("contractors")), paid_by_invoice(payments)
    return tuple(
        BillRow(
            people.get(one.contractor, one.contractor),
            one.number or one.code,
            one.date,
            one.kind,
            one.cost_line,
            one.amount,
            done.get(one.code, 0),
            one.amount - done.get(one.code, 0),
            one.draw,
            one.evidence,
        )
        for one in books.invoices.values()
        if one.kind != "own labor" and (one.date is None or one.date <= books.today)
    )


def stored_goods(applications: Sequence[PayApplication]) -> tuple[StoredRow, ...]:
    """What lies stored, application by application."""
    return tuple(
        StoredRow(f"{one.contract}/{one.number}", line.line, line.name, line.stored_cents)
        for one in applications
        for line in one.lines
        if line.stored_cents
    )


def papers_on_file(books: Books, applications: Sequence[PayApplication]) -> tuple[PaperOnFile, ...]:
    """The owner's own papers, then those of each contractor in the draw; of a kind the one that
    holds, else that ends last.
    """
    people = names(books.table("contractors"))
    inside = dict.fromkeys(one.contractor for one in applications)
    found: dict[tuple[str, str], PaperOnFile] = {}
    for paper in books.table("papers"):
        owners = paper.kind == OWNERS or not paper.contractor
        if not owners and paper.contractor not in inside:
            continue
        holder = "" if owners else paper.contractor
        begun = paper.from_ is None or paper.from_ <= books.today
        valid = begun and (paper.to is None or paper.to >= books.today)
        name = people.get(holder, holder) or "Owner"
        one = PaperOnFile(name, paper.kind, paper.number, paper.from_, paper.to, valid)
        known = found.get((holder, paper.kind))
        if known is None or (valid, paper.to or dt.date.max) > (
            known.valid,
            known.to or dt.date.max,
        ):
            found[holder, paper.kind] = one
    return tuple(
        one for who in ("", *inside) for (holder, _), one in found.items() if holder == who
    )
