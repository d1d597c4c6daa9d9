"""Short ways to build the rows of a project for the checks of money.

Amounts in dollars where a check is about dollars.
"""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import Any

from tracker.money.applications import Account, ApplicationState, account
from tracker.money.books import books_on
from tracker.money.records import (
    Application,
    ApplicationLine,
    Change,
    ChangeLine,
    Contract,
    ContractLine,
    CostLine,
    Payment,
    RetainageEvent,
)
from tracker.trades.records import Contractor
from tracker.values.records import new

TODAY = dt.date(2027, 6, 30)
SIGNED = dt.date(2027, 1, 4)


def day(text: str) -> dt.date:
    """A date of 2027 written like 3-31."""
    month, number = text.split("-")
    return dt.date(2027, int(month), int(number))


def cents(dollars: float | int | str) -> int:
    """Dollars as cents, exactly."""
    found = Decimal(str(dollars)) * 100
    assert found == int(found)
    return int(found)


class Site:
    """The rows of a project in the making. Methods return the site, so that they chain."""

    def __init__(self) -> None:
        self.tables: dict[str, list[Any]] = {
            "contractors": [new(Contractor, code="ACME", name="Invented Trade Co")]
        }

    def add(self, *values: Any) -> Site:
        """Add rows to their tables."""
        for value in values:
            self.tables.setdefault(value.TABLE, []).append(value)
        return self

    def cost_lines(self, *codes: str, budget: float = 0, **more: Any) -> Site:
        """Cost lines of kind hard."""
        return self.add(*(new(CostLine, code=code, budget=cents(budget), **more) for code in codes))

    def contract(
        self, code: str, lines: dict[str, float], rate: int | None = 10_000, **more: Any
    ) -> Site:
        """A contract signed on 4 January; each line on a cost line of its own name. rate:
        thousandths of a percent.
        """
        rates = more.pop("rates", {})
        cost_lines = more.pop("cost_line", {})
        signed = more.pop("signed", SIGNED)
        total = sum(cents(value) for value in lines.values())
        self.add(
            new(
                Contract,
                code=code,
                contractor="ACME",
                signed=signed,
                sum=total,
                retainage=rate,
                **more,
            )
        )
        known = {c.code for c in self.tables.get("cost_lines", ())}
        for line, value in lines.items():
            cost_line = cost_lines.get(line, line)
            if cost_line not in known:
                self.cost_lines(cost_line)
                known.add(cost_line)
            own = rates.get(line)
            self.add(
                new(
                    ContractLine,
                    contract=code,
                    line=line,
                    cost_line=cost_line,
                    value=cents(value),
                    retainage=own,
                )
            )
        return self

    def change(
        self, number: str, contract: str, lines: dict[str, float], approved: str = "", **more: Any
    ) -> Site:
        """A change with its lines, each on the cost line of the same name; approved on a day, else
        asked for.
        """
        state = "approved" if approved else more.pop("state", "priced")
        on = day(approved) if approved else None
        more.setdefault("noticed", SIGNED)
        self.add(
            new(
                Change,
                number=number,
                contract=contract,
                title=f"change {number}",
                state=state,
                approved=on,
                **more,
            )
        )
        for line, amount in lines.items():
            if line not in {c.code for c in self.tables.get("cost_lines", ())}:
                self.cost_lines(line)
            self.add(
                new(ChangeLine, change=number, line=line, cost_line=line, amount=cents(amount))
            )
        return self

    def application(
        self,
        number: int,
        verified: dict[str, float],
        stored: dict[str, float] | None = None,
        contract: str = "C1",
        period_to: str = "",
        verified_on: str | None = "",
        **more: Any,
    ) -> Site:
        """An application for the month of its number, verified at the end of the period unless
        said.
        """
        ends = day(period_to or f"{number}-28")
        on = None if verified_on is None else day(verified_on) if verified_on else ends
        self.add(
            new(
                Application,
                contract=contract,
                number=number,
                period_to=ends,
                verified_on=on,
                **more,
            )
        )
        for line in [*verified, *(key for key in stored or {} if key not in verified)]:
            self.add(
                new(
                    ApplicationLine,
                    contract=contract,
                    number=number,
                    line=line,
                    claimed=cents(verified.get(line, 0)),
                    verified=cents(verified.get(line, 0)),
                    stored=cents((stored or {}).get(line, 0)),
                )
            )
        return self

    def rate_event(
        self, on: str, rate: int, reading: str, line: str = "", contract: str = "C1"
    ) -> Site:
        """A change of the retainage rate."""
        code = f"E{len(self.tables.get('retainage_events', ()))}"
        return self.add(
            new(
                RetainageEvent,
                code=code,
                contract=contract,
                line=line,
                date=day(on),
                kind="rate",
                rate=rate,
                reading=reading,
            )
        )

    def release(self, on: str, amount: float, line: str = "", contract: str = "C1") -> Site:
        """A release of retainage."""
        code = f"E{len(self.tables.get('retainage_events', ()))}"
        return self.add(
            new(
                RetainageEvent,
                code=code,
                contract=contract,
                line=line,
                date=day(on),
                kind="release",
                amount=cents(amount),
            )
        )

    def pay(
        self,
        on: str,
        amount: float,
        kind: str = "application",
        number: int | None = None,
        **more: Any,
    ) -> Site:
        """A payment on contract C1 unless said."""
        more.setdefault("contract", "C1" if kind != "invoice" else "")
        code = f"P{len(self.tables.get('payments', ()))}"
        return self.add(
            new(
                Payment,
                code=code,
                kind=kind,
                application=number,
                date=day(on),
                amount=cents(amount),
                **more,
            )
        )

    def account(self, contract: str = "C1", today: dt.date = TODAY) -> Account:
        """The contract's account."""
        books = books_on(self.tables, today)
        return account(books, books.contracts[contract])

    def states(self, contract: str = "C1", today: dt.date = TODAY) -> tuple[ApplicationState, ...]:
        """The states of the contract's applications that count."""
        return self.account(contract, today).states
