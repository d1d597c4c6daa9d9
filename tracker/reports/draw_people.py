"""The people of a draw request: who gets which check, and the owner's sworn statement of every
contract and bill.
"""

from __future__ import annotations

from tracker.answers.draw_request import DrawRequest
from tracker.reports.document import CODE, DAY, MONEY, Column, Part
from tracker.values.money import dollars

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
CHECKS = (
    Column("payee", "Exact name on the check"),
    Column("jointly", "Also on the check"),
    Column("to_pay", "To pay", MONEY, sums=True),
    Column("what", "For"),
)

SWORN = (
    "The undersigned, owner of the building named above and acting without a general contractor,"
    " being sworn, says: below stands every contract for labor and material on this project that is"
    " on the owner's record, with what was earned, held back, paid and is due; the lists that"
    " follow belong to this statement: notices to owner received, what is asked for or billed and"
    " not agreed, and the bills. They hold what the owner has on record; what nobody entered is not"
    " in them."
)
BEFORE_SIGNING = (
    "Before you sign: look through the mail and your agreements for contracts, notices and claims"
    " that were not entered, and add them."
)
NOTICES = (
    Column("who", "From"),
    Column("through", "Through whom"),
    Column("contract", "Contract", CODE),
    Column("received", "Received", DAY),
    Column("waiver", "Last waiver"),
    Column("open", "Still open", CODE),
)
NOT_AGREED = (
    Column("what", "What"),
    Column("who", "From"),
    Column("contract", "Contract", CODE),
    Column("amount", "Amount", MONEY),
    Column("state", "State"),
)


def payees(answer: DrawRequest) -> Part:
    """Who gets a check, under which exact name, from which line."""
    rows = tuple(
        (
            p.payee,
            p.what,
            p.cost_line,
            p.amount_cents,
            p.paid_cents,
            p.to_pay_cents,
            ", ".join(p.jointly),
        )
        for p in answer.payees
    )
    foot = (
        "Total",
        "",
        "",
        answer.payees_total_cents,
        answer.payees_paid_cents,
        answer.payees_to_pay_cents,
        "",
    )
    beyond = answer.beyond_payees_cents
    more = "more" if beyond > 0 else "less"
    note = (
        f"This draw is {dollars(abs(beyond))} {more} than these payees get: payable before, cut, or"
        " held back."
        if beyond and rows
        else ""
    )
    empty = "No application and no invoice names this draw."
    return Part(
        "payees",
        "Payees",
        PAYEES,
        rows,
        foot if rows else (),
        note=note,
        empty=empty,
        wide=True,
        new_page=True,
    )


def statement(answer: DrawRequest) -> Part:
    """The owner's sworn statement: every contract, paid and due."""
    rows = tuple(
        (
            s.contractor,
            s.contract,
            s.what,
            s.now_cents,
            s.earned_cents,
            s.held_cents,
            s.paid_cents,
            s.due_cents,
            s.to_come_cents,
        )
        for s in answer.statement
    )
    t = answer.statement_total
    foot = (
        "Total",
        "",
        "",
        t.now_cents,
        t.earned_cents,
        t.held_cents,
        t.paid_cents,
        t.due_cents,
        t.to_come_cents,
    )
    return Part(
        "statement",
        "Sworn statement of the owner",
        STATEMENT,
        rows,
        foot if rows else (),
        words=(SWORN, BEFORE_SIGNING),
        note=(
            "Due now is negative where more was paid than is earned and released: a deposit, or"
            " paid ahead."
        ),
        empty="No contract is on record here.",
        wide=True,
        new_page=True,
    )


def notices(answer: DrawRequest) -> Part:
    """Part of the statement: who sent a notice to owner, and the last waiver of each."""
    rows = tuple(
        (
            n.from_party,
            n.through,
            n.contract,
            n.received,
            n.last_waiver,
            "open" if n.open else "ended",
        )
        for n in answer.notices
    )
    return Part(
        "notices",
        "Notices to owner received",
        NOTICES,
        rows,
        words=(
            (
                "Part of the sworn statement: suppliers and lower trades who told the owner that"
                " they work or deliver here."
            ),
        ),
        note="Open until an unconditional final waiver is on record." if rows else "",
        empty=(
            "None is on record here. One may have come that was not entered: look through the mail"
            " before signing."
        ),
        wide=True,
    )


def not_agreed(answer: DrawRequest) -> Part:
    """Part of the statement: changes asked for, and applications billed and not verified."""
    rows = tuple((n.what, n.who, n.contract, n.amount_cents, n.state) for n in answer.not_agreed)
    return Part(
        "not_agreed",
        "Asked for or billed, and not agreed",
        NOT_AGREED,
        rows,
        words=(
            (
                "Part of the sworn statement: the owner knows of it and has not agreed to it; an"
                " amount is what is asked."
            ),
        ),
        empty="Nothing is on record here that is asked for and not agreed.",
        wide=True,
    )


def bills(answer: DrawRequest) -> Part:
    """The rest of the statement: bills outside of the contracts; here it is signed."""
    rows = tuple(
        (
            b.contractor,
            b.number,
            b.date,
            b.kind,
            b.cost_line,
            b.amount_cents,
            b.paid_cents,
            b.due_cents,
        )
        for b in answer.bills
    )
    foot = (
        "Total",
        "",
        None,
        "",
        "",
        answer.bills_total_cents,
        answer.bills_paid_cents,
        answer.bills_due_cents,
    )
    return Part(
        "bills",
        "Bills outside of the contracts",
        BILLS,
        rows,
        foot if rows else (),
        words=(
            (
                (
                    "Part of the sworn statement: what was billed for the project by others than"
                    " those under contract."
                ),
            )
            if rows
            else ()
        ),
        empty="None is on record here.",
        note=(
            "Form of the statement and the oath follow state law: ask the title company or an"
            " attorney before signing."
        ),
        sign=("Owner, sworn", "Sworn before me, where the state asks for it"),
        wide=True,
    )


def checks_to_write(answer: DrawRequest) -> Part:
    """One check for each payee, with what it is for."""
    rows = tuple(
        (c.payee, ", ".join(c.jointly), c.to_pay_cents, ", ".join(c.what))
        for c in answer.checks_to_write
    )
    foot = ("Total", "", answer.payees_to_pay_cents, "")
    note = "Hand over a check only in exchange for the waiver that belongs to it." if rows else ""
    return Part(
        "checks_to_write",
        "Checks to write",
        CHECKS,
        rows,
        foot if rows else (),
        note=note,
        empty="None.",
        wide=True,
    )
