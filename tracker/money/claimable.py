"""Claimable: what the next draw may ask, cost line by cost line.

Claimable = became payable - lender's retainage to date - drawn to date, not below zero. What a
lender cut is claimable again, because only what was funded counts as drawn. The owner's own labor
never becomes claimable.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from tracker.money.applications import Account, ApplicationState
from tracker.money.books import Books
from tracker.money.cost_lines import NOWHERE
from tracker.money.owed import left_on_deposit_bills
from tracker.money.paid import Paid
from tracker.money.records import Source
from tracker.values.money import at_rate, divide, split
from tracker.values.sums import add

RELEASED = "lender's retainage"
"""What an override names that releases the lender's retainage (its key: the source)."""


@dataclass(frozen=True, slots=True)
class Claimable:
    """One cost line, in cents. floated_goods: deposits and stored goods that no source funds: the
    owner's own cash.
    """

    cost_line: str
    became_payable: int
    lenders_retainage: int
    drawn: int
    floated_goods: int

    @property
    def claimable(self) -> int:
        """What the next draw may ask."""
        return max(self.became_payable - self.lenders_retainage - self.drawn, 0)


def claimable(
    books: Books,
    accounts: Mapping[str, Account],
    cleared: Mapping[str, ApplicationState],
    paid: Paid,
    drawn: Mapping[str, int],
) -> tuple[Claimable, ...]:
    """All cost lines in row order; last, without a code, what became payable on none.

    cleared: by contract, the last application whose gates are open or that is paid. drawn: by cost
    line, this draw of all draws, cents.
    """
    payable, floated = became_payable(books, accounts, cleared, paid)
    held_back = lenders_retainage(books, accounts, cleared)
    nowhere = (NOWHERE,) if payable.get(NOWHERE) or floated.get(NOWHERE) else ()
    return tuple(
        Claimable(
            cost_line=code,
            became_payable=payable.get(code, 0),
            lenders_retainage=held_back.get(code, 0),
            drawn=drawn.get(code, 0),
            floated_goods=floated.get(code, 0),
        )
        for code in (*(line.code for line in books.cost_lines), *nowhere)
    )


def became_payable(
    books: Books,
    accounts: Mapping[str, Account],
    cleared: Mapping[str, ApplicationState],
    paid: Paid,
) -> tuple[dict[str, int], dict[str, int]]:
    """By cost line, in cents: what became payable by today, and what the owner has to float because
    no source funds it.
    """
    known: Sequence[Source] = books.table("sources")
    deposits, stored = any(s.funds_deposits for s in known), any(s.funds_stored for s in known)
    payable: dict[str, int] = {}
    floated: dict[str, int] = {}
    for contract, state in cleared.items():
        _take_contract(accounts[contract], state, paid, (deposits, stored), (payable, floated))
    for contract in accounts:
        if contract not in cleared:
            for part in paid.of_contract(contract):
                if part.kind == "deposit":
                    add(payable if deposits else floated, part.cost_line, part.amount)
    advances = left_on_deposit_bills(books, accounts, paid)
    for invoice in books.invoices.values():
        if invoice.kind == "own labor" or (invoice.date is not None and invoice.date > books.today):
            continue
        funded = {"deposit": deposits, "stored": stored}.get(invoice.kind, True)
        add(
            payable if funded else floated,
            invoice.cost_line,
            advances.get(invoice.code, invoice.amount),
        )
    return payable, floated


def _take_contract(
    account: Account,
    state: ApplicationState,
    paid: Paid,
    funds: tuple[bool, bool],
    into: tuple[dict[str, int], dict[str, int]],
) -> None:
    """A contract's dues through its last cleared application, with releases since; stored goods and
    unearned deposits apart.

    A deposit becomes payable as it is earned (the dues that it made up), or at once where a source
    funds deposits.
    """
    (deposits, stored), (payable, floated) = funds, into
    laid_out = [p for p in paid.of_contract(account.contract.code) if p.kind == "deposit"]
    dues = {line.line: line.approved_before + line.due for line in state.lines}
    back = released_since(account, state)
    for line in state.lines:
        on_stored = divide(line.held * line.stored, line.earned) if line.earned else 0
        goods = 0 if stored else max(min(line.stored - on_stored, dues[line.line]), 0)
        add(payable, line.cost_line, dues[line.line] + back.get(line.line, 0) - goods)
        add(floated, line.cost_line, goods)
    unearned = max(sum(p.amount for p in laid_out) - max(sum(dues.values()), 0), 0)
    parts = split(unearned, [max(p.amount, 0) for p in laid_out])
    for deposit, part in zip(laid_out, parts, strict=True):
        add(payable if deposits else floated, deposit.cost_line, part)


def lenders_retainage(
    books: Books, accounts: Mapping[str, Account], cleared: Mapping[str, ApplicationState]
) -> dict[str, int]:
    """By cost line, in cents: max(0, the lender's rate x earned - what contracts hold on the same
    work).

    Where several sources hold back, the highest rate counts. None is held once it is released: by
    an event, or with the last draw, which is the one after the opening is done.
    """
    if is_open(books):
        return {}
    free = {
        o.key
        for o in books.table("overrides")
        if o.what == RELEASED and (o.date is None or o.date <= books.today)
    }
    rates = [s.retainage for s in books.table("sources") if s.retainage and s.code not in free]
    if not rates:
        return {}
    earned: dict[str, int] = {}
    held: dict[str, int] = {}
    for contract, state in cleared.items():
        back = released_since(accounts[contract], state)
        for line in state.lines:
            add(earned, line.cost_line, line.earned)
            add(held, line.cost_line, line.held - back.get(line.line, 0))
    return {
        line: max(at_rate(amount, max(rates)) - held[line], 0) for line, amount in earned.items()
    }


def is_open(books: Books) -> bool:
    """Whether the activity that is the project's opening is done by today."""
    opening = books.project.opening
    done = (a.actual_finish for a in books.table("activities") if opening and a.code == opening)
    return any(day is not None and day <= books.today for day in done)


def released_since(account: Account, state: ApplicationState) -> Mapping[str, int]:
    """By line, what was released after the contract's last application, if that is this
    one. Cents.
    """
    return (
        account.released if account.last is not None and account.last.number == state.number else {}
    )
