"""A lien waiver came in: its kind, amount and date through which it covers the work, with the
signed paper.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from pathlib import Path

from tracker.actions.attached import attached_file, sha256_of, stored_path, with_papers
from tracker.actions.codes import next_code
from tracker.actions.keeping import Sound, sound, step
from tracker.money.applications import accounts
from tracker.money.gates import in_words
from tracker.money.paid import paid
from tracker.money.records import Waiver
from tracker.money.release_gates import application_gates
from tracker.project_file.store import ProjectFile, Step
from tracker.tables.books import books_of
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows, new


@dataclass(frozen=True, slots=True)
class Recorded:
    """A waiver on record. closed: waiver gates of its application that are still closed, with their
    reasons.
    """

    step: Step | None
    waiver: Waiver
    closed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WaiverEntry:
    """A waiver as it came in. amount: cents; from_party: who gave it, blank: the contractor; paper:
    to be attached.
    """

    contract: str
    application: int | None
    kind: str
    amount: int
    through: dt.date
    on: dt.date
    from_party: str = ""
    evidence: str = ""
    paper: Path | None = None


def record_waiver(project: ProjectFile, entry: WaiverEntry, today: dt.date) -> Recorded:
    """Put a waiver on record.

    ProblemError where there is no such contract or application, the kind is none, or the day lies
    ahead.
    """
    paper = entry.paper
    code = next_code({"waivers": project.rows(Waiver)}, "waivers", "WV-", 3)
    fingerprint = sha256_of(paper, "waivers", code) if paper else ""
    if entry.on > today:
        do = f"give the day on which it was signed, through {today.isoformat()}"
        raise ProblemError(
            Problem("the day lies ahead", do, "waivers", code, "date", entry.on.isoformat())
        )

    def change(before: Rows) -> tuple[Sound, Recorded]:
        row = _row(entry, next_code(before, "waivers", "WV-", 3))
        rows = {**before, "waivers": (*before.get("waivers", ()), row)}
        if paper:
            kept = attached_file(
                before, "waivers", row.code, stored_path(paper, project.path), fingerprint
            )
            rows["files"] = with_papers(before.get("files", ()), (kept,))
        after = sound(before, rows)
        return after, Recorded(None, row, still_closed(after, row, today))

    return step(
        project, f"waiver for {entry.contract}/{entry.application or ''}".rstrip("/")[:120], change
    )


def _row(entry: WaiverEntry, code: str) -> Waiver:
    """The waiver's row."""
    return new(
        Waiver,
        code=code,
        contract=entry.contract,
        application=entry.application,
        from_party=entry.from_party.strip(),
        kind=entry.kind,
        amount=entry.amount,
        through=entry.through,
        date=entry.on,
        evidence=entry.evidence.strip() or (entry.paper.name if entry.paper else ""),
    )


def still_closed(rows: Rows, waiver: Waiver, today: dt.date) -> tuple[str, ...]:
    """The waiver gates of an application that are closed with this waiver on record."""
    books = books_of(rows, today)
    known = accounts(books)
    account = known.get(waiver.contract)
    state = (
        account.state(waiver.application) if account and waiver.application is not None else None
    )
    if state is None:
        return ()
    found = application_gates(books, state, paid(books, known))
    return tuple(
        in_words(gate.gate, gate.reason)
        for gate in found
        if "waiver" in gate.gate and not gate.open
    )
