"""A payment from Friday's list, or a deposit: what stops it is told before, and set aside only with
a reason. Retainage is let go.
"""

from __future__ import annotations

from collections.abc import Sequence

from tracker.actions.pay import PaymentEntry, Payout, pay
from tracker.actions.release_retainage import Released, ReleaseEntry, release_retainage
from tracker.money.gates import in_words
from tracker.screens.draws.to_pay import ToPay
from tracker.screens.entry.declared import Entry, EntryField, Given, Opened
from tracker.screens.entry.money_words import amount
from tracker.screens.entry.preview_dialog import Choice, Choices, look_at
from tracker.screens.table.sections import Line, Section
from tracker.values.kinds import Cents, Day, Text
from tracker.values.kinds import Choice as OneOf
from tracker.values.money import dollars

WAIVERS = (
    "Paying without a waiver can mean paying twice; a joint check names who sent a notice to"
    " owner. Ask an attorney."
)


def paying(due: ToPay) -> Entry[Payout]:
    """One payment."""

    def fields(opened: Opened) -> Sequence[EntryField]:
        set_aside = "only to set aside what stops it: who decided, and why"
        reason = EntryField("reason", Text(), set_aside)
        return (
            EntryField("amount", Cents(), "dollars", due.cents, True),
            EntryField("date", Day(), "the day on which the money leaves", opened.today, True),
            EntryField("method", Text(), "check, transfer ..."),
            EntryField("note", Text(), "check number, what was said"),
            *(() if due.kind == "deposit" else (reason,)),
        )

    def act(given: Given) -> Payout:
        entry = PaymentEntry(
            due.kind,
            due.key,
            given["amount"],
            given["date"],
            method=given["method"],
            note=given["note"],
            reason=given.values.get("reason", ""),
        )
        return pay(given.project, entry, given.today, given.only_try)

    jointly = f"Joint check with {', '.join(due.jointly)}. " if due.jointly else ""
    collect = f"Collect in exchange: {due.in_exchange}." if due.in_exchange else ""
    return Entry(
        title=f"Pay {due.payee} for {due.kind} {due.key}",
        help=(
            "What leaves, on which day and how. More than is payable, or a closed gate to payment,"
            " asks for a reason: it is kept as an override, and printed wherever it matters. Ctrl S"
            " tells what stops the payment and what it does before it is kept."
        ),
        cautions=[line for line in (WAIVERS, (jointly + collect).strip()) if line],
        fields=fields,
        act=act,
        preview=pay_sections,
        keep=ways_to_pay,
        kept=lambda paid: (
            f"{paid.payment.code}: {amount(paid.payment.amount)} to {due.payee}. u takes it back.",
            paid.notes,
        ),
    )


def ways_to_pay(found: Payout) -> Choices:
    """Nothing can be kept while something stops it and no reason is given."""
    if found.stops.set_aside and not found.overrides:
        return ()
    return (Choice("k", "pay, with the override" if found.overrides else "pay", "keep"),)


def pay_sections(found: Payout) -> list[Section]:
    """A payment in words, before it is kept."""
    stops, payment = found.stops, found.payment
    before, after = found.paid_ahead
    lines: list[Line | str] = [f"{amount(payment.amount)} leave on {payment.date}"]
    if stops.left is not None:
        left = max(stops.left - payment.amount, 0)
        lines.append(f"{amount(stops.left)} may be paid; {amount(left)} is left after it")
    ahead = f"{ahead_words(before)} before, {ahead_words(after)} after"
    lines.append(Line(ahead, "warn" if after > 0 else ""))
    stopping = [Line(f"! {in_words(gate.gate, gate.reason)}", "warn") for gate in stops.closed]
    if stops.above:
        more = f"! {amount(stops.above)} more than may be paid: it would stand as paid ahead"
        stopping.append(Line(more, "warn"))
    if stopping and not found.overrides:
        so = "It can't be kept so: open the gate, pay less, or go back and give a reason to set"
        stopping.append(Line(f"{so} it aside.", "strong"))
    aside = [f"· {one.what}: {one.reason}" for one in found.overrides]
    return [
        Section("What it does", lines),
        Section("What stops it", stopping),
        Section("Set aside with your reason, printed wherever it matters", aside),
        look_at(found.notes, "See to it"),
    ]


def ahead_words(cents: int) -> str:
    """Paid ahead, or still owed."""
    if not cents:
        return "paid as earned"
    return f"paid ahead by {dollars(cents)}" if cents > 0 else f"still owed {dollars(-cents)}"


def releasing(contract: str, who: str, held: int) -> Entry[Released]:
    """Retainage is let go. held: what the contract holds back today, cents."""

    def fields(opened: Opened) -> Sequence[EntryField]:
        rows = opened.rows.get("contract_lines", ())
        lines = tuple(line.line for line in rows if line.contract == contract)
        return (
            EntryField("amount", Cents(), "dollars", held, True),
            EntryField("date", Day(), "", opened.today, True),
            EntryField(
                "line", OneOf(lines), "one line of the contract; blank: all, by what they hold"
            ),
            EntryField("reason", Text(), "what was accepted, and by whom", needed=True),
        )

    def act(given: Given) -> Released:
        entry = ReleaseEntry(
            contract, given["amount"], given["date"], given["reason"], line=given["line"]
        )
        return release_retainage(given.project, entry, given.today, given.only_try)

    return Entry(
        title=f"Release retainage of {contract} {who}: {amount(held)} is held back",
        help=(
            "What was held back becomes payable, over the lines by what they hold, or of one line."
            " The reason is kept and printed: usually that the work is accepted. Ctrl S tells what"
            " comes free and what should be there before."
        ),
        cautions=(
            "What is released no longer secures unfinished work. Ask the lender; lien law"
            " differs: an attorney.",
        ),
        fields=fields,
        act=act,
        preview=release_sections,
        keep="release it",
        kept=lambda done: (
            f"{amount(done.event.amount)} of {contract} is released and on Friday's list. u takes"
            " it back.",
            done.notes[:1],
        ),
    )


def release_sections(found: Released) -> list[Section]:
    """By line what comes free; what may be paid; what should be there."""
    (held, still), (before, after) = found.held, found.payable
    may = f"{amount(after)} may be paid on the contract, {amount(before)} before"
    return [
        Section(
            "What it does",
            [
                f"held back {amount(held)} before, {amount(still)} after",
                *(f"{amount(cents):>14}  {line}" for line, cents in found.lines.items()),
                Line(may, "strong"),
            ],
        ),
        look_at(found.notes),
    ]
