"""Pay applications: in place, stored, earned, held back, approved before, due and payable, line by
line.

The chain is that of a public form (USDA RD 1924-18): contract and changes; work in place and
stored; held back, approved before, due now. All figures are to date, except what is due and
payable. Cents throughout.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from tracker.money.books import Books
from tracker.money.records import Application, Contract
from tracker.money.retainage import Holding, Released, Work
from tracker.money.schedule_of_values import ValueLine, changes_approved
from tracker.values.money import split
from tracker.values.remembered import remembered
from tracker.values.sums import add, totals


@dataclass(frozen=True, slots=True)
class LineState:
    """One line of a contract after an application, in cents.

    in_place: verified through this application. earned: in place + stored. held: retainage.
    approved_before: due on earlier applications. due = earned - held - approved_before. payable:
    its share of what may be paid on the contract.
    """

    line: str
    name: str
    cost_line: str
    value: int
    in_place: int
    stored: int
    held: int
    approved_before: int
    payable: int = 0

    @property
    def earned(self) -> int:
        """In place and stored."""
        return self.in_place + self.stored

    @property
    def due(self) -> int:
        """What this application adds; negative where stored goods were built in or work was
        rejected.
        """
        return self.earned - self.held - self.approved_before


@dataclass(frozen=True, slots=True)
class ApplicationState:
    """A contract after one application: the lines, and the three groups of figures as sums of the
    lines.
    """

    contract: str
    number: int
    period_to: dt.date
    as_signed: int
    changes: int
    lines: tuple[LineState, ...]
    payable: int

    @property
    def contract_now(self) -> int:
        """As signed, and the changes approved on or before the end of the period."""
        return self.as_signed + self.changes

    @property
    def in_place(self) -> int:
        """Verified through this application."""
        return sum(line.in_place for line in self.lines)

    @property
    def stored(self) -> int:
        """Lying on site at the end of the period."""
        return sum(line.stored for line in self.lines)

    @property
    def earned(self) -> int:
        """In place and stored."""
        return sum(line.earned for line in self.lines)

    @property
    def held(self) -> int:
        """Retainage held back."""
        return sum(line.held for line in self.lines)

    @property
    def approved_before(self) -> int:
        """Due on earlier applications."""
        return sum(line.approved_before for line in self.lines)

    @property
    def due(self) -> int:
        """Due now: the sum of the lines."""
        return sum(line.due for line in self.lines)


@dataclass(frozen=True, slots=True)
class Account:
    """One contract's account today.

    states: by number, the applications that count. entered: the others, each as it would stand if
    it counted. releases: those after the last application, payable by themselves, oldest first.
    """

    contract: Contract
    states: tuple[ApplicationState, ...]
    entered: tuple[ApplicationState, ...]
    releases: tuple[Released, ...]

    @property
    def released(self) -> Mapping[str, int]:
        """By line, what releases after the last application gave back, in cents."""
        return self.released_by(dt.date.max)

    def released_by(self, day: dt.date) -> Mapping[str, int]:
        """The same through a day."""
        return totals(
            part
            for release in self.releases
            if release.day <= day
            for part in release.by_line.items()
        )

    @property
    def last(self) -> ApplicationState | None:
        """The last application that counts."""
        return self.states[-1] if self.states else None

    @property
    def earned(self) -> int:
        """Earned to date, in cents."""
        return self.last.earned if self.last else 0

    @property
    def in_place(self) -> int:
        """Verified in place to date, in cents."""
        return self.last.in_place if self.last else 0

    @property
    def released_by_itself(self) -> int:
        """What was released after the last application, in cents."""
        return sum(self.released.values())

    @property
    def held(self) -> int:
        """Retainage held today, in cents."""
        return (self.last.held if self.last else 0) - self.released_by_itself

    @property
    def approved(self) -> int:
        """All dues to date, with what was released since: what the contractor may have in total, in
        cents.
        """
        return self.earned - self.held

    def state(self, number: int) -> ApplicationState | None:
        """The application of that number, whether it counts or is only entered."""
        return next((s for s in (*self.states, *self.entered) if s.number == number), None)


@remembered(keep=4)
def accounts(books: Books) -> Mapping[str, Account]:
    """The account of each contract."""
    return {code: account(books, contract) for code, contract in books.contracts.items()}


def account(books: Books, contract: Contract) -> Account:
    """One contract's applications, those that count and those that are only entered."""
    verified = books.verified.get(contract.code, ())
    states, releases = chain(books, contract, verified)
    entered = []
    for application in books.entered.get(contract.code, ()):
        earlier = [a for a in verified if a.number < application.number]
        as_if, _ = chain(books, contract, [*earlier, application])
        entered.append(as_if[-1])
    return Account(contract=contract, states=states, entered=tuple(entered), releases=releases)


def chain(
    books: Books, contract: Contract, applications: Sequence[Application]
) -> tuple[tuple[ApplicationState, ...], tuple[Released, ...]]:
    """The states of a contract through these applications, in their order, and what was released
    after the last.
    """
    states, releases, _ = chain_with_holding(books, contract, applications)
    return states, releases


