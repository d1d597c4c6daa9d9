"""A closed gate to payment is set aside: a reasoned exception, kept with its day and printed
wherever it matters.
"""

from __future__ import annotations

import datetime as dt

from tracker.actions.codes import next_code
from tracker.actions.keeping import Sound, sound, step
from tracker.actions.rows import Saved
from tracker.money.applications import accounts
from tracker.money.paid import paid
from tracker.money.release_gates import application_gates, release_gates
from tracker.project_file.store import ProjectFile
from tracker.tables.books import books_of
from tracker.values.problems import Problem, ProblemError
from tracker.values.project import Override
from tracker.values.records import Rows, new

NEVER = ("verified",)
"""Gates that no reason opens: what nobody saw does not count, so there is nothing to pay."""


def set_aside_gate(
    project: ProjectFile,
    contract: str,
    number: int,
    gate: str,
    reason: str,
    today: dt.date,
    release: str = "",
) -> Saved:
    """Open a closed gate of an application for a reason, or one of a release after it: release, its
    event's code.

    Notes: gates that stay closed. ProblemError where there is no such application, release or gate,
    it is open, it is the gate of verification, or no reason is given.
    """
    key, why = release or f"{contract}/{number}", " ".join(reason.split())
    if not why:
        do = "say who decided it, and on what"
        raise ProblemError(Problem("an override needs its reason", do, "overrides", key, "reason"))

    def change(before: Rows) -> tuple[Sound, Saved]:
        books = books_of(before, today)
        known = accounts(books)
        account = known.get(contract)
        state = account.state(number) if account else None
        if state is None or account is None:
            raise ProblemError(
                Problem(
                    "there is no such application", "choose one that is there", "applications", key
                )
            )
        payments = paid(books, known)
        if release and release not in {one.code for one in account.releases}:
            do = "choose one that is paid by itself"
            raise ProblemError(Problem("there is no such release", do, "retainage_events", release))
        asked = (
            release_gates(books, account, payments, release)
            if release
            else application_gates(books, state, payments)
        )
        found = {one.gate: one for one in asked}
        if gate not in found:
            raise ProblemError(
                Problem(
                    "there is no such gate",
                    f"name one of {', '.join(found)}",
                    "overrides",
                    key,
                    "what",
                    gate,
                )
            )
        if found[gate].open:
            raise ProblemError(
                Problem(
                    "the gate is open", "nothing is to be set aside", "overrides", key, "what", gate
                )
            )
        if gate in NEVER:
            do = "verify it: what nobody saw does not count"
            raise ProblemError(
                Problem("this gate can't be set aside", do, "overrides", key, "what", gate)
            )
        row = new(
            Override,
            code=next_code(before, "overrides", "OV-"),
            what=gate,
            key=key,
            date=today,
            reason=why,
        )
        after = sound(before, {**before, "overrides": (*before.get("overrides", ()), row)})
        closed = tuple(
            f"still closed: {one.gate}"
            for one in found.values()
            if not one.open and one.gate != gate
        )
        return after, Saved(None, closed, row, added=True)

    return step(project, f"set aside {gate} for {key}"[:120], change, why)
