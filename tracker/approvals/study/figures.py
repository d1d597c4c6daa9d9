"""Figures of the code study: tables as data, each row with its section, editions, source and day of
checking.

The rows come from the readable tables in approvals/figures; a local figure is an answer to the
question local.ROW or local.ROW.COLUMN, and stands against the table's. Nothing here is a constant
of a code.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from tracker.approvals.questions import is_old
from tracker.approvals.records import Answer

BASIS = ("section", "editions", "how_we_know", "source", "checked_on", "note")
"""The last columns of every table: what a figure rests on."""

LOCAL = "local."


@dataclass(frozen=True, slots=True)
class Basis:
    """What a figure rests on.

    edition: the one whose figure is used. adopted: the edition in force here, blank if nobody said.
    other_edition: it is none of the figure's, so that the figure may differ. local: it was entered
    for this project. old: checked over a year ago.
    """

    section: str
    edition: str
    adopted: str
    other_edition: bool
    local: bool
    how_we_know: str
    source: str
    checked_on: dt.date | None
    old: bool
    note: str

    @property
    def sure(self) -> bool:
        """Whether the figure was read in a text of the edition in force, or entered for this place,
        and lately.
        """
        return not self.doubt()

    def doubt(self) -> str:
        """Why the figure must be asked about; blank where it is sure."""
        said = []
        if self.local:
            return "the local figure was checked long ago" if self.old else ""
        if is_of_the_code(self.section) and self.section and not self.adopted:
            said.append(f"figure of {self.edition}, adopted edition not entered")
        if self.other_edition:
            said.append(f"figure of {self.edition}, adopted is {self.adopted}")
        if "memory" in self.how_we_know:
            said.append(
                "figure in part from memory"
                if self.how_we_know != "from memory"
                else "figure from memory"
            )
        if self.old:
            said.append("checked long ago")
        return ", ".join(said)


@dataclass(frozen=True, slots=True)
class FigureRow:
    """One row of a table: its cells by column, and what it rests on."""

    code: str
    cells: Mapping[str, str]
    basis: Basis
    editions: tuple[str, ...]

    def text(self, column: str) -> str:
        """A cell as it stands."""
        return self.cells[column]

    def words(self, column: str) -> tuple[str, ...]:
        """A cell that lists groups."""
        return tuple(self.cells[column].split())

    def whole(self, column: str) -> int | None:
        """A whole number; None where the cell is empty or holds words, such as "not permitted"."""
        return self.whole_of(self.cells[column])

    @staticmethod
    def whole_of(cell: str) -> int | None:
        """A cell's whole number; None where it is empty or holds words."""
        return int(cell) if re.fullmatch(r"[0-9]+", cell) else None

    def exact(self, column: str) -> Fraction:
        """A decimal number, exactly."""
        return Fraction(self.cells[column])


@dataclass(frozen=True, slots=True)
class Figures:
    """All tables by name, with the project's local figures in place."""

    tables: Mapping[str, Sequence[FigureRow]]
    edition: str

    def rows(self, table: str) -> Sequence[FigureRow]:
        """The rows of a table: where rows stand for the same thing in several editions, the one in
        force.
        """
        return self.tables[table]

    def find(self, table: str, **wanted: str) -> FigureRow | None:
        """The row whose cells are these; of several the one of the edition in force, else the
        newest.
        """
        found = [
            row
            for row in self.tables[table]
            if all(row.text(column) == cell for column, cell in wanted.items())
        ]
        return best(found, self.edition)

    def of_group(self, table: str, group: str, column: str = "groups") -> FigureRow | None:
        """The first row that names an occupancy group, or the class that it belongs to (A
        for A-3).
        """
        return next((row for row in self.tables[table] if names(row.words(column), group)), None)


def names(groups: Sequence[str], group: str) -> bool:
    """Whether a list of groups holds this one: by itself, or by its class.

    A group without a number is no member of "A-3".
    """
    return group in groups or group.split("-")[0] in groups or "any" in groups


def best(found: Sequence[FigureRow], edition: str) -> FigureRow | None:
    """Of rows for one thing, the one of an edition; without it the one with the newest edition."""
    of_edition = [row for row in found if edition and edition in row.editions]
    return next(
        iter(of_edition or sorted(found, key=lambda row: max(row.editions), reverse=True)), None
    )


def figures_of(
    tables: Mapping[str, Sequence[Mapping[str, str]]],
    answers: Iterable[Answer],
    edition: str,
    today: dt.date,
) -> Figures:
    """The figures that hold for a project. tables: by name, rows of cells as read. edition: of the
    building code, or blank.
    """
    local = {
        a.question.removeprefix(LOCAL): a
        for a in answers
        if a.question.startswith(LOCAL) and a.answer.strip()
    }
    made = {
        name: tuple(_row(cells, local, edition, today) for cells in rows)
        for name, rows in tables.items()
    }
    return Figures(tables=made, edition=edition)


def _row(
    cells: Mapping[str, str], local: Mapping[str, Answer], edition: str, today: dt.date
) -> FigureRow:
    """One row, with local figures in place of its own."""
    own = {column: cell for column, cell in cells.items() if column not in (*BASIS, "code")}
    changed: Answer | None = None
    for column in own:
        answer = local.get(f"{cells['code']}.{column}") or (
            local.get(cells["code"]) if column == first_number(own) else None
        )
        if answer is not None and is_number(answer.answer):
            own[column], changed = answer.answer.strip().replace(",", ""), answer
    editions = tuple(cells["editions"].split())
    checked = dt.date.fromisoformat(cells["checked_on"]) if cells["checked_on"] else None
    basis = Basis(
        section=cells["section"],
        edition=edition if edition in editions else max(editions),
        adopted=edition,
        other_edition=changed is None
        and is_of_the_code(cells["section"])
        and bool(edition)
        and edition not in editions,
        local=changed is not None,
        how_we_know="entered for this project" if changed else cells["how_we_know"],
        source=changed.source if changed else cells["source"],
        checked_on=changed.checked_on if changed else checked,
        old=is_old(changed.checked_on if changed else checked, today),
        note=cells["note"],
    )
    return FigureRow(cells["code"], own, basis, editions)


def local_problem(tables: Mapping[str, Sequence[Mapping[str, str]]], answer: Answer) -> str:
    """Why a local figure replaces nothing: no row or column of that name, or no number; blank where
    it does.
    """
    if not is_number(answer.answer):
        return "is not a number"
    name = answer.question.removeprefix(LOCAL)
    for cells in (cells for rows in tables.values() for cells in rows):
        own = {column: cell for column, cell in cells.items() if column not in (*BASIS, "code")}
        if name == cells["code"]:
            return "" if first_number(own) else "names a row without a number"
        if name.startswith(f"{cells['code']}.") and name.removeprefix(f"{cells['code']}.") in own:
            return ""
    return "names no row of the figures"


def is_of_the_code(section: str) -> bool:
    """Whether a section is one of the model codes, whose edition a town adopts; the federal
    standard is the same everywhere.
    """
    return not section.startswith("ADA")


def first_number(cells: Mapping[str, str]) -> str:
    """The column that a local figure without a column's name stands for."""
    return next((column for column, cell in cells.items() if is_number(cell)), "")


def is_number(text: str) -> bool:
    """Whether a text is a number that may stand in a table."""
    return bool(re.fullmatch(r"[0-9][0-9,]*(\.[0-9]+)?", text.strip()))