def chain_with_holding(
    books: Books, contract: Contract, applications: Sequence[Application]
) -> tuple[tuple[ApplicationState, ...], tuple[Released, ...], Holding]:
    """As chain(), with the retainage as it stands after the last application and the releases
    since.
    """
    running = _Running(books, contract)
    states = tuple(running.take(application) for application in applications)
    releases = running.holding.release_rest()
    return states, releases, running.holding


class _Running:
    """What is brought forward from application to application of one contract."""

    def __init__(self, books: Books, contract: Contract) -> None:
        self.books = books
        self.contract = contract
        self.values = books.values.get(contract.code, ())
        self.holding = Holding(contract=contract, events=books.events.get(contract.code, ()))
        self.deposits = books.payments_on(contract.code, "deposit")
        self.in_place: dict[str, int] = {}
        self.set: set[str] = set()
        self.earned = 0
        self.approved: dict[str, int] = {}
        self.payable: dict[str, int] = {}

    def take(self, application: Application) -> ApplicationState:
        """Take one application in and return the contract's state after it."""
        period_to = period_of(application)
        lines = tuple(line for line in self.values if line.counts_on(period_to))
        stored = self._build_in(application, lines)
        earned = sum(self.in_place.get(line.line, 0) + stored.get(line.line, 0) for line in lines)
        changes = changes_approved(lines, period_to)
        held = self.holding.step(
            lines,
            Work(
                period_to=period_to,
                in_place=dict(self.in_place),
                stored=stored,
                earned=earned,
                earned_before=self.earned,
                contract_now=self.contract.sum + changes,
            ),
        )
        self.earned = earned
        found = tuple(self._line(line, stored.get(line.line, 0), held[line.line]) for line in lines)
        found, payable = self._with_payable(found, period_to)
        for line in found:
            self.approved[line.line] = line.approved_before + line.due
        return ApplicationState(
            contract=self.contract.code,
            number=application.number,
            period_to=period_to,
            as_signed=self.contract.sum,
            changes=changes,
            lines=found,
            payable=payable,
        )

    def _build_in(self, application: Application, lines: Sequence[ValueLine]) -> dict[str, int]:
        """Add what was verified in this period; by line what lies stored at its end."""
        billed = self.books.billed.get((application.contract, application.number), {})
        stored: dict[str, int] = {}
        for line in lines:
            row = billed.get(line.line)
            if row is not None and (row.verified is not None or row.stored is not None):
                if line.earned_by_itself and line.line not in self.set:
                    self.in_place[line.line] = 0
                self.set.add(line.line)
                add(self.in_place, line.line, row.verified or 0)
                stored[line.line] = row.stored or 0
            elif line.earned_by_itself and line.line not in self.set:
                self.in_place[line.line] = line.value
        return stored

    def _line(self, line: ValueLine, stored: int, held: int) -> LineState:
        return LineState(
            line=line.line,
            name=line.name,
            cost_line=line.cost_line,
            value=line.value,
            in_place=self.in_place.get(line.line, 0),
            stored=stored,
            held=held,
            approved_before=self.approved.get(line.line, 0),
        )

    def _with_payable(
        self, lines: Sequence[LineState], period_to: dt.date
    ) -> tuple[tuple[LineState, ...], int]:
        """Dues to date less deposits less what was payable before, not below zero; split over the
        lines as they are owed it.

        A negative due or a deposit is made up before anything more is paid.
        """
        deposits = sum(
            p.amount for p in self.deposits if p.date is not None and p.date <= period_to
        )
        dues = sum(line.approved_before + line.due for line in lines)
        payable = max(dues - deposits - sum(self.payable.values()), 0)
        parts = over_what_is_owed(payable, lines, self.payable)
        for line, part in zip(lines, parts, strict=True):
            add(self.payable, line.line, part)
        return (
            tuple(with_payable(line, part) for line, part in zip(lines, parts, strict=True)),
            payable,
        )


def with_payable(line: LineState, payable: int) -> LineState:
    """The line with its share of what is payable."""
    return LineState(
        line=line.line,
        name=line.name,
        cost_line=line.cost_line,
        value=line.value,
        in_place=line.in_place,
        stored=line.stored,
        held=line.held,
        approved_before=line.approved_before,
        payable=payable,
    )


def over_what_is_owed(
    amount: int,
    lines: Sequence[LineState],
    before: Mapping[str, int],
    released: Mapping[str, int] | None = None,
) -> list[int]:
    """Split an amount over lines in proportion to what each is owed: earned - held - what it had
    before, if positive.

    Where no line is owed anything: by what each has earned, else by its value; parts add up to the
    amount.
    """
    back = released or {}
    owed = [
        max(line.earned - line.held + back.get(line.line, 0) - before.get(line.line, 0), 0)
        for line in lines
    ]
    if not any(owed):
        owed = [max(line.earned, 0) for line in lines]
    if not any(owed):
        owed = [max(line.value, 0) for line in lines]
    return split(amount, owed)


def period_of(application: Application) -> dt.date:
    """The end of an application's period, which every row has."""
    if application.period_to is None:
        raise ValueError("an application without the end of its period")
    return application.period_to
