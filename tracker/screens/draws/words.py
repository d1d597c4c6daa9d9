"""The words and rows of Draws on what is paid: Friday's list, cash by week, applications, who is
paid ahead.
"""

from __future__ import annotations

from typing import Any

from tracker.money.gates import in_words
from tracker.pages.cells import day
from tracker.screens.entry.money_words import NOTHING, amount
from tracker.screens.entry.typed_text import percent
from tracker.screens.table.marks import ASKS, BLOCKS, DONE, FINE, tone_of
from tracker.screens.table.parts_view import Part, PartRow
from tracker.screens.table.rows_table import Cell, Col, Piece
from tracker.screens.table.sections import Line, Section

TABLE_OF_DUE = {"application": "applications", "release": "applications", "invoice": "invoices"}
"""The table of a payment's row by its kind."""


def headline(answer: Any) -> str:
    """In balance or short by how much; the first Friday on which cash is short."""
    said = (
        "In balance"
        if answer.in_balance
        else f"Short by {amount(answer.short_cents)}: lenders usually ask for it before funding"
    )
    if answer.balance_not_known:
        said = f"Balance not known: {answer.balance_not_known}"
    if not answer.sources:
        said = "No source of money entered yet: t, then sources"
    short = next((week for week in answer.weeks if week.short_cents), None)
    cash = (
        f" · cash {amount(short.short_cents)} short on {day(short.friday)}"
        if short
        else " · cash lasts through the weeks shown"
    )
    if not short and not any(week.due_cents for week in answer.weeks):
        cash = " · no bill and no pay application is due in the weeks shown"
    if not answer.cash_is_entered:
        cash = " · cash not known: cash on hand is not entered"
    return said + (cash if answer.weeks or not answer.cash_is_entered else "")


def payments_part(answer: Any, wide: bool) -> Part:
    """What is due, Friday by Friday, with what stops it."""
    columns = [
        Col("", width=1),
        Col("payee", most=28 if wide else 20),
        Col("amount", right=True),
        Col("pay on", most=15),
    ]
    columns += [Col("for", most=18), Col("what stops it", most=60)]
    rows = [payment_row(one) for one in answer.payments_due]
    preset = {"date": "today"}
    return Part(
        "payments",
        "Friday's payments",
        "invoices",
        columns,
        rows,
        str(len(rows)),
        frozen=2,
        preset=preset,
    )


def payment_row(one: Any) -> PartRow:
    """One payment; a closed gate blocks it."""
    mark = BLOCKS if one.closed else FINE
    table = TABLE_OF_DUE.get(one.kind, "")
    stops = "; ".join(one.closed) if one.closed else "nothing"
    cells: list[Cell] = [
        Piece(mark, tone_of(mark)),
        one.payee,
        amount(one.cents),
        day(one.friday),
        for_what(one),
        Piece(stops, "strong" if one.closed else "muted"),
    ]
    return PartRow(table, one.key, cells, lambda: payment_about(one))


def payment_about(one: Any) -> list[Section]:
    """Payee, joint check, waiver in exchange, what is closed."""
    due = f"due {day(one.due)}, to be paid on {day(one.friday)}: {amount(one.cents)}"
    lines: list[Line | str] = [f"check to: {one.payee}", due]
    if one.jointly:
        lines.append(
            Line(f"jointly with: {', '.join(one.jointly)} (sent a notice to owner)", "warn")
        )
    if one.in_exchange:
        lines.append(f"collect in exchange: {one.in_exchange}")
    if one.release:
        lines.extend(gate_line(gate) for gate in one.gates)
    else:
        lines.extend(Line(f"! stopped: {words}", "warn") for words in one.closed)
    lines.append(Line("p pays it; what stops it can be set aside only with a reason.", "muted"))
    return [Section(for_what(one), lines)]


def for_what(one: Any) -> str:
    """What a payment is for."""
    return (
        f"release {one.release}, {one.key.partition('/')[0]}"
        if one.release
        else f"{one.kind} {one.key}"
    )


def weeks_part(answer: Any) -> Part:
    """Cash on the next Fridays."""
    columns = [
        Col("", width=1),
        Col("Friday", most=15),
        Col("due", right=True),
        Col("draws", right=True),
        Col("cash after", right=True),
        Col("short", right=True),
    ]
    rows = []
    known = answer.cash_is_entered
    for week in answer.weeks:
        is_short = known and week.short_cents
        mark = BLOCKS if is_short else FINE
        short = Piece(f"-{amount(week.short_cents)} short", "strong") if is_short else NOTHING
        cells: list[Cell] = [
            Piece(mark, tone_of(mark)),
            day(week.friday),
            amount(week.due_cents),
            amount(week.draws_cents),
            amount(week.cash_cents if known else None),
            short,
        ]
        friday = week.friday
        due = [one for one in answer.payments_due if one.friday == friday]
        rows.append(
            PartRow(
                "",
                friday.isoformat(),
                cells,
                lambda due=due, friday=friday: week_about(friday, due),  # type: ignore[misc]
            )
        )
    return Part("weeks", "cash by week", "", columns, rows, offers=())


