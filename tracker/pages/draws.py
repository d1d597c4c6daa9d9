"""The page of Draws: Friday's payments, cash by week, pay applications, waivers that are missing,
draws and the loan, who is paid ahead and until when a lien can come.
"""

from __future__ import annotations

from collections.abc import Sequence

from tracker.answers.draw_rows import (
    DueRow,
    ExposureRow,
    LienClockRow,
    LienRuleRow,
    WaiverRow,
    WeekRow,
)
from tracker.answers.draws import DrawsAnswer
from tracker.pages import applications, loan
from tracker.pages.cells import NOTHING, amount, day
from tracker.pages.marks import ASKS, BLOCKS, FINE
from tracker.pages.page import (
    CODE,
    DAY,
    MONEY,
    NOT_ON_PAPER,
    ON_SCREEN,
    ROOM,
    Column,
    Line,
    Page,
    Part,
    Piece,
    Row,
    Section,
    cells_of,
    hint,
    plain_rows,
    told,
)

TABLE_OF_DUE = {"application": "applications", "release": "applications", "invoice": "invoices"}
"""The table of a payment's row by its kind."""

PAYMENTS = (
    Column("payee", "payee", most=24),
    Column("cents", "amount", MONEY),
    Column("friday", "pay on", DAY, most=15),
    Column("what", "for", most=18),
    Column("stops", "what stops it", most=60),
)
WEEKS = (
    Column("friday", "Friday", DAY, most=15),
    Column("due", "due", MONEY),
    Column("draws", "draws", MONEY),
    Column("cash", "cash after", MONEY),
    Column("short", "short", ROOM),
)
WAIVERS = (
    Column("key", "for", CODE, most=10),
    Column("who", "from", most=26),
    Column("kind", "kind", most=24),
    Column("amount", "amount", MONEY),
    Column("through", "through", DAY, most=15),
    Column("reason", "why", most=60),
)
AHEAD = (
    Column("contractor", "contractor", most=24, grow=True),
    Column("paid", "paid", MONEY),
    Column("earned", "earned", MONEY),
    Column("held", "held back", MONEY),
    Column("ahead", "paid ahead", MONEY),
    Column("until", "lien until", DAY, most=15),
)
OVERPAID = (
    Column("what", "for", CODE),
    Column("paid", "paid", MONEY),
    Column("payable", "payable", MONEY),
    Column("above", "above", MONEY),
    Column("reason", "reason"),
)
LIENS = (
    Column("contractor", "contractor", CODE),
    Column("last_day", "last on site", DAY),
    Column("until", "lien until", DAY),
    Column("notices", "sent a notice"),
)


def page(answer: DrawsAnswer) -> Page:
    """Whom to pay, and whether the lender funds it, on screen and as text."""
    return Page(
        "draws",
        (headline(answer),),
        (
            payments(answer),
            weeks(answer),
            applications.listed(answer.applications),
            waivers(answer),
            *loan.draws(answer),
            loan.next_draw(answer),
            loan.balance(answer),
            paid_ahead(answer),
        ),
    )


def headline(answer: DrawsAnswer) -> str:
    """In balance or short by how much; the first Friday on which cash is short."""
    said = "In balance"
    if not answer.in_balance:
        said = f"Short by {amount(answer.short_cents)}: lenders usually ask for it before funding"
    if answer.balance_not_known:
        said = f"Balance not known: {answer.balance_not_known}"
    if not answer.sources:
        said = "No source of money entered yet: t, then sources"
    short = next((week for week in answer.weeks if week.short_cents), None)
    cash = " · cash lasts through the weeks shown"
    if short:
        cash = f" · cash {amount(short.short_cents)} short on {day(short.friday)}"
    elif not any(week.due_cents for week in answer.weeks):
        cash = " · no bill and no pay application is due in the weeks shown"
    if not answer.cash_is_entered:
        cash = " · cash not known: cash on hand is not entered"
    return said + (cash if answer.weeks or not answer.cash_is_entered else "")


