"""The interest of a month is entered as a bill."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.actions.enter_interest import InterestBill, enter_interest, lender_of, not_billed
from tracker.actions.keeping import row_there
from tracker.money.loan_interest import MonthOfInterest
from tracker.money.records import Source
from tracker.screens.entry.declared import Entry, EntryField, Given, Opened
from tracker.screens.entry.money_words import amount
from tracker.screens.entry.preview_dialog import look_at
from tracker.screens.table.sections import Section
from tracker.values.kinds import Cents, Code
from tracker.values.problems import Problem, ProblemError


def interest_came() -> Entry[InterestBill]:
    """The oldest month whose interest is not entered yet."""
    return Entry(
        title="The interest of a month",
        help=(
            "Interest is posted at the end of each month, on the daily balance by the loan's day"
            " count. Entered as a bill on the reserve line it can enter the next draw. The amount"
            " is what the loan's terms make it; change it to what the lender's statement says, and"
            " ask where they differ."
        ),
        fields=_fields,
        act=_enter,
        preview=interest_sections,
        keep="enter it",
        kept=lambda done: (
            f"{done.bill.code}: {amount(done.bill.amount)}. u takes it back.",
            done.notes[:1],
        ),
    )


def _due(opened: Opened) -> MonthOfInterest:
    """The oldest month. ProblemError where none is left."""
    for one in not_billed(opened.rows, opened.today):
        return one
    do = "the month under way is posted when it ends"
    raise ProblemError(Problem("no month's interest is left to enter", do, "invoices"))


def _fields(opened: Opened) -> Sequence[EntryField]:
    """Amount and lender."""
    due = _due(opened)
    source = row_there(opened.rows, Source, "source", "enter it first", code=due.source)
    words = f"of {source.name or source.code} for {due.month:%B %Y}"
    lender = lender_of(opened.rows, source)
    return (
        EntryField("amount", Cents(), words, due.amount, True),
        EntryField(
            "lender", Code(), "who sends the statement", lender, False, "contractors", "contractor"
        ),
    )


def _enter(given: Given) -> InterestBill:
    """The bill."""
    due = _due(given)
    return enter_interest(
        given.project,
        due.source,
        due.month,
        given["amount"],
        given["lender"],
        given.today,
        given.only_try,
    )


def interest_sections(found: InterestBill) -> list[Section]:
    """The bill, and what to look at."""
    bill = found.bill
    line = f"{amount(bill.amount)} on {bill.cost_line}, bill {bill.code} of {bill.date}"
    return [
        Section(
            f"Interest for {bill.date:%B %Y}",
            [line, f"the loan's terms make it {amount(found.computed)}"],
        ),
        look_at(found.notes),
    ]
