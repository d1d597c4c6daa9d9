"""An application verified line by line: claimed, seen in place, stored, what the lender's inspector
saw; due beside it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from tracker.actions.verify_application import Verified, verify_application
from tracker.money.books import Books
from tracker.money.gates import in_words, not_passed
from tracker.money.records import Application, ApplicationLine
from tracker.screens.entry.declared import Entry, EntryField, Given, Lines, Opened, Texts, Values
from tracker.screens.entry.event_form import EventForm
from tracker.screens.entry.line_sheet import SheetCol, SheetLine
from tracker.screens.entry.money_words import amount
from tracker.screens.entry.preview_dialog import look_at
from tracker.screens.entry.typed_text import read_day
from tracker.screens.frame.keymap import bindings
from tracker.screens.table.sections import Line, Section
from tracker.tables.books import books_of
from tracker.values.kinds import Day, Text
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import columns_of

if TYPE_CHECKING:
    from tracker.answers.draw_rows import PayApplication

CELLS = ("claimed", "verified", "stored", "inspector_share")
WIDE = 100
"""Cells from which columns are wide."""
NARROW = 76
"""Cells below which there is no room for all columns."""


class VerifyForm(EventForm[Verified]):
    """The form, with keys that take claims as seen."""

    BINDINGS = bindings("verify")

    def action_all_as_claimed(self) -> None:
        """Take every claim as seen where nothing is entered as seen yet."""
        for line in self.sheet.lines if self.sheet else ():
            self._as_claimed(line, only_empty=True)

    def action_as_claimed(self) -> None:
        """Take the claim of the line as seen."""
        here = self.sheet.here if self.sheet else None
        if here is not None:
            self._as_claimed(here.line)

    def _as_claimed(self, line: SheetLine, only_empty: bool = False) -> None:
        """Take the claim of a line as seen. only_empty: where there is one and nothing else is
        entered as seen.
        """
        assert self.sheet is not None
        cells = {cell.col.name: cell.value for cell in self.sheet.cells if cell.line is line}
        if not only_empty or (cells["claimed"].strip() and not cells["verified"].strip()):
            self.sheet.put(line.key, "verified", cells["claimed"])


def verifying(asked: PayApplication) -> Entry[Verified]:
    """Somebody was there and saw what is in place; payment follows that."""
    contract, number = asked.contract, asked.number

    def fields(opened: Opened) -> Sequence[EntryField]:
        seen = opened.found(Application, contract=contract, number=number)
        if seen is None:
            what, do = "there is no such application any more", "choose one that is there"
            raise ProblemError(Problem(what, do, "applications", f"{contract}/{number}"))
        return (
            EntryField(
                "verified_by", Text(), "who saw the work", seen.verified_by or "Owner", True
            ),
            EntryField("verified_on", Day(), "", seen.verified_on or opened.today, True),
        )

    def act(given: Given) -> Verified:
        on = given["verified_on"]
        if on > given.today:
            do = f"give a day through {given.today.isoformat()}"
            raise ProblemError(Problem("lies ahead", do, column="verified_on", value=str(on)))
        return verify_application(
            given.project,
            contract,
            number,
            given["lines"],
            given["verified_by"],
            on,
            given.found(Application, contract=contract, number=number),
            only_try=given.only_try,
        )

    return Entry(
        title=(
            f"Verify {contract}/{number}, {asked.contractor}, through {asked.period_to.isoformat()}"
        ),
        help=(
            "What was put in place in this period, line by line: as claimed, and as somebody saw"
            " it; what lies stored at its end; the percentage of the whole line that the lender's"
            " inspector saw in place. Due and payable stand beside it as you type: payment follows"
            " what was verified. F3 takes the claim of a line as seen, F4 every claim. A line of"
            " which an inspection has not passed is not payable. Ctrl S tells the sums, and what"
            " still stops the payment, before anything is kept."
        ),
        cautions=(
            "Verify what you or your inspector saw; what is covered up before its inspection"
            " can't be verified.",
        ),
        fields=fields,
        act=act,
        preview=verified_sections,
        keep="keep as verified",
        kept=lambda done: (
            f"{done.state.contract}/{done.state.number} is verified: payable"
            f" {amount(done.state.payable)}. u takes it back.",
            done.notes[:2],
        ),
        form=VerifyForm,
        lines=Lines(
            columns=verify_columns,
            lines=lambda opened: verify_lines(asked, opened),
            behind=("due now", 12),
            figures=due_now,
            total=verify_total,
            about=about_line,
            as_typed=as_typed,
        ),
    )


def verify_columns(wide: int) -> Sequence[SheetCol]:
    """What is typed; narrow where there is little room, and there without the inspector's share."""
    known = {column.name: column for column in columns_of(ApplicationLine)}
    cells = 12 if wide >= WIDE else 11 if wide >= NARROW else 9
    found = [SheetCol(known[name], name, cells) for name in CELLS[:3]]
    share = SheetCol(known["inspector_share"], "seen %", 7)
    return (*found, share) if wide >= NARROW else found