def week_about(friday: Any, due: list[Any]) -> list[Section]:
    """Who is paid on a Friday."""
    lines = [f"{amount(one.cents):>14}  {one.payee} ({for_what(one)})" for one in due] or [
        "nothing is due"
    ]
    return [Section(f"To pay on {day(friday)}", lines)]


def applications_part(answer: Any, wide: bool) -> Part:
    """Pay applications, those not paid first as a person works on them; then the paid ones."""
    columns = [
        Col("", width=1),
        Col("application", most=26 if wide else 18),
        Col("state", most=8),
        Col("payable", right=True),
        Col("left to pay", right=True),
        Col("closed gates", most=50),
    ]
    todo = [one for one in answer.applications if one.state != "paid"]
    ordered = todo + [one for one in answer.applications if one.state == "paid"]
    rows = [application_row(one) for one in ordered]
    return Part(
        "applications", "pay applications", "applications", columns, rows, f"{len(todo)} open"
    )


def application_row(one: Any) -> PartRow:
    """One application."""
    closed = [gate.gate for gate in one.gates if not gate.open]
    mark = (
        DONE
        if one.state == "paid"
        else ASKS
        if one.state == "entered"
        else BLOCKS
        if closed
        else FINE
    )
    stops = ", ".join(closed) if closed and one.state != "paid" else ""
    key = f"{one.contract}/{one.number}"
    cells: list[Cell] = [
        Piece(mark, tone_of(mark)),
        f"{key} {one.contractor}",
        one.state,
        amount(one.payable_cents),
        amount(one.left_to_pay_cents),
        stops,
    ]
    return PartRow("applications", key, cells, lambda: application_about(one))


def application_about(one: Any) -> list[Section]:
    """Gates, money in three groups, lines."""
    gates: list[Line | str] = [gate_line(gate) for gate in one.gates]
    money = [
        (
            f"The contract: as signed {amount(one.as_signed_cents)}, approved changes"
            f" {amount(one.changes_cents)}, now {amount(one.contract_now_cents)}"
        ),
        (
            f"The work: in place to date {amount(one.in_place_cents)}, stored"
            f" {amount(one.stored_cents)}, earned {amount(one.earned_cents)}"
        ),
        (
            f"The money: held back {amount(one.retainage_cents)}, approved before"
            f" {amount(one.approved_before_cents)}, due now {amount(one.due_cents)}, payable"
            f" {amount(one.payable_cents)}"
        ),
        (
            f"paid before {amount(one.paid_before_cents)}, still to pay on this contract"
            f" {amount(one.still_to_pay_cents)}"
        ),
    ]
    head = f"{'claimed':>13} {'verified':>13} {'stored':>13} {'seen':>7}  line"
    lines: list[Line | str] = [
        Line(head, "muted"),
        *(line_words(line) for line in one.lines if line_is_billed(line)),
    ]
    title = f"{one.contract}/{one.number} through {day(one.period_to)}: gates to payment"
    return [
        Section(title, gates),
        Section("Money", money),
        Section("Lines of this period", lines if len(lines) > 1 else []),
    ]


def gate_line(gate: Any) -> Line:
    """A gate to payment, open, closed or set aside, with its reason."""
    state = "set aside" if gate.overridden else "open" if gate.open else "closed"
    return Line(
        f"{' ' if gate.open else '!'} {state:<9} {in_words(gate.gate, gate.reason)}",
        "" if gate.open else "warn",
    )


def line_is_billed(line: Any) -> bool:
    """Whether an application says something of a line."""
    return any(
        (
            line.claimed_cents is not None,
            line.verified_cents,
            line.stored_cents,
            line.above_inspector_cents,
        )
    )


def line_words(line: Any) -> Line | str:
    """Claimed, verified, stored, and what the lender's inspector saw of it."""
    seen = NOTHING if line.inspector_bp is None else percent(line.inspector_bp)
    words = (
        f"{amount(line.claimed_cents):>13} {amount(line.verified_cents):>13}"
        f" {amount(line.stored_cents):>13} {seen:>7}"
    )
    words += f"  {line.line} {line.name}"
    if not line.above_inspector_cents:
        return words
    return Line(
        f"{words}; ! {amount(line.above_inspector_cents)} above what the lender's inspector saw",
        "warn",
    )


