"""The books as they stand on one day: the money rows that count today, gathered once.

What is signed, approved, paid or earned after today does not count yet; an application counts from
its verified_on on.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from tracker.money.deposits import on_contracts
from tracker.money.records import (
    Application,
    ApplicationLine,
    Contract,
    CostLine,
    Invoice,
    Payment,
    RetainageEvent,
)
from tracker.money.schedule_of_values import ValueLine, schedules_of_values
from tracker.values.grouped import grouped
from tracker.values.project import Project
from tracker.values.records import Rows, new
from tracker.values.remembered import remembered


@dataclass(frozen=True, slots=True)
class Books:
    """The money of a project on one day.

    values: by contract, its schedule of values with the changes approved by today. verified: by
    contract, the applications that count today, by number; entered: those that do not count yet.
    billed: by contract and number, the lines of an application. payments: those made by today,
    oldest first, deposits on the contract on which they count (money/deposits.py). events: by
    contract, retainage events by today, oldest first. rows: all tables, for what is asked rarely.
    passed: codes of the inspections that passed by today, by themselves or by a re-inspection; see
    tables/books.py.
    """

    today: dt.date
    rows: Rows
    project: Project
    cost_lines: tuple[CostLine, ...]
    contracts: Mapping[str, Contract]
    values: Mapping[str, tuple[ValueLine, ...]]
    verified: Mapping[str, tuple[Application, ...]]
    entered: Mapping[str, tuple[Application, ...]]
    billed: Mapping[tuple[str, int], Mapping[str, ApplicationLine]]
    payments: tuple[Payment, ...]
    invoices: Mapping[str, Invoice]
    events: Mapping[str, tuple[RetainageEvent, ...]]
    passed: frozenset[str] = frozenset()

    def table(self, name: str) -> tuple[Any, ...]:
        """All rows of a table, whether they count today or not."""
        rows = self.rows.get(name, ())
        return rows if isinstance(rows, tuple) else tuple(rows)

    def is_signed(self, contract: Contract) -> bool:
        """Whether a contract is signed by today."""
        return contract.signed is not None and contract.signed <= self.today

    def payments_on(self, contract: str, kind: str) -> tuple[Payment, ...]:
        """Payments of one kind on a contract by today, oldest first."""
        return grouped(self.payments, "contract", "kind").get((contract, kind), ())


@remembered(keep=4)
def books_on(rows: Rows, today: dt.date, passed: frozenset[str] = frozenset()) -> Books:
    """Gather the books of a project as they stand on a day. passed: inspections; who asks for
    requirements hands them in.
    """
    applications = sorted(rows.get("applications", ()), key=lambda a: a.number)
    billed: dict[tuple[str, int], dict[str, ApplicationLine]] = {}
    for line in rows.get("application_lines", ()):
        billed.setdefault((line.contract, line.number), {})[line.line] = line
    projects = rows.get("project", ())
    contracts = {c.code: c for c in rows.get("contracts", ())}
    invoices = {i.code: i for i in rows.get("invoices", ())}
    return Books(
        today=today,
        rows=rows,
        project=projects[0] if projects else new(Project),
        cost_lines=tuple(rows.get("cost_lines", ())),
        contracts=contracts,
        values=schedules_of_values(rows, today),
        verified=by_contract(a for a in applications if is_verified(a, today)),
        entered=by_contract(a for a in applications if not is_verified(a, today)),
        billed=billed,
        payments=on_contracts(
            by_day(p for p in rows.get("payments", ()) if p.date and p.date <= today),
            contracts,
            invoices,
        ),
        invoices=invoices,
        events=by_contract(
            by_day(e for e in rows.get("retainage_events", ()) if e.date and e.date <= today)
        ),
        passed=passed,
    )


def is_verified(application: Application, today: dt.date) -> bool:
    """Whether an application counts today."""
    return application.verified_on is not None and application.verified_on <= today


def by_contract(rows: Iterable[Any]) -> dict[str, tuple[Any, ...]]:
    """Rows gathered by the contract that they name, in their order."""
    found: dict[str, list[Any]] = {}
    for row in rows:
        found.setdefault(row.contract, []).append(row)
    return {contract: tuple(values) for contract, values in found.items()}


def by_day(rows: Iterable[Any]) -> tuple[Any, ...]:
    """Rows oldest first; rows of one day stay in their order."""
    return tuple(sorted(rows, key=lambda row: row.date))
