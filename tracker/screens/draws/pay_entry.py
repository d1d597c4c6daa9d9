"""A payment from Friday's list, or a deposit: what stops it is told before, and set aside only with
a reason.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from tracker.money.gates import in_words
from tracker.screens.entry.entering import Ask, Entering, Values
from tracker.screens.entry.money_words import amount
from tracker.screens.entry.preview_dialog import Choice
from tracker.screens.frame.open_project import OpenProject
from tracker.screens.table.sections import Line, Section
from tracker.values.kinds import Cents, Day, Text
from tracker.values.kinds import Choice as OneOf
from tracker.values.money import dollars, plain_dollars
from tracker.values.records import Rows

CAUTIONS = (
    (
        "Paying without a waiver can mean paying twice; a joint check names who sent a notice to"
        " owner. Ask an attorney."
    ),
)


@dataclass(frozen=True)
class ToPay:
    """What is to be paid. kind: application, release, invoice or deposit; key: its row's; cents:
    asked, None where it is open.

    payee: the exact name for the check. jointly: who else stands on it. in_exchange: the waiver to
    collect.
    """

    kind: str
    key: str
    payee: str
    cents: int | None
    jointly: tuple[str, ...] = ()
    in_exchange: str = ""


class Paying(Entering):
    """One payment."""

    HELP = (
        "What leaves, on which day and how. More than is payable, or a closed gate to payment, asks"
        " for a reason: it is kept as an override, and printed wherever it matters. Ctrl S tells"
        " what stops the payment and what it does before it is kept."
    )

    def __init__(self, desk: OpenProject, due: ToPay) -> None:
        super().__init__(desk)
        self.due = due

    def heading(self) -> str:
        """Whom, for what."""
        return f"Pay {self.due.payee} for {self.due.kind} {self.due.key}"

    def cautions(self) -> Sequence[str]:
        """Joint checks, waivers, attorney."""
        jointly = f"Joint check with {', '.join(self.due.jointly)}. " if self.due.jointly else ""
        collect = f"Collect in exchange: {self.due.in_exchange}." if self.due.in_exchange else ""
        return (*CAUTIONS, (jointly + collect).strip()) if jointly or collect else CAUTIONS

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """Amount, day, how; a reason if something is to be set aside."""
        start = plain_dollars(self.due.cents) if self.due.cents is not None else ""
        reason = (
            ()
            if self.due.kind == "deposit"
            else (Ask("reason", Text(), "only to set aside what stops it: who decided, and why"),)
        )
        return (
            Ask("amount", Cents(), "dollars", start, True),
            Ask(
                "date",
                Day(),
                "the day on which the money leaves",
                self.desk.today.isoformat(),
                True,
            ),
            Ask("method", Text(), "check, transfer ..."),
            Ask("note", Text(), "check number, what was said"),
            *reason,
        )

    def tried(self, values: Values) -> Any:
        """What it would do; a missing reason is told, not refused."""
        return self._do(values, only_try=True)

    def _do(self, values: Values, only_try: bool = False) -> Any:
        from tracker.actions.pay import PaymentEntry, pay

        return pay(
            self.desk.project,
            PaymentEntry(
                self.due.kind,
                self.due.key,
                values["amount"],
                values["date"],
                method=values["method"],
                note=values["note"],
                reason=values.get("reason", ""),
            ),
            self.desk.today,
            only_try=only_try,
        )

    def told(self, found: Any) -> Sequence[Section]:
        """What leaves, what stops it, what is set aside."""
        return pay_sections(found)

    def choices(self, found: Any) -> Sequence[Choice]:
        """Nothing can be kept while something stops it and no reason is given."""
        if stopped_without_reason(found):
            return ()
        label = "pay, with the override" if found.overrides else "pay"
        return (Choice("k", label, "keep"),)

    def keep(self, values: Values, choice: str) -> Any:
        """Pay."""
        return self._do(values)

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """What left."""
        paid = result.payment
        return (
            f"{paid.code}: {amount(paid.amount)} to {self.due.payee}. u takes it back.",
            result.notes,
        )


def stopped_without_reason(found: Any) -> bool:
    """Whether something stops the payment that no override sets aside."""
    return bool(found.stops.set_aside) and not found.overrides


def pay_sections(found: Any) -> list[Section]:
    """A payment in words, before it is kept."""
    stops = found.stops
    before, after = found.paid_ahead
    lines: list[Line | str] = [
        f"{amount(found.payment.amount)} leave on {found.payment.date.isoformat()}"
    ]
    if stops.left is not None:
        lines.append(
            f"{amount(stops.left)} may be paid; {amount(max(stops.left - found.payment.amount, 0))}"
            " is left after it"
        )
    lines.append(
        Line(
            f"{ahead_words(before)} before, {ahead_words(after)} after", "warn" if after > 0 else ""
        )
    )
    stopping: list[Line | str] = [
        Line(f"! {in_words(gate.gate, gate.reason)}", "warn") for gate in stops.closed
    ]
    if stops.above:
        stopping.append(
            Line(
                f"! {amount(stops.above)} more than may be paid: it would stand as paid ahead",
                "warn",
            )
        )
    if stopping and not found.overrides:
        stopping.append(
            Line(
                "It can't be kept so: open the gate, pay less, or go back and give a reason to set"
                " it aside.",
                "strong",
            )
        )
    aside = [f"· {one.what}: {one.reason}" for one in found.overrides]
    return [
        Section("What it does", lines),
        Section("What stops it", stopping),
        Section("Set aside with your reason, printed wherever it matters", aside),
        Section("See to it", [f"· {note}" for note in found.notes]),
    ]


def ahead_words(cents: int) -> str:
    """Paid ahead, or still owed."""
    return (
        f"paid ahead by {dollars(cents)}"
        if cents > 0
        else f"still owed {dollars(-cents)}"
        if cents
        else "paid as earned"
    )


class Releasing(Entering):
    """Retainage is let go."""

    HELP = (
        "What was held back becomes payable, over the lines by what they hold, or of one line. The"
        " reason is kept and printed: usually that the work is accepted. Ctrl S tells what comes"
        " free and what should be there before."
    )

    def __init__(self, desk: OpenProject, contract: str, who: str, held: int) -> None:
        """held: what the contract holds back today, cents."""
        super().__init__(desk)
        self.contract, self.who, self.held = contract, who, held

    def heading(self) -> str:
        """Whose, and how much there is."""
        return f"Release retainage of {self.contract} {self.who}: {amount(self.held)} is held back"

    def cautions(self) -> Sequence[str]:
        """Once paid, it secures nothing."""
        return (
            (
                "What is released no longer secures unfinished work. Ask the lender; lien law"
                " differs: an attorney."
            ),
        )

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """How much, when, of which line, why."""
        lines = tuple(
            line.line for line in rows.get("contract_lines", ()) if line.contract == self.contract
        )
        return (
            Ask("amount", Cents(), "dollars", plain_dollars(self.held), True),
            Ask("date", Day(), start=self.desk.today.isoformat(), needed=True),
            Ask("line", OneOf(lines), "one line of the contract; blank: all, by what they hold"),
            Ask("reason", Text(), "what was accepted, and by whom", needed=True),
        )

    def tried(self, values: Values) -> Any:
        """What would come free."""
        return self._do(values, only_try=True)

    def _do(self, values: Values, only_try: bool = False) -> Any:
        from tracker.actions.release_retainage import ReleaseEntry, release_retainage

        return release_retainage(
            self.desk.project,
            ReleaseEntry(
                self.contract,
                values["amount"],
                values["date"],
                values["reason"],
                line=values["line"] or "",
            ),
            self.desk.today,
            only_try=only_try,
        )

    def told(self, found: Any) -> Sequence[Section]:
        """By line what comes free; what may be paid; what should be there."""
        lines: list[Line | str] = [
            f"held back {amount(found.held[0])} before, {amount(found.held[1])} after"
        ]
        lines += [f"{amount(cents):>14}  {line}" for line, cents in found.lines.items()]
        lines.append(
            Line(
                f"{amount(found.payable[1])} may be paid on the contract,"
                f" {amount(found.payable[0])} before",
                "strong",
            )
        )
        return [
            Section("What it does", lines),
            Section("Look at", [f"· {note}" for note in found.notes]),
        ]

    def choices(self, found: Any) -> Sequence[Choice]:
        """One way."""
        return (Choice("k", "release it", "keep"),)

    def keep(self, values: Values, choice: str) -> Any:
        """Release it."""
        return self._do(values)

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """What came free."""
        words = (
            f"{amount(result.event.amount)} of {self.contract} is released and on Friday's list. u"
            " takes it back."
        )
        return words, result.notes[:1]
