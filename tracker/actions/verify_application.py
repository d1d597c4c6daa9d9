"""An application is verified: somebody saw the work, line by line, on a day.

Payment follows what was verified.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from tracker.actions.keeping import Sound, sound, step
from tracker.money.applications import ApplicationState, accounts
from tracker.money.drawn import state_on
from tracker.money.gates import Gate
from tracker.money.inspector import above_inspector
from tracker.money.paid import paid
from tracker.money.records import Application, ApplicationLine
from tracker.money.release_gates import application_gates
from tracker.project_file.store import ProjectFile, StaleError, Step
from tracker.tables.books import books_of
from tracker.tables.row_edits import with_cells, with_row
from tracker.values.money import dollars
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows, key_of, key_text


@dataclass(frozen=True, slots=True)
class Verified:
    """A verified application as it stands on the day of verification. step: None where all was so
    already, or it was tried only.

    state: its lines and figures, cents. closed: the gates that still stop its payment. above: by
    line, the cents in place above what the lender's inspector saw. notes: what is odd about it.
    """

    step: Step | None
    application: Application
    state: ApplicationState
    closed: tuple[Gate, ...]
    above: Mapping[str, int]
    notes: tuple[str, ...]


def verify_application(
    project: ProjectFile,
    contract: str,
    number: int,
    seen: Mapping[str, Mapping[str, str]],
    by: str,
    on: dt.date,
    expected: Application | None = None,
    only_try: bool = False,
) -> Verified:
    """Write what was seen in place in this period, and who saw it when, in one step.

    seen: by line (a change's: CHANGE/LINE) the cells that are given: verified, claimed, stored as
    plain decimal dollars, inspector_share in percent; an empty one: nothing. Lines and cells that
    are not named stay as they are. expected: the application as it was shown; StaleError if it is
    no longer so. only_try: tell how it would stand and write nothing. ProblemError if there is no
    such application, nobody is named, an amount is none, a line is none of the contract's, or a
    line's earned to date would lie outside of 0 to its value: with the line's name.
    """
    given = (contract, number, seen, by, on, expected)
    what = f"verified application {contract}/{number}"[:120]
    return step(project, what, lambda before: _worked_out(before, *given), only_try=only_try)


def _worked_out(
    before: Rows,
    contract: str,
    number: int,
    seen: Mapping[str, Mapping[str, str]],
    by: str,
    on: dt.date,
    expected: Application | None,
) -> tuple[Sound, Verified]:
    """The rows with the application verified, and how it stands then."""
    old = _application(before, contract, number)
    if not by.strip():
        raise ProblemError(
            _problem(
                old,
                "verified_by",
                "it is not said who saw the work",
                "name the person who was there",
            )
        )
    new = dataclasses.replace(old, verified_by=by.strip(), verified_on=on)
    if expected is not None and expected != old:
        raise StaleError(expected, old, new)
    after = sound(before, _with_lines(with_row(before, new, old), old, seen))
    books = books_of(after, on)
    known = accounts(books)
    state = known[contract].state(number)
    if state is None:
        raise ProblemError(
            _problem(
                old,
                "number",
                "the application is not in its contract's account",
                "check the contract",
            )
        )
    above = _above_inspector(after, state)
    closed = tuple(
        gate for gate in application_gates(books, state, paid(books, known)) if not gate.open
    )
    return after, Verified(
        None, new, state, closed, above, (*_notes(after, new, on), *_above_notes(state, above))
    )


def _above_inspector(rows: Rows, state: ApplicationState) -> dict[str, int]:
    """By line, what stands in place above what the lender's inspector saw of it."""
    own = (
        r
        for r in rows.get("application_lines", ())
        if (r.contract, r.number) == (state.contract, state.number)
    )
    shares = {r.line: r.inspector_share for r in own}
    found = {
        line.line: above_inspector(line.in_place, line.value, shares.get(line.line))
        for line in state.lines
    }
    return {line: cents for line, cents in found.items() if cents}


def _above_notes(state: ApplicationState, above: Mapping[str, int]) -> tuple[str, ...]:
    """The lender funds what its own inspector saw."""
    return tuple(
        f"{line.name}: {dollars(above[line.line])} above what the lender's inspector saw: the"
        " lender may cut it"
        for line in state.lines
        if line.line in above
    )


def _application(rows: Rows, contract: str, number: int) -> Application:
    """The application. ProblemError where there is none."""
    known: list[Application] = [a for a in rows.get("applications", ()) if a.contract == contract]
    found = next((a for a in known if a.number == number), None)
    if found is None:
        there = ", ".join(str(a.number) for a in known)
        do = f"the contract has applications {there}" if there else "enter the application first"
        raise ProblemError(
            Problem("there is no such application", do, "applications", f"{contract}/{number}")
        )
    return found


def _with_lines(
    rows: dict[str, Any], application: Application, seen: Mapping[str, Mapping[str, str]]
) -> dict[str, Any]:
    """The rows with what was seen. ProblemError with each amount that is none."""
    known = {key_of(row): row for row in rows.get("application_lines", ())}
    problems: list[Problem] = []
    for line, cells in seen.items():
        at = (application.contract, application.number, line)
        try:
            row = with_cells(
                ApplicationLine,
                at,
                known.get(at),
                {name: text.strip() for name, text in cells.items()},
                rows,
            )
        except ProblemError as error:
            problems.extend(error.problems)
            continue
        if at in known or any(text.strip() for text in cells.values()):
            rows = with_row(rows, row, known.get(at))
    if problems:
        raise ProblemError(problems)
    return rows


def _notes(rows: Rows, application: Application, on: dt.date) -> tuple[str, ...]:
    """What is odd: verified above what was claimed, or nothing of it; an earlier one not verified;
    a period not over.
    """
    notes = []
    key = application.contract, application.number
    for line in rows.get("application_lines", ()):
        if (line.contract, line.number) != key:
            continue
        claimed, seen = line.claimed or 0, line.verified or 0
        if claimed and line.verified is None:
            notes.append(f"{line.line}: {dollars(claimed)} is claimed, nothing is verified")
        elif seen > claimed:
            notes.append(
                f"{line.line}: {dollars(seen)} is verified, only {dollars(claimed)} is claimed"
            )
    open_ = [
        str(a.number)
        for a in rows.get("applications", ())
        if a.contract == application.contract
        and a.number < application.number
        and a.verified_on is None
    ]
    if open_:
        notes.append(
            f"application {', '.join(open_)} before it is not verified: it stands as if that"
            " brought nothing"
        )
    if application.period_to is not None and on < application.period_to:
        notes.append(
            f"the period runs through {application.period_to.isoformat()}: what came after"
            f" {on.isoformat()} was not seen"
        )
    if any(p.contract == key[0] and p.application == key[1] for p in rows.get("payments", ())):
        notes.append("something was paid on it already: see whether that still fits")
    draw = next((d for d in rows.get("draws", ()) if d.number == application.draw), None)
    if draw is not None and state_on(draw, on) in ("sent", "funded"):
        notes.append(
            f"it belongs to draw {draw.number}, which is {state_on(draw, on)}: its papers show the"
            " figures as they were"
        )
    return tuple(notes)


def _problem(application: Application, column: str, what: str, do: str) -> Problem:
    """A problem of one application."""
    return Problem(what=what, do=do, table="applications", key=key_text(application), column=column)
