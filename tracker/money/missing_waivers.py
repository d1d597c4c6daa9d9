"""Which lien waivers are missing, from whom and for how much: for what is to be paid, and for what was paid last."""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass

from tracker.money.applications import Account, period_of
from tracker.money.gates import Asked, conditional_waiver, last_paid, unconditional_waiver, without_waiver
from tracker.money.standing import Standing


@dataclass(frozen=True, slots=True)
class MissingWaiver:
    """One waiver to collect. application: the number that it is for; from_party: blank for the contractor itself.

    amount: cents that it has to name; None where only the payment between others tells (a supplier's). gate: that it opens.
    """

    contract: str
    application: int
    contractor: str
    from_party: str
    kind: str
    amount: int | None
    through: dt.date
    gate: str
    reason: str


def missing_waivers(known: Standing) -> tuple[MissingWaiver, ...]:
    """All that are missing today, contract by contract: of its last payment, and of applications that are not paid."""
    return tuple(one for account in known.accounts.values() for one in (*_last_payment(known, account), *_to_pay(known, account)))


def _to_pay(known: Standing, account: Account) -> Iterator[MissingWaiver]:
    """What is to be collected in exchange for the payments to come."""
    contract = account.contract
    for state in (*account.states, *account.entered):
        if known.states[state.contract, state.number] == "paid":
            continue
        asked = Asked(known.books, state, contract.contractor, known.paid)
        is_open, reason = conditional_waiver(asked)
        if not is_open:
            yield MissingWaiver(
                contract.code,
                state.number,
                contract.contractor,
                "",
                "conditional progress",
                state.payable,
                state.period_to,
                "conditional waiver",
                reason,
            )
        for party in without_waiver(asked):
            words = f"{party} sent a notice to owner and gave no waiver through {state.period_to}"
            yield MissingWaiver(
                contract.code,
                state.number,
                contract.contractor,
                party,
                "conditional progress",
                None,
                state.period_to,
                "notice waivers",
                words,
            )


def _last_payment(known: Standing, account: Account) -> Iterator[MissingWaiver]:
    """The unconditional waiver for the last payment, whether or not another application has come."""
    if not account.states:
        return
    contract, last = account.contract, account.states[-1]
    asked = Asked(known.books, dataclasses.replace(last, number=last.number + 1), contract.contractor, known.paid)
    number = last_paid(asked)
    is_open, reason = unconditional_waiver(asked)
    if is_open or number is None:
        return
    row = next(a for a in known.books.table("applications") if (a.contract, a.number) == (contract.code, number))
    amount = known.paid.on_application(contract.code, number)
    yield MissingWaiver(
        contract.code,
        number,
        contract.contractor,
        "",
        "unconditional progress",
        amount,
        period_of(row),
        "unconditional waiver",
        reason,
    )
