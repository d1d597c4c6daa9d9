"""The cost of one more day: loan interest, insurance, tax, utilities, rent not earned.

Each part is shown; the total is the sum of the shown parts.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from tracker.money.books import Books, books_on
from tracker.money.drawn import by_source, drawn_lines, funded
from tracker.money.interest import interest_per_day
from tracker.values.frozen import value
from tracker.values.money import WHOLE_RATE, divide, plain_rate
from tracker.values.project import Project, Space
from tracker.values.records import Rows

NOT_ENTERED = "not entered"
NO_RENTS = "no rents of spaces entered"


@value
class DayPart:
    """One part of the cost of a day: what it is, cents a day, and how it was found."""

    name: str
    amount: int
    basis: str

    @property
    def is_known(self) -> bool:
        """Whether it rests on something: a rate that was entered, if it is 0, or one that comes of
        loans or rents.
        """
        return bool(self.amount) or self.basis == "entered"


@value
class CostOfADay:
    """The cost of a day in its parts."""

    parts: tuple[DayPart, ...]

    @property
    def total_cents(self) -> int:
        """Cents a day: the sum of the shown parts."""
        return sum(part.amount for part in self.parts)

    @property
    def is_known(self) -> bool:
        """Whether any part of it is."""
        return any(part.is_known for part in self.parts)

    @property
    def missing(self) -> tuple[str, ...]:
        """The parts that nobody entered: with any of these, the total is the least that a day
        costs.
        """
        return tuple(part.name for part in self.parts if part.basis in (NOT_ENTERED, NO_RENTS))


def cost_of_a_day(rows: Rows, today: dt.date) -> CostOfADay:
    """What one more day costs today, from the project's rows (project, spaces, sources, draws,
    draw_lines).
    """
    return day_of(books_on(rows, today))


def day_of(books: Books) -> CostOfADay:
    """What one more day costs on the day of the books, each part shown."""
    project = books.project
    entered = [
        ("insurance", project.insurance_per_day),
        ("tax", project.tax_per_day),
        ("utilities", project.utilities_per_day),
    ]
    return CostOfADay(
        parts=(
            *loan_interest(books),
            *(
                DayPart(name, amount or 0, "entered" if amount is not None else NOT_ENTERED)
                for name, amount in entered
            ),
            rent_not_earned(project, books.table("spaces")),
        )
    )


def loan_interest(books: Books) -> tuple[DayPart, ...]:
    """Interest of a day: as entered, or for each source with a rate the balance drawn today x rate
    / days of its year.
    """
    entered = books.project.loan_interest_per_day
    if entered is not None:
        return (DayPart("loan interest", entered, "entered"),)
    drawn = by_source(funded(drawn_lines(books)))
    return tuple(
        DayPart(
            name=f"interest on {source.name or source.code}",
            amount=interest_per_day(drawn.get(source.code, 0), source.rate, source.day_count),
            basis=f"balance drawn today at {plain_rate(source.rate)} %, {source.day_count}",
        )
        for source in books.table("sources")
        if source.rate
    )


def rent_not_earned(project: Project, spaces: Iterable[Space]) -> DayPart:
    """Rent of a day: as entered, or the spaces' rent a month x (1 - vacancy) x 12 / 365."""
    if project.rent_per_day is not None:
        return DayPart("rent not earned", project.rent_per_day, "entered")
    month = sum(space.rent_per_month or 0 for space in spaces)
    vacancy = project.vacancy or 0
    day = divide(month * (WHOLE_RATE - vacancy) * 12, WHOLE_RATE * 365)
    if not month:
        return DayPart("rent not earned", 0, NO_RENTS)
    return DayPart(
        "rent not earned",
        day,
        f"rents of the spaces less {plain_rate(vacancy)} % vacancy, x 12 / 365",
    )