def payments(answer: DrawsAnswer) -> Part:
    """What is due, Friday by Friday, with what stops it."""
    rows = tuple(payment_row(one) for one in answer.payments_due)
    return Part(
        "payments",
        "Friday's payments",
        PAYMENTS,
        rows,
        count=str(len(rows)),
        marked=True,
        table="invoices",
        preset={"date": "today"},
        on=NOT_ON_PAPER,
    )


def payment_row(one: DueRow) -> Row:
    """One payment; a closed gate blocks it."""
    stops = Piece("; ".join(one.closed), "strong") if one.closed else Piece("nothing", "muted")
    return Row(
        cells_of(one, PAYMENTS, what=for_what(one), stops=stops),
        TABLE_OF_DUE.get(one.kind, ""),
        one.key,
        mark=BLOCKS if one.closed else FINE,
        about=lambda: payment_about(one),
    )


def payment_about(one: DueRow) -> list[Section | Part]:
    """Payee, joint check, waiver in exchange, what is closed."""
    due = f"due {day(one.due)}, to be paid on {day(one.friday)}: {amount(one.cents)}"
    lines: list[Line | str] = [f"check to: {one.payee}", due]
    if one.jointly:
        names = ", ".join(one.jointly)
        lines.append(Line(f"jointly with: {names} (sent a notice to owner)", "warn"))
    if one.in_exchange:
        lines.append(f"collect in exchange: {one.in_exchange}")
    found: list[Section | Part] = [Section(for_what(one), lines)]
    if one.release:
        found.append(applications.gates(one.release, one.gates))
    else:
        lines += [Line(f"{BLOCKS} stopped: {words}", "warn") for words in one.closed]
    return [*found, hint("p pays it; what stops it can be set aside only with a reason.")]


def for_what(one: DueRow) -> str:
    """What a payment is for."""
    if one.release:
        return f"release {one.release}, {one.key.partition('/')[0]}"
    return f"{one.kind} {one.key}"


def weeks(answer: DrawsAnswer) -> Part:
    """Cash on the next Fridays."""
    known = answer.cash_is_entered
    return Part(
        "weeks",
        "cash by week",
        WEEKS,
        tuple(week_row(answer, week) for week in answer.weeks),
        note=(
            "Cash on hand is not entered: what is left on a Friday is not known."
            if answer.weeks and not known
            else ""
        ),
        empty="Nothing is entered yet that comes or goes.",
        marked=True,
        offers=(),
        on=NOT_ON_PAPER,
    )


def week_row(answer: DrawsAnswer, week: WeekRow) -> Row:
    """One Friday; who is paid on it stands below."""
    known = answer.cash_is_entered
    short = week.short_cents if known else 0
    due = [one for one in answer.payments_due if one.friday == week.friday]
    paid = Part(
        "due",
        f"to pay on {day(week.friday)}",
        (Column("cents", "", MONEY), Column("payee", "", CODE), Column("what", "")),
        plain_rows((one.cents, one.payee, for_what(one)) for one in due),
        empty="Nothing is due.",
    )
    cells = cells_of(
        week,
        WEEKS,
        cash=week.cash_cents if known else None,
        short=Piece(-short, "strong") if short else None,
    )
    return Row(cells, "", week.friday.isoformat(), mark=BLOCKS if short else FINE, about=told(paid))


def waivers(answer: DrawsAnswer) -> Part:
    """Waivers that are missing: for what, from whom, for how much."""
    rows = []
    for one in answer.waivers_missing:
        key, who = f"{one.contract}/{one.application}", one.from_party or one.contractor
        about = told(Section(f"{key}: {one.kind} of {who}", [one.reason]))
        cells, at = cells_of(one, WAIVERS, key=key, who=who), f"{one.kind} {one.from_party}"
        rows.append(Row(cells, "applications", key, at, ASKS, about))
    return Part(
        "waivers",
        "waivers missing",
        WAIVERS,
        tuple(rows),
        count=str(len(rows)),
        marked=True,
        table="waivers",
        offers=("open", "add"),
        about=(hint("w puts a waiver on record that came in."), cautions(answer)),
        on=NOT_ON_PAPER,
    )


