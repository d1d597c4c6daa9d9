"""The people of a draw request: who gets which check, and the owner's sworn statement of every
contract and bill.
"""

from __future__ import annotations

from tracker.answers.draw_request import DrawRequest
from tracker.pages.page import CODE, DAY, MONEY, Column, Part, cells_of, plain_rows, total
from tracker.values.money import dollars

PAYEES = (
    Column("payee", "exact name on the check"),
    Column("what", "for", CODE),
    Column("cost_line", "line", CODE),
    Column("amount", "amount", MONEY, sums=True),
    Column("paid", "paid already", MONEY, sums=True),
    Column("to_pay", "to pay", MONEY, "", "{amount}-{paid}", sums=True),
    Column("jointly", "also on the check"),
)
CHECKS = (
    Column("payee", "exact name on the check"),
    Column("jointly", "also on the check"),
    Column("to_pay", "to pay", MONEY, sums=True),
    Column("what", "for"),
)
STATEMENT = (
    Column("contractor", "contractor"),
    Column("contract", "contract", CODE),
    Column("what", "for"),
    Column("now", "contract now", MONEY, sums=True),
    Column("earned", "earned", MONEY, sums=True),
    Column("held", "held back", MONEY, sums=True),
    Column("paid", "paid", MONEY, sums=True),
    Column("due", "due now", MONEY, "", "{earned}-{held}-{paid}", sums=True),
    Column("to_come", "still to earn", MONEY, "", "{now}-{earned}", sums=True),
)
NOTICES = (
    Column("from_party", "from"),
    Column("through", "through whom"),
    Column("contract", "contract", CODE),
    Column("received", "received", DAY),
    Column("last_waiver", "last waiver"),
    Column("open", "still open", CODE),
)
NOT_AGREED = (
    Column("what", "what"),
    Column("who", "from"),
    Column("contract", "contract", CODE),
    Column("amount", "amount", MONEY),
    Column("state", "state"),
)
BILLS = (
    Column("contractor", "from"),
    Column("number", "number", CODE),
    Column("date", "date", DAY),
    Column("kind", "kind", CODE),
    Column("cost_line", "line", CODE),
    Column("amount", "amount", MONEY, sums=True),
    Column("paid", "paid", MONEY, sums=True),
    Column("due", "due now", MONEY, "", "{amount}-{paid}", sums=True),
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


def people(answer: DrawRequest) -> list[Part]:
    """The parts in the order in which they stand in the package; the last of them is signed."""
    return [
        payees(answer),
        checks_to_write(answer),
        statement(answer),
        notices(answer),
        not_agreed(answer),
        bills(answer),
    ]


def payees(answer: DrawRequest) -> Part:
    """Who gets a check, under which exact name, from which line."""
    rows = plain_rows(
        cells_of(one, PAYEES, jointly=", ".join(one.jointly)) for one in answer.payees
    )
    foot = total(
        PAYEES,
        "total",
        amount=answer.payees_total_cents,
        paid=answer.payees_paid_cents,
        to_pay=answer.payees_to_pay_cents,
    )
    beyond = answer.beyond_payees_cents
    note = (
        f"This draw is {dollars(abs(beyond))} {'more' if beyond > 0 else 'less'} than these payees"
        " get: payable before, cut, or held back."
    )
    return Part(
        "payees",
        "payees",
        PAYEES,
        rows,
        (foot,) if rows else (),
        note=note if beyond and rows else "",
        empty="No application and no invoice names this draw.",
        wide=True,
        new_page=True,
    )


def checks_to_write(answer: DrawRequest) -> Part:
    """One check for each payee, with what it is for."""
    rows = plain_rows(
        cells_of(one, CHECKS, jointly=", ".join(one.jointly), what=", ".join(one.what))
        for one in answer.checks_to_write
    )
    note = "Hand over a check only in exchange for the waiver that belongs to it."
    return Part(
        "checks_to_write",
        "checks to write",
        CHECKS,
        rows,
        (total(CHECKS, "total", to_pay=answer.payees_to_pay_cents),) if rows else (),
        note=note if rows else "",
        empty="None.",
        wide=True,
    )


def statement(answer: DrawRequest) -> Part:
    """The owner's sworn statement: every contract, paid and due."""
    rows = plain_rows(cells_of(one, STATEMENT) for one in answer.statement)
    foot = cells_of(answer.statement_total, STATEMENT, contractor="total", contract="", what="")
    return Part(
        "statement",
        "sworn statement of the owner",
        STATEMENT,
        rows,
        (foot,) if rows else (),
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
    rows = plain_rows(
        cells_of(one, NOTICES, open="open" if one.open else "ended") for one in answer.notices
    )
    return Part(
        "notices",
        "notices to owner received",
        NOTICES,
        rows,
        words=(
            "Part of the sworn statement: suppliers and lower trades who told the owner that they"
            " work or deliver here.",
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
    return Part(
        "not_agreed",
        "asked for or billed, and not agreed",
        NOT_AGREED,
        plain_rows(cells_of(one, NOT_AGREED) for one in answer.not_agreed),
        words=(
            "Part of the sworn statement: the owner knows of it and has not agreed to it; an amount"
            " is what is asked.",
        ),
        empty="Nothing is on record here that is asked for and not agreed.",
        wide=True,
    )


def bills(answer: DrawRequest) -> Part:
    """The rest of the statement: bills outside of the contracts; here it is signed."""
    rows = plain_rows(cells_of(one, BILLS) for one in answer.bills)
    foot = total(
        BILLS,
        "total",
        amount=answer.bills_total_cents,
        paid=answer.bills_paid_cents,
        due=answer.bills_due_cents,
    )
    words = (
        "Part of the sworn statement: what was billed for the project by others than those under"
        " contract."
    )
    return Part(
        "bills",
        "bills outside of the contracts",
        BILLS,
        rows,
        (foot,) if rows else (),
        words=(words,) if rows else (),
        note=(
            "Form of the statement and the oath follow state law: ask the title company or an"
            " attorney before signing."
        ),
        empty="None is on record here.",
        sign=("Owner, sworn", "Sworn before me, where the state asks for it"),
        wide=True,
    )
