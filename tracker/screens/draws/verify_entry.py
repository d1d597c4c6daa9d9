"""An application verified line by line: claimed, seen in place, stored, what the lender's inspector
saw; due beside it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from tracker.money.books import Books
from tracker.money.gates import in_words, not_passed
from tracker.money.records import ApplicationLine
from tracker.screens.entry.entering import Ask, Values
from tracker.screens.entry.entering_lines import EnteringLines
from tracker.screens.entry.line_sheet import SheetCol, SheetLine
from tracker.screens.entry.money_words import amount
from tracker.screens.entry.preview_dialog import Choice
from tracker.screens.entry.typed_text import read_day
from tracker.screens.frame.keymap import bindings
from tracker.screens.frame.open_project import OpenProject
from tracker.screens.table.sections import Line, Section
from tracker.tables.books import books_of
from tracker.values.kinds import Day, Text
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows, columns_of

CELLS = ("claimed", "verified", "stored", "inspector_share")
TITLES = {"inspector_share": "seen %"}
WIDE = 100
"""Cells from which columns are wide."""
NARROW = 76
"""Cells below which there is no room for all columns."""


class Verifying(EnteringLines):
    """Somebody was there and saw what is in place; payment follows that."""

    BINDINGS = bindings("verify")
    HELP = (
        "What was put in place in this period, line by line: as claimed, and as somebody saw it;"
        " what lies stored at its end; the percentage of the whole line that the lender's inspector"
        " saw in place. Due and payable stand beside it as you type: payment follows what was"
        " verified. F3 takes the claim of a line as seen, F4 every claim. A line of which an"
        " inspection has not passed is not payable. Ctrl S tells the sums, and what still stops the"
        " payment, before anything is kept."
    )

    def __init__(self, desk: OpenProject, application: Any) -> None:
        """application: the row of the view's answer."""
        super().__init__(desk)
        self.asked = application
        self.seen: Any = None

    def heading(self) -> str:
        """Which application."""
        one = self.asked
        return (
            f"Verify {one.contract}/{one.number}, {one.contractor}, through"
            f" {one.period_to.isoformat()}"
        )

    def cautions(self) -> Sequence[str]:
        """What is covered can't be seen."""
        return (
            (
                "Verify what you or your inspector saw; what is covered up before its inspection"
                " can't be verified."
            ),
        )

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """Who saw it, and when."""
        key = self.asked.contract, self.asked.number
        self.seen = next(
            (a for a in rows.get("applications", ()) if (a.contract, a.number) == key), None
        )
        if self.seen is None:
            problem = Problem(
                "there is no such application any more",
                "choose one that is there",
                "applications",
                f"{key[0]}/{key[1]}",
            )
            raise ProblemError(problem)
        on = self.seen.verified_on or self.desk.today
        return (
            Ask("verified_by", Text(), "who saw the work", self.seen.verified_by or "Owner", True),
            Ask("verified_on", Day(), start=on.isoformat(), needed=True),
        )

    def sheet_columns(self) -> Sequence[SheetCol]:
        """What is typed; narrow where there is little room, and there without the inspector's
        share.
        """
        known = {column.name: column for column in columns_of(ApplicationLine)}
        cells = 12 if self.size.width >= WIDE else 11 if self.size.width >= NARROW else 9
        found = [SheetCol(known[name], TITLES.get(name, name), cells) for name in CELLS[:3]]
        if self.size.width >= NARROW:
            found.append(SheetCol(known["inspector_share"], TITLES["inspector_share"], 7))
        return tuple(found)

    def sheet_lines(self, rows: Rows) -> Sequence[SheetLine]:
        """Every line of the contract by the end of the period."""
        known = {column.name: column for column in columns_of(ApplicationLine)}
        billed = {
            row.line: row
            for row in rows.get("application_lines", ())
            if (row.contract, row.number) == (self.asked.contract, self.asked.number)
        }
        waits = not_payable(books_of(rows, self.desk.today), self.asked.contract)
        return tuple(
            SheetLine(
                one.line,
                f"{one.line} {one.name}" if one.name != one.line else one.line,
                (
                    {
                        name: known[name].kind.write(getattr(billed[one.line], name))
                        for name in CELLS
                    }
                    if one.line in billed
                    else {}
                ),
                waits.get(one.line, ""),
            )
            for one in self.asked.lines
        )

    def follows(self) -> tuple[str, int]:
        """What becomes due."""
        return "due now", 12

    def as_typed(self, texts: Mapping[str, str]) -> Values | None:
        """Figures are worked out as of the day that is typed."""
        try:
            on = read_day(texts["verified_on"], self._near)
        except ValueError:
            on = self.desk.today
        return {"verified_by": texts["verified_by"].strip() or "nobody yet", "verified_on": on}

    def tried(self, values: Values) -> Any:
        """How it would stand."""
        return self._do(values, only_try=True)

    def _do(self, values: Values, only_try: bool = False) -> Any:
        from tracker.actions.verify_application import verify_application

        by, on = values["verified_by"], values["verified_on"]
        if on > self.desk.today:
            problem = Problem(
                "lies ahead",
                f"give a day through {self.desk.today.isoformat()}",
                column="verified_on",
                value=str(on),
            )
            raise ProblemError(problem)
        one = self.asked
        return verify_application(
            self.desk.project,
            one.contract,
            one.number,
            values["lines"],
            by,
            on,
            self.seen,
            only_try=only_try,
        )

    def figures(self, found: Any) -> Mapping[str, str]:
        """By line, what is due now; a mark where it lies above what the lender's inspector saw."""
        return {
            line.line: f"{'!' if line.line in found.above else ''}{amount(line.due)}"
            for line in found.state.lines
        }

    def total(self, found: Any) -> str:
        """The sums."""
        state = found.state
        held, due = f"held back {amount(state.held)}", f"due {amount(state.due)}"
        return (
            f"in place {amount(state.in_place)} · {held} · {due} · payable {amount(state.payable)}"
        )

    def about(self, key: str, found: Any | None) -> Sequence[str]:
        """The line to date, and what stops it."""
        line = next((one for one in found.state.lines if one.line == key), None) if found else None
        if found is None or line is None:
            return ()
        worth = (
            f"{line.name}: worth {amount(line.value)} · in place to date {amount(line.in_place)}"
        )
        words = [
            f"{worth} · stored {amount(line.stored)} · held back {amount(line.held)} · payable"
            f" {amount(line.payable)}"
        ]
        if key in found.above:
            words.append(
                f"! {amount(found.above[key])} above what the lender's inspector saw: the lender"
                " may cut it"
            )
        waits = next(one.about for one in self._lines if one.key == key)
        return (*words, *((waits,) if waits else ()), "F3 takes the claim as seen")

    def told(self, found: Any) -> Sequence[Section]:
        """The three groups, the closed gates, what is odd."""
        state = found.state
        money: list[Line | str] = [
            (
                f"The contract: as signed {amount(state.as_signed)}, approved changes"
                f" {amount(state.changes)}, now {amount(state.contract_now)}"
            ),
            (
                f"The work: in place to date {amount(state.in_place)}, stored"
                f" {amount(state.stored)}, earned {amount(state.earned)}"
            ),
            (
                f"The money: held back {amount(state.held)}, approved before"
                f" {amount(state.approved_before)}, due now {amount(state.due)}"
            ),
            Line(f"Payable {amount(state.payable)}", "strong"),
        ]
        closed = [Line(f"! {in_words(gate.gate, gate.reason)}", "warn") for gate in found.closed]
        return [
            Section(f"{state.contract}/{state.number} once it is kept", money),
            Section("What still stops its payment", closed or ["nothing"]),
            Section("Look at", [f"· {note}" for note in found.notes]),
        ]

    def choices(self, found: Any) -> Sequence[Choice]:
        """One way."""
        return (Choice("k", "keep as verified", "keep"),)

    def keep(self, values: Values, choice: str) -> Any:
        """Keep it."""
        return self._do(values)

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """What is payable."""
        key = f"{result.state.contract}/{result.state.number}"
        return (
            f"{key} is verified: payable {amount(result.state.payable)}. u takes it back.",
            result.notes[:2],
        )

    def action_all_as_claimed(self) -> None:
        """Take every claim as seen where nothing is entered as seen yet."""
        for line in self.sheet.lines:
            cells = {cell.col.name: cell for cell in self.sheet.cells if cell.line is line}
            if cells["claimed"].value.strip() and not cells["verified"].value.strip():
                self.sheet.put(line.key, "verified", cells["claimed"].value)

    def action_as_claimed(self) -> None:
        """Take the claim of the line as seen."""
        here = self.sheet.here
        if here is not None:
            claim = next(
                cell
                for cell in self.sheet.cells
                if cell.line is here.line and cell.col.name == "claimed"
            )
            self.sheet.put(here.line.key, "verified", claim.value)


def not_payable(books: Books, contract: str) -> dict[str, str]:
    """By line of a contract, the inspections that have not passed: it is not payable until they
    have.
    """
    found = {}
    for line in books.table("contract_lines"):
        waits = not_passed(books, line.inspections)
        if line.contract == contract and waits:
            found[line.line] = f"! not payable until it has passed: {', '.join(waits)}"
    return found