def cautions(answer: DrawsAnswer) -> Section:
    """The cautions of Draws, below a list; text has them at its foot."""
    return Section("Caution", list(answer.cautions), ON_SCREEN)


def paid_ahead(answer: DrawsAnswer) -> Part:
    """Paid against earned per contractor, and until when a lien can come."""
    clocks = {one.contractor: one for one in answer.lien_clocks}
    return Part(
        "ahead",
        "paid ahead, liens",
        AHEAD,
        tuple(
            ahead_row(one, clocks.get(one.contractor), answer.waivers_missing)
            for one in answer.exposure
        ),
        frozen=1,
        offers=("open",),
        about=(overpaid(answer), liens(answer), cautions(answer)),
        on=NOT_ON_PAPER,
    )


def ahead_row(one: ExposureRow, clock: LienClockRow | None, missing: Sequence[WaiverRow]) -> Row:
    """One contractor. clock: until when a lien can come; missing: all waivers that are."""
    ahead = one.paid_ahead_cents
    cells = cells_of(
        one,
        AHEAD,
        ahead=Piece(ahead, "strong") if ahead > 0 else None,
        until=NOTHING if clock is None else clock.until or "not known",
    )
    own = [waiver for waiver in missing if waiver.contractor == one.contractor]
    sections = [*clock_about(clock), Section("Waivers missing", [waiver_line(w) for w in own])]
    return Row(cells, "contractors", one.contractor, about=told(*sections))


def clock_about(clock: LienClockRow | None) -> list[Section]:
    """The lien clock of one contractor."""
    if clock is None:
        return []
    until = "the state's days for a lien are not on record: attorney"
    if clock.until:
        until = f"a lien can come until {day(clock.until)}"
    notices = [f"notice to owner from {name}" for name in clock.notices]
    said = f"last day on site {day(clock.last_day)}: {until}"
    return [Section(clock.contractor, [said, *notices])]


def waiver_line(one: WaiverRow) -> Line:
    """A waiver that a contractor, or somebody behind it, still owes."""
    who, key = one.from_party or one.contractor, f"{one.contract}/{one.application}"
    sum_ = amount(one.amount_cents)
    return Line(f"{ASKS} {key} {one.kind} of {who}, {sum_} through {day(one.through)}", "warn")


def overpaid(answer: DrawsAnswer) -> Part:
    """What was paid above what was payable, with the reason on record."""
    rows = tuple(
        Row(
            cells_of(
                one,
                OVERPAID,
                what=f"{one.kind} {one.key}",
                reason=one.reason or Piece("no reason on record", "warn"),
            ),
            mark=FINE if one.reason else BLOCKS,
        )
        for one in answer.overpaid
    )
    return Part("overpaid", "paid above what was payable", OVERPAID, rows, marked=True)


def liens(answer: DrawsAnswer) -> Part:
    """Until when a lien can come from each who was on site, by the state's days on record."""
    rows = plain_rows(
        cells_of(one, LIENS, until=one.until or "not known", notices=", ".join(one.notices))
        for one in answer.lien_clocks
    )
    note = f"The state's days for a lien: {lien_rule_words(answer.lien_rule)}"
    return Part("liens", "until when a lien can come", LIENS, rows, note=note)


def lien_rule_words(rule: LienRuleRow | None) -> str:
    """On what the dates rest."""
    if rule is None:
        return (
            "not on record: ask an attorney, then enter the answer lien_days (4 Rezoning, t,"
            " answers)."
        )
    checked = "nobody said when that was checked"
    if rule.checked_on:
        checked = f"checked on {day(rule.checked_on)}"
    source = rule.source or "no source given"
    return f"{rule.days} days after the last work: {source}, {checked}. Ask an attorney."
