"""Interest of a month becomes a bill on the reserve line, so that it can enter a draw and is paid
from there.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from tracker.actions.keeping import Sound, row_there, sound, step
from tracker.money.drawn import drawn_lines
from tracker.money.interest import next_month
from tracker.money.loan_interest import MonthOfInterest, posted
from tracker.money.records import Invoice, Source
from tracker.project_file.store import ProjectFile, Step
from tracker.tables.books import books_of
from tracker.values.money import dollars
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows, new


@dataclass(frozen=True, slots=True)
class InterestBill:
    """The bill of a month's interest. step: None where it was tried only. computed: what the loan's
    terms make it, cents.
    """

    step: Step | None
    bill: Invoice
    computed: int
    notes: tuple[str, ...]


def not_billed(rows: Rows, today: dt.date) -> tuple[MonthOfInterest, ...]:
    """Months of interest that have ended and that no bill of kind interest is dated in, oldest
    first. Months without interest are left out.
    """
    books = books_of(rows, today)
    lines = drawn_lines(books)
    found = []
    for source in rows.get("sources", ()):
        if source.rate and source.reserve_line:
            there = {
                (i.date.year, i.date.month)
                for i in rows.get("invoices", ())
                if i.kind == "interest"
                and i.cost_line == source.reserve_line
                and i.date is not None
            }
            months = posted(books, source, lines)
            found += [
                one
                for one in months
                if one.amount and (one.month.year, one.month.month) not in there
            ]
    return tuple(sorted(found, key=lambda one: one.month))


def lender_of(rows: Rows, source: Source) -> str:
    """Who sent the last bill of interest on the source's reserve line; blank where there
    was none.
    """
    bills = [
        i
        for i in rows.get("invoices", ())
        if i.kind == "interest" and i.cost_line == source.reserve_line
    ]
    return bills[-1].contractor if bills else ""


def enter_interest(
    project: ProjectFile,
    source: str,
    month: dt.date,
    amount: int,
    contractor: str,
    today: dt.date,
    only_try: bool = False,
) -> InterestBill:
    """Enter the interest of a month as a bill on the source's reserve line, dated on the month's
    last day.

    month: its first day. amount: cents, as the lender's statement has it. contractor: the lender.
    ProblemError where there is no such source, it has no reserve line, the month has not ended, or
    its interest is entered already. only_try: write nothing.
    """
    given = (source, month, amount, contractor, today)
    what = f"interest of {source} for {month:%Y-%m}"
    return step(project, what, lambda before: _entered(before, *given), only_try=only_try)


def _entered(
    before: Rows, source: str, month: dt.date, amount: int, contractor: str, today: dt.date
) -> tuple[Sound, InterestBill]:
    """The rows with the bill."""
    chosen = row_there(before, Source, "source", "choose one that is there", code=source)
    if not chosen.reserve_line:
        do = "name the cost line from which interest is paid"
        raise ProblemError(
            Problem("the source has no reserve line", do, "sources", source, "reserve_line")
        )
    known = next(
        (one for one in not_billed(before, today) if (one.source, one.month) == (source, month)),
        None,
    )
    if known is None:
        what = (
            f"the interest of {month:%Y-%m} is entered already, or the month has none or has not"
            " ended"
        )
        raise ProblemError(Problem(what, "look at the bills on the reserve line", "invoices"))
    last = next_month(month) - dt.timedelta(days=1)
    bill = new(
        Invoice,
        code=f"INT-{source}-{month:%Y-%m}"[:40],
        contractor=contractor,
        cost_line=chosen.reserve_line,
        number=f"INT-{month:%Y-%m}",
        date=last,
        amount=amount,
        kind="interest",
    )
    after = sound(before, {**before, "invoices": (*before.get("invoices", ()), bill)})
    off = amount - known.amount
    notes = []
    if off:
        way = "more" if off > 0 else "less"
        notes.append(
            f"{dollars(abs(off))} {way} than the loan's terms make it, {dollars(known.amount)}: ask"
            " the lender why"
        )
    notes.append("attach the lender's statement to the bill: a draw asks for it")
    return after, InterestBill(None, bill, known.amount, tuple(notes))