def waivers_part(answer: Any) -> Part:
    """Waivers that are missing: for what, from whom, for how much."""
    columns = [
        Col("", width=1),
        Col("for", most=10),
        Col("from", most=26),
        Col("kind", most=24),
        Col("amount", right=True),
    ]
    columns += [Col("through", most=15), Col("why", most=60)]
    rows = []
    for one in answer.waivers_missing:
        cells: list[Cell] = [
            Piece(ASKS, tone_of(ASKS)),
            f"{one.contract}/{one.application}",
            one.from_party or one.contractor,
            one.kind,
            amount(one.amount_cents),
            day(one.through),
            one.reason,
        ]
        key = f"{one.contract}/{one.application}"
        about_it = [
            Section(f"{key}: {one.kind} of {one.from_party or one.contractor}", [one.reason])
        ]
        rows.append(
            PartRow(
                "applications",
                key,
                cells,
                lambda about_it=about_it: about_it,  # type: ignore[misc]
                f"{one.kind} {one.from_party}",
            )
        )
    about = [
        Section("", [Line("w puts a waiver on record that came in.", "muted")]),
        Section("Caution", list(answer.cautions)),
    ]
    return Part(
        "waivers",
        "waivers missing",
        "waivers",
        columns,
        rows,
        str(len(rows)),
        frozen=2,
        about=about,
        offers=("open", "add"),
    )


def ahead_part(answer: Any) -> Part:
    """Paid against earned per contractor, and until when a lien can come."""
    columns = [
        Col("contractor", most=24, grow=True),
        Col("paid", right=True),
        Col("earned", right=True),
    ]
    columns += [
        Col("held back", right=True),
        Col("paid ahead", right=True),
        Col("lien until", most=15),
    ]
    clocks = {one.contractor: one for one in answer.lien_clocks}
    rows = []
    for one in answer.exposure:
        clock = clocks.get(one.contractor)
        ahead = amount(one.paid_ahead_cents) if one.paid_ahead_cents > 0 else NOTHING
        until = NOTHING if clock is None else day(clock.until) if clock.until else "not known"
        cells: list[Cell] = [
            one.contractor,
            amount(one.paid_cents),
            amount(one.earned_cents),
            amount(one.held_cents),
            Piece(ahead, "strong" if one.paid_ahead_cents > 0 else ""),
            until,
        ]
        missing = [
            waiver for waiver in answer.waivers_missing if waiver.contractor == one.contractor
        ]
        about_it = [*clock_about(clock), *missing_about(missing)]
        rows.append(
            PartRow("contractors", one.contractor, cells, lambda about_it=about_it: about_it)  # type: ignore[misc]
        )
    about = [
        Section("Paid above what was payable", [overpaid_line(one) for one in answer.overpaid]),
        Section("The state's days for a lien", [lien_rule_words(answer.lien_rule)]),
        Section("Caution", list(answer.cautions)),
    ]
    return Part(
        "ahead", "paid ahead, liens", "", columns, rows, frozen=1, about=about, offers=("open",)
    )


def overpaid_line(one: Any) -> Line:
    """What was paid above what was payable on an application or a bill, and the reason on
    record.
    """
    said = f"reason: {one.reason}" if one.reason else "no reason on record"
    words = (
        f"{one.kind} {one.key}: paid {amount(one.paid_cents)}, payable {amount(one.payable_cents)};"
        f" {said}"
    )
    return Line(f"{' ' if one.reason else '!'} {words}", "" if one.reason else "warn")


def lien_rule_words(rule: Any) -> str:
    """On what the dates rest."""
    if rule is None:
        return (
            "not on record: ask an attorney, then enter the answer lien_days (4 Rezoning, t,"
            " answers)"
        )
    checked = (
        f"checked on {day(rule.checked_on)}"
        if rule.checked_on
        else "nobody said when that was checked"
    )
    return f"{rule.days} days after the last work: {rule.source or 'no source given'}, {checked}"


def clock_about(clock: Any) -> list[Section]:
    """The lien clock of one contractor."""
    if clock is None:
        return []
    until = (
        f"a lien can come until {day(clock.until)}"
        if clock.until
        else "the state's days for a lien are not on record: attorney"
    )
    notices = [f"notice to owner from {name}" for name in clock.notices]
    return [
        Section(clock.contractor, [f"last day on site {day(clock.last_day)}: {until}", *notices])
    ]


def missing_about(waivers: list[Any]) -> list[Section]:
    """The waivers that one contractor and those behind it still owe."""
    lines: list[Line | str] = [
        Line(
            f"? {one.contract}/{one.application} {one.kind} of {one.from_party or one.contractor}, "
            f"{amount(one.amount_cents)} through {day(one.through)}",
            "warn",
        )
        for one in waivers
    ]
    return [Section("Waivers missing", lines)]
