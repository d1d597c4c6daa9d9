"""Where the money stands today: accounts, payments, draws, gates; and from them what the next draw
would ask.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from tracker.money.applications import Account, ApplicationState, accounts
from tracker.money.books import Books
from tracker.money.claimable import Claimable, claimable
from tracker.money.cost_lines import NOWHERE, CostLineState, cost_lines
from tracker.money.draw_sheet import Ask, Kept, next_draw
from tracker.money.drawn import DrawnLine, by_cost_line, by_source, drawn_lines
from tracker.money.gates import Gate, application_state
from tracker.money.owed import Owed, owed
from tracker.money.paid import Paid, paid
from tracker.money.release_gates import application_gates
from tracker.money.sources import Sources, sources
from tracker.values.remembered import remembered


@dataclass(frozen=True, slots=True)
class Standing:
    """The books of a day with what follows from them.

    gates, states: by contract and number, of every application; states are entered, verified,
    cleared, paid. owed: by contract.
    """

    books: Books
    accounts: Mapping[str, Account]
    paid: Paid
    lines: Sequence[CostLineState]
    drawn: Sequence[DrawnLine]
    gates: Mapping[tuple[str, int], tuple[Gate, ...]]
    states: Mapping[tuple[str, int], str]
    owed: Mapping[str, Owed]

    @property
    def budgets(self) -> dict[str, int]:
        """Budget now by cost line, in row order."""
        return {line.code: line.figures.budget_now for line in self.lines if line.code != NOWHERE}

    def funds(self) -> Sources:
        """The sources of money as they stand."""
        return sources(self.books, self.paid, self.drawn)

    def cleared(self, through: dt.date | None = None) -> dict[str, ApplicationState]:
        """By contract, the last application through which all are cleared or paid; through: of
        periods that end by a day.
        """
        found = {}
        for code, account in self.accounts.items():
            for state in account.states:
                late = through is not None and state.period_to > through
                if late or self.states[code, state.number] not in ("cleared", "paid"):
                    break
                found[code] = state
        return found

    def claims(self, through: dt.date | None = None) -> tuple[Claimable, ...]:
        """What the next draw may ask, line by line; through: of applications and invoices by the
        end of a day.
        """
        books = self.books
        if through is not None:
            known = {
                code: i for code, i in books.invoices.items() if i.date is None or i.date <= through
            }
            books = dataclasses.replace(books, invoices=known)
        return claimable(
            books, self.accounts, self.cleared(through), self.paid, by_cost_line(self.drawn)
        )

    def asks(
        self, claims: Sequence[Claimable], funds: Sources
    ) -> tuple[tuple[Ask, ...], tuple[Kept, ...]]:
        """What the next draw would ask of each source, and what stays out."""
        waiting = [line for line in self.drawn if line.funded_on is None]
        return next_draw(claims, funds, self.budgets, by_source(waiting))


@remembered(keep=2)
def standing(books: Books) -> Standing:
    """Gather where the money stands on the day of the books."""
    known = accounts(books)
    payments = paid(books, known)
    left = {code: owed(account, payments) for code, account in known.items()}
    found_gates: dict[tuple[str, int], tuple[Gate, ...]] = {}
    states: dict[tuple[str, int], str] = {}
    for account in known.values():
        for state in (*account.states, *account.entered):
            key = state.contract, state.number
            found_gates[key] = application_gates(books, state, payments)
            to_pay = left[state.contract].applications.get(state.number, 0)
            states[key] = application_state(
                found_gates[key], to_pay, counts=state in account.states
            )
    return Standing(
        books=books,
        accounts=known,
        paid=payments,
        lines=cost_lines(books, payments),
        drawn=drawn_lines(books),
        gates=found_gates,
        states=states,
        owed=left,
    )
