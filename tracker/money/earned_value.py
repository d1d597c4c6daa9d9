"""Earned value of contracts: planned, earned and actual cost of work, and what follows from them.

BCWS: what the baseline planned to have in place by today. BCWP: verified in place. ACWP: paid on
contracts + retainage held + approved and not paid yet (retainage held is a cost already incurred).
BAC: contracts now. CPI = BCWP / ACWP; SPI = BCWP / BCWS; EAC = BAC / CPI; TCPI = (BAC - BCWP) /
(BAC - ACWP). None where a divisor is zero or the budget is used up. Definitions as in the
performance measurement reference card of a US space agency (November 2015).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from tracker.money.applications import Account
from tracker.money.books import Books
from tracker.money.paid import Paid, paid_on
from tracker.values.money import divide

WORDS = (
    "BCWS: what the baseline planned to have in place by today",
    "BCWP: what was verified in place by today",
    "ACWP: what that has cost: paid on contracts, held back, and approved but not paid yet",
    "BAC: all contracts as they stand now",
    "CPI: a dollar spent bought this much work; under 1 costs more than planned",
    "SPI: this much of the planned work is done; it returns to 1 at the end even when late",
    "EAC: what the contracts will cost if it goes on like this: BAC / CPI",
    "TCPI: how well the rest has to go to end within BAC; none once BAC is used up",
)


@dataclass(frozen=True, slots=True)
class EarnedValue:
    """Cents; bcws is None where there is no baseline to plan by."""

    bcws: int | None
    bcwp: int
    acwp: int
    bac: int

    @property
    def cpi(self) -> int | None:
        """BCWP / ACWP in thousandths."""
        return _ratio(self.bcwp, self.acwp)

    @property
    def spi(self) -> int | None:
        """BCWP / BCWS in thousandths."""
        return None if self.bcws is None else _ratio(self.bcwp, self.bcws)

    @property
    def eac(self) -> int | None:
        """BAC / CPI in cents, not through the rounded index."""
        return divide(self.bac * self.acwp, self.bcwp) if self.bcwp else None

    @property
    def tcpi(self) -> int | None:
        """(BAC - BCWP) / (BAC - ACWP) in thousandths; None once BAC is used up."""
        return _ratio(self.bac - self.bcwp, self.bac - self.acwp) if self.bac > self.acwp else None


def earned_value(
    books: Books,
    accounts: Mapping[str, Account],
    paid: Paid,
    bcws: int | None,
    contracts: Iterable[str] | None = None,
) -> EarnedValue:
    """Earned value over some contracts (None: all). bcws: from the baseline, in cents."""
    chosen = [a for code, a in accounts.items() if contracts is None or code in set(contracts)]
    return EarnedValue(
        bcws=bcws,
        bcwp=sum(account.in_place for account in chosen),
        acwp=sum(actual_cost(account, paid) for account in chosen),
        bac=sum(contract_now(books, account) for account in chosen),
    )


def actual_cost(account: Account, paid: Paid) -> int:
    """Payments on a contract + retainage held + approved dues not paid yet, in cents."""
    out = paid_on(paid.of_contract(account.contract.code))
    return out + account.held + max(account.approved - out, 0)


def contract_now(books: Books, account: Account) -> int:
    """A signed contract with its changes approved by today, in cents; nothing where it is not
    signed.
    """
    if not books.is_signed(account.contract):
        return 0
    changes = (line.value for line in books.values.get(account.contract.code, ()) if line.change)
    return account.contract.sum + sum(changes)


def in_thousandths(index: int | None) -> str | None:
    """An index as a decimal string with three places ("0.875"); None stays None."""
    if index is None:
        return None
    sign = "-" if index < 0 else ""
    return f"{sign}{abs(index) // 1000}.{abs(index) % 1000:03d}"


def _ratio(part: int, whole: int) -> int | None:
    """part / whole in thousandths, rounded; None where the whole is zero."""
    return divide(part * 1000, whole) if whole else None
