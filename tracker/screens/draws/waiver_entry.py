"""A lien waiver that came in is put on record; a closed gate to payment is set aside for a
reason.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from tracker.actions.record_waiver import Recorded, WaiverEntry, record_waiver
from tracker.actions.rows import Saved
from tracker.actions.set_aside import NEVER, set_aside_gate
from tracker.money.records import WAIVER_KINDS, Application
from tracker.screens.entry.declared import EntryField, Given, Opened, ShortEntry
from tracker.screens.entry.evidence import file_field, paper_of
from tracker.screens.entry.money_words import amount
from tracker.values.kinds import Cents, Day, Text
from tracker.values.kinds import Choice as OneOf
from tracker.values.problems import Problem, ProblemError

if TYPE_CHECKING:
    from tracker.answers.draw_rows import DueRow, PayApplication


def waiver_came(
    asked: PayApplication, kind: str, cents: int, from_party: str = "", number: int | None = None
) -> ShortEntry[Recorded]:
    """One waiver, of the contractor or of somebody who sent a notice to owner. number: of the
    application that it is for, where it is an earlier one.
    """
    number = asked.number if number is None else number

    def fields(opened: Opened) -> Sequence[EntryField]:
        row = opened.found(Application, contract=asked.contract, number=number)
        through, covers = (row or asked).period_to, "the day through which it covers work"
        return (
            EntryField("kind", OneOf(WAIVER_KINDS), "", kind, True),
            EntryField("amount", Cents(), "dollars, as written on it", cents, True),
            EntryField("through", Day(), covers, through, True),
            EntryField("signed", Day(), "the day on it", opened.today, True, column="date"),
            EntryField("from_party", Text(), "who gave it; blank: the contractor", from_party),
            EntryField("evidence", Text(), "where the signed original lies; or a file below"),
            file_field(),
        )

    def act(given: Given) -> Recorded:
        entry = WaiverEntry(
            asked.contract,
            number,
            given["kind"],
            given["amount"],
            given["through"],
            given["signed"],
            from_party=given["from_party"],
            evidence=given["evidence"],
            paper=paper_of(given["file"]),
        )
        return record_waiver(given.project, entry, given.today)

    return ShortEntry(
        title=f"A waiver for {asked.contract}/{number}, {asked.contractor}",
        help=(
            "A conditional waiver takes effect when its amount is paid: it has to name exactly what"
            " is payable, through the end of the period. An unconditional one is for what was paid"
            " last. Who sent a notice to owner gives a waiver too. Read the paper: a waiver of the"
            " wrong kind or date waives nothing, or too much. Ctrl S keeps it."
        ),
        cautions=(
            "Lien law and the form of waivers differ by state: ask an attorney. Never give or"
            " take one for money not yet agreed.",
        ),
        fields=fields,
        act=act,
        kept=waiver_kept,
    )


def waiver_kept(done: Recorded) -> tuple[str, Sequence[str]]:
    """That it is on record, and what is still missing."""
    one = done.waiver
    closed = [f"still closed: {reason}" for reason in done.closed]
    return (
        f"{one.code} is on record: {one.kind}, {amount(one.amount)} through {one.through}. u takes"
        " it back.",
        closed or ["the waiver gates of it are open"],
    )


def setting_aside(asked: PayApplication, due: DueRow | None = None) -> ShortEntry[Saved]:
    """A closed gate of an application is set aside, or one of a release after it. due: the row of
    the payment list where it pays a release.
    """
    release = due.release if due is not None else ""
    gates = due.gates if due is not None else asked.gates
    key = f"{asked.contract}/{asked.number}"

    def fields(opened: Opened) -> Sequence[EntryField]:
        closed = [gate for gate in gates if not gate.open and gate.gate not in NEVER]
        if not closed:
            what, do = "no gate is closed that could be set aside", "verify or pay it"
            raise ProblemError(Problem(what, do, "applications", release or key))
        first, names = closed[0], OneOf(tuple(gate.gate for gate in closed))
        return (
            EntryField("gate", names, first.reason, first.gate, True, column="what"),
            EntryField("reason", Text(), "who decided it, and on what", needed=True),
        )

    whose = f"{release} of {asked.contract}" if release else key
    return ShortEntry(
        title=f"Set a gate aside for {whose}, {asked.contractor}",
        help=(
            "A reasoned exception: the gate counts as open for this application, and the reason is"
            " printed on the application, the draw and wherever else it matters. What nobody has"
            " verified can't be set aside."
        ),
        cautions=(
            "A gate is there because money once paid is hard to get back. Ask the lender, and"
            " an attorney about liens.",
        ),
        fields=fields,
        act=lambda given: set_aside_gate(
            given.project,
            asked.contract,
            asked.number,
            given["gate"],
            given["reason"],
            given.today,
            release,
        ),
        kept=lambda done: (
            f"{done.row.code}: {done.row.what} is set aside for {done.row.key}. u takes it back.",
            done.notes,
        ),
    )
