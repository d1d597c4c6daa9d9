"""A lien waiver that came in is put on record; a closed gate to payment is set aside for a
reason.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tracker.money.records import WAIVER_KINDS
from tracker.screens.entry.entering import Ask, AtOnce, Values
from tracker.screens.entry.evidence import path_of
from tracker.screens.entry.money_words import amount
from tracker.screens.frame.open_project import OpenProject
from tracker.values.kinds import Cents, Day, Text
from tracker.values.kinds import Choice as OneOf
from tracker.values.money import plain_dollars
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows


class WaiverCame(AtOnce):
    """One waiver, of the contractor or of somebody who sent a notice to owner."""

    HELP = (
        "A conditional waiver takes effect when its amount is paid: it has to name exactly what is"
        " payable, through the end of the period. An unconditional one is for what was paid last."
        " Who sent a notice to owner gives a waiver too. Read the paper: a waiver of the wrong kind"
        " or date waives nothing, or too much. Ctrl S keeps it."
    )

    def __init__(
        self,
        desk: OpenProject,
        application: Any,
        kind: str,
        cents: int,
        from_party: str = "",
        number: int | None = None,
    ) -> None:
        """application: the row of the view's answer; number: of the application that it is for,
        where it is an earlier one.
        """
        super().__init__(desk)
        self.asked, self.kind, self.cents, self.from_party = application, kind, cents, from_party
        self.number = application.number if number is None else number

    def heading(self) -> str:
        """For which application."""
        return f"A waiver for {self.asked.contract}/{self.number}, {self.asked.contractor}"

    def cautions(self) -> Sequence[str]:
        """An attorney."""
        return (
            (
                "Lien law and the form of waivers differ by state: ask an attorney. Never give or"
                " take one for money not yet agreed."
            ),
        )

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """Kind, amount, through, signed, from whom, the paper."""
        key = self.asked.contract, self.number
        row = next((a for a in rows.get("applications", ()) if (a.contract, a.number) == key), None)
        through = (row.period_to if row else self.asked.period_to).isoformat()
        return (
            Ask("kind", OneOf(WAIVER_KINDS), "", self.kind, True),
            Ask("amount", Cents(), "dollars, as written on it", plain_dollars(self.cents), True),
            Ask("through", Day(), "the day through which it covers work", through, True),
            Ask("signed", Day(), "the day on it", self.desk.today.isoformat(), True, column="date"),
            Ask("from_party", Text(), "who gave it; blank: the contractor", self.from_party),
            Ask("evidence", Text(), "where the signed original lies; or a file below"),
            Ask("file", Text(), "path of a file: it stays where it lies, its fingerprint is kept"),
        )

    def keep(self, values: Values, choice: str) -> Any:
        """Put it on record."""
        from tracker.actions.record_waiver import WaiverEntry, record_waiver

        return record_waiver(
            self.desk.project,
            WaiverEntry(
                self.asked.contract,
                self.number,
                values["kind"],
                values["amount"],
                values["through"],
                values["signed"],
                from_party=values["from_party"],
                evidence=values["evidence"],
                paper=path_of(values["file"]) if values["file"].strip() else None,
            ),
            self.desk.today,
        )

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """That it is on record, and what is still missing."""
        one = result.waiver
        words = (
            f"{one.code} is on record: {one.kind}, {amount(one.amount)} through"
            f" {one.through.isoformat()}. u takes it back."
        )
        return words, [f"still closed: {reason}" for reason in result.closed] or [
            "the waiver gates of it are open"
        ]


class GateSetAside(AtOnce):
    """A closed gate of an application is set aside, or one of a release after it."""

    HELP = (
        "A reasoned exception: the gate counts as open for this application, and the reason is"
        " printed on the application, the draw and wherever else it matters. What nobody has"
        " verified can't be set aside."
    )

    def __init__(self, desk: OpenProject, application: Any, due: Any = None) -> None:
        """due: the row of the payment list where it pays a release after the application."""
        super().__init__(desk)
        self.asked = application
        self.release: str = due.release if due is not None else ""
        self.gates = due.gates if due is not None else application.gates

    def heading(self) -> str:
        """Which application or release."""
        whose = (
            f"{self.release} of {self.asked.contract}"
            if self.release
            else f"{self.asked.contract}/{self.asked.number}"
        )
        return f"Set a gate aside for {whose}, {self.asked.contractor}"

    def cautions(self) -> Sequence[str]:
        """What a gate is for."""
        return (
            (
                "A gate is there because money once paid is hard to get back. Ask the lender, and"
                " an attorney about liens."
            ),
        )

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """Which gate, and why."""
        from tracker.actions.set_aside import NEVER

        closed = [gate for gate in self.gates if not gate.open and gate.gate not in NEVER]
        if not closed:
            key = self.release or f"{self.asked.contract}/{self.asked.number}"
            raise ProblemError(
                Problem(
                    "no gate is closed that could be set aside",
                    "verify or pay it",
                    "applications",
                    key,
                )
            )
        first = closed[0]
        return (
            Ask(
                "gate",
                OneOf(tuple(gate.gate for gate in closed)),
                first.reason,
                first.gate,
                True,
                column="what",
            ),
            Ask("reason", Text(), "who decided it, and on what", needed=True),
        )

    def keep(self, values: Values, choice: str) -> Any:
        """Put it on record."""
        from tracker.actions.set_aside import set_aside_gate

        one = self.asked
        return set_aside_gate(
            self.desk.project,
            one.contract,
            one.number,
            values["gate"],
            values["reason"],
            self.desk.today,
            self.release,
        )

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """That it is on record."""
        return (
            (
                f"{result.row.code}: {result.row.what} is set aside for {result.row.key}. u takes"
                " it back."
            ),
            result.notes,
        )