def verify_lines(asked: PayApplication, opened: Opened) -> Sequence[SheetLine]:
    """Every line of the contract by the end of the period."""
    known = {column.name: column for column in columns_of(ApplicationLine)}
    billed = {
        row.line: {name: known[name].kind.write(getattr(row, name)) for name in CELLS}
        for row in opened.rows.get("application_lines", ())
        if (row.contract, row.number) == (asked.contract, asked.number)
    }
    waits = not_payable(books_of(opened.rows, opened.today), asked.contract)
    return [
        SheetLine(
            one.line,
            f"{one.line} {one.name}" if one.name != one.line else one.line,
            billed.get(one.line, {}),
            waits.get(one.line, ""),
        )
        for one in asked.lines
    ]


def as_typed(texts: Texts, opened: Opened) -> Values:
    """Figures are worked out as of the day that is typed."""
    try:
        on = read_day(texts["verified_on"], opened.near)
    except ValueError:
        on = opened.today
    return {"verified_by": texts["verified_by"].strip() or "nobody yet", "verified_on": on}


def due_now(found: Verified) -> Mapping[str, str]:
    """By line, what is due now; a mark where it lies above what the lender's inspector saw."""
    return {
        line.line: f"{'!' if line.line in found.above else ''}{amount(line.due)}"
        for line in found.state.lines
    }


def verify_total(found: Verified) -> str:
    """The sums."""
    state = found.state
    held, due = f"held back {amount(state.held)}", f"due {amount(state.due)}"
    return f"in place {amount(state.in_place)} · {held} · {due} · payable {amount(state.payable)}"


def about_line(typed: SheetLine, found: Verified | None) -> Sequence[str]:
    """The line to date, and what stops it."""
    state = found.state.lines if found else ()
    line = next((one for one in state if one.line == typed.key), None)
    if found is None or line is None:
        return ()
    words = [
        f"{line.name}: worth {amount(line.value)} · in place to date {amount(line.in_place)} ·"
        f" stored {amount(line.stored)} · held back {amount(line.held)} · payable"
        f" {amount(line.payable)}"
    ]
    if typed.key in found.above:
        words.append(
            f"! {amount(found.above[typed.key])} above what the lender's inspector saw: the lender"
            " may cut it"
        )
    return (*words, *((typed.about,) if typed.about else ()), "F3 takes the claim as seen")


def verified_sections(found: Verified) -> list[Section]:
    """The three groups, the closed gates, what is odd."""
    state = found.state
    money = (
        f"The contract: as signed {amount(state.as_signed)}, approved changes"
        f" {amount(state.changes)}, now {amount(state.contract_now)}",
        f"The work: in place to date {amount(state.in_place)}, stored {amount(state.stored)},"
        f" earned {amount(state.earned)}",
        f"The money: held back {amount(state.held)}, approved before"
        f" {amount(state.approved_before)}, due now {amount(state.due)}",
        Line(f"Payable {amount(state.payable)}", "strong"),
    )
    closed = [Line(f"! {in_words(gate.gate, gate.reason)}", "warn") for gate in found.closed]
    return [
        Section(f"{state.contract}/{state.number} once it is kept", money),
        Section("What still stops its payment", closed or ["nothing"]),
        look_at(found.notes),
    ]


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
