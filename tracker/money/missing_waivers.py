"""Which lien waivers are missing, from whom and for how much: for what is to be paid, and for what
was paid last.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from tracker.money.applications import Account, period_of
from tracker.money.gates import (
    Asked,
    conditional_waiver,
    last_paid,
    to_be_paid,
    unconditional_waiver,
    without_waiver,
)
from tracker.money.release_gates import (
    CONDITIONAL_FINAL,
    SUPPLIERS,
    is_last_money,
    release_gates,
    without_final_waiver,
)
from tracker.money.standing import Standing
from tracker.values.grouped import grouped


@dataclass(frozen=True, slots=True)
class MissingWaiver:
    """One waiver to collect. application: the number that it is for; from_party: blank for the
    contractor itself.

    amount: cents that it has to name; None where only the payment between others tells (a
    supplier's). gate: that it opens.
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
    """All that are missing today, contract by contract: of its last payment, of applications not
    paid, of releases not paid.
    """
    return tuple(
        one
        for account in known.accounts.values()
        for one in (
            *_last_payment(known, account),
            *_to_pay(known, account),
            *_last_money(known, account),
        )
    )


def _to_pay(known: Standing, account: Account) -> Iterator[MissingWaiver]:
    """What is to be collected in exchange for the payments to come."""
    contract = account.contract
    for state in (*account.states, *account.entered):
        if known.states[state.contract, state.number] == "paid":
            continue
        asked = Asked(known.books, state, contract.contractor, known.paid)
        if is_last_money(known.books, account, state):
            closed = {
                gate.gate: gate.reason
                for gate in known.gates[state.contract, state.number]
                if not gate.open
            }
            yield from _final(asked, closed, to_be_paid(asked))
            continue
        is_open, reason = conditional_waiver(asked)
        if not is_open:
            yield MissingWaiver(
                contract.code,
                state.number,
                contract.contractor,
                "",
                "conditional progress",
                to_be_paid(asked),
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


def _last_money(known: Standing, account: Account) -> Iterator[MissingWaiver]:
    """The final waivers for releases that are still to be paid."""
    contract, last = account.contract, account.last
    for code, left in known.owed[contract.code].releases.items():
        if last is None or not left:
            continue
        after = Asked(known.books, last, contract.contractor, known.paid)
        closed = {
            gate.gate: gate.reason
            for gate in release_gates(known.books, account, known.paid, code)
            if not gate.open
        }
        yield from _final(after, closed, left)


def _final(asked: Asked, closed: Mapping[str, str], amount: int) -> Iterator[MissingWaiver]:
    """The final waivers among requirements that are not met, with their reasons; amount: cents that
    the contractor's names.
    """
    state, parties = asked.state, list[tuple[str, int | None, str, str]]()
    if CONDITIONAL_FINAL in closed:
        parties.append(("", amount, CONDITIONAL_FINAL, closed[CONDITIONAL_FINAL]))
    if SUPPLIERS in closed:
        words = "sent a notice to owner and gave no final waiver"
        parties += [
            (party, None, SUPPLIERS, f"{party} {words}") for party in without_final_waiver(asked)
        ]
    for party, wanted, gate, reason in parties:
        yield MissingWaiver(
            state.contract,
            state.number,
            asked.contractor,
            party,
            "conditional final",
            wanted,
            state.period_to,
            gate,
            reason,
        )


def _last_payment(known: Standing, account: Account) -> Iterator[MissingWaiver]:
    """The unconditional waiver for the last payment, whether or not another application has
    come.
    """
    if not account.states:
        return
    contract, last = account.contract, account.states[-1]
    asked = Asked(
        known.books,
        dataclasses.replace(last, number=last.number + 1),
        contract.contractor,
        known.paid,
    )
    number = last_paid(asked)
    is_open, reason = unconditional_waiver(asked)
    if is_open or number is None:
        return
    row = grouped(known.books.table("applications"), "contract", "number")[contract.code, number][0]
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
