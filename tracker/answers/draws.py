"""Draws: whom may I pay, and will the lender fund it?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, fields

from tracker.answers.draw_rows import (
    AskRow,
    BalanceParts,
    ClaimableRow,
    DrawColumns,
    DrawRow,
    DrawState,
    DueRow,
    ExposureRow,
    InterestRow,
    KeptRow,
    LienClockRow,
    LienRuleRow,
    OverpaidRow,
    PaperRow,
    PayApplication,
    PayGate,
    PayLine,
    SourceRow,
    WaiverRow,
    WeekRow,
)
from tracker.money import draw_package, draw_sheet, loan_interest, weeks
from tracker.money.applications import Account, ApplicationState, LineState
from tracker.money.balance import Balance, balance
from tracker.money.books import Books
from tracker.money.claimable import Claimable
from tracker.money.committed import without_schedule
from tracker.money.drawn import by_cost_line, by_source, state_on
from tracker.money.exposure import Exposure, exposure
from tracker.money.gates import Gate
from tracker.money.inspector import above_inspector
from tracker.money.lien_clock import CAUTION as LIEN_CAUTION
from tracker.money.lien_clock import lien_clocks, lien_rule
from tracker.money.missing_waivers import missing_waivers
from tracker.money.overpaid import overpaid
from tracker.money.sources import Sources
from tracker.money.standing import Standing, standing
from tracker.project_file.store import ProjectFile
from tracker.tables.books import books_of
from tracker.values.money import divide
from tracker.values.records import Rows
from tracker.values.remembered import remembered

CAUTION = draw_package.CAUTION
CASH_TABLES = ("applications", "invoices", "payments", "draws")
"""Without a row in any of these, nothing is known to come or go."""


@dataclass(frozen=True, slots=True)
class DrawsAnswer:
    """Who may be paid, what may be asked of whom, and whether the money is enough.

    weeks: none where nothing is entered. balance_not_known: why in_balance says nothing, "" where
    it does. cash_is_entered: else the cash of the weeks begins at 0.
    """

    sources: tuple[SourceRow, ...]
    floated_cents: int
    claimable: tuple[ClaimableRow, ...]
    interest: tuple[InterestRow, ...]
    interest_running: tuple[InterestRow, ...]
    expected_interest_cents: int
    draws: tuple[DrawState, ...]
    next_draw: tuple[AskRow, ...]
    kept_out: tuple[KeptRow, ...]
    in_balance: bool
    short_cents: int
    balance_not_known: str
    balance: BalanceParts
    applications: tuple[PayApplication, ...]
    exposure: tuple[ExposureRow, ...]
    overpaid: tuple[OverpaidRow, ...]
    weeks: tuple[WeekRow, ...]
    cash_is_entered: bool
    payments_due: tuple[DueRow, ...]
    reserve_left_cents: int | None
    reserve_months: int | None
    reserve_runs_out: dt.date | None
    forecast_opening: dt.date | None
    lien_clocks: tuple[LienClockRow, ...]
    lien_rule: LienRuleRow | None
    waivers_missing: tuple[WaiverRow, ...]
    cautions: tuple[str, ...]


def answer(project: ProjectFile, today: dt.date) -> DrawsAnswer:
    """The answer for a project file on a day."""
    return from_rows(project.tables(), today)


def forecast_opening(rows: Rows) -> dt.date | None:
    """The opening as the schedule has it; None without activities."""
    from tracker.answers.known_plan import plan_of

    return plan_of(rows).opening if rows.get("activities") else None


def from_rows(rows: Rows, today: dt.date, opening: dt.date | None = None) -> DrawsAnswer:
    """The answer from a project's rows. opening: the forecast opening if it is known already, else
    it is computed.
    """
    return from_books(books_of(rows, today), opening or forecast_opening(rows))


@remembered(keep=2)
def from_books(books: Books, opening: dt.date | None) -> DrawsAnswer:
    """The answer from the books of a day."""
    known = standing(books)
    funds, claims = known.funds(), known.claims()
    asks, kept = known.asks(claims, funds)
    loans = [s for s in books.table("sources") if s.rate]
    expected = sum(loan_interest.expected(books, s, known.drawn, opening) for s in loans)
    test = balance(funds, known.lines, expected, without_schedule(books))
    due = weeks.due_list(books, known.accounts, known.gates, known.paid)
    reserve = reserve_of(known)
    return DrawsAnswer(
        sources=source_rows(funds),
        floated_cents=funds.floated,
        claimable=tuple(claimable_row(claim, funds) for claim in claims),
        interest=tuple(
            InterestRow(m.source, f"{m.month:%Y-%m}", m.amount)
            for s in loans
            for m in loan_interest.posted(books, s, known.drawn)
        ),
        interest_running=tuple(
            InterestRow(
                s.code, f"{books.today:%Y-%m}", loan_interest.running(books, s, known.drawn)
            )
            for s in loans
        ),
        expected_interest_cents=expected,
        draws=draw_states(known),
        next_draw=tuple(AskRow(a.source, a.cost_line, a.amount) for a in asks),
        kept_out=tuple(KeptRow(k.cost_line, k.amount, k.reason) for k in kept),
        in_balance=test.in_balance,
        short_cents=test.short,
        balance_not_known=test.not_known,
        balance=balance_parts(test),
        applications=application_rows(known),
        exposure=tuple(exposure_row(one) for one in exposure(books, known.accounts)),
        overpaid=tuple(
            OverpaidRow(o.key, o.kind, o.paid, o.payable, o.above, o.reason)
            for o in overpaid(books, known.accounts, known.paid)
        ),
        weeks=week_rows(books, due, known),
        cash_is_entered=books.project.cash_on_hand is not None,
        payments_due=tuple(due_row(one) for one in due),
        reserve_left_cents=reserve.left if reserve else None,
        reserve_months=reserve.months_left if reserve else None,
        reserve_runs_out=reserve.runs_out if reserve else None,
        forecast_opening=opening,
        lien_clocks=tuple(
            LienClockRow(c.contractor, c.last_day, c.until, c.notices) for c in lien_clocks(books)
        ),
        waivers_missing=waiver_rows(known),
        lien_rule=lien_rule_row(books),
        cautions=(CAUTION, LIEN_CAUTION),
    )


def week_rows(books: Books, due: Sequence[weeks.Due], known: Standing) -> tuple[WeekRow, ...]:
    """Cash by week; none where nothing is entered that it could come of: no cash, bill, pay
    application, payment or draw.
    """
    if books.project.cash_on_hand is None and not any(books.table(table) for table in CASH_TABLES):
        return ()
    return tuple(
        WeekRow(w.friday, w.due, w.draws, w.cash, w.short)
        for w in weeks.weeks(books, due, known.drawn)
    )


def lien_rule_row(books: Books) -> LienRuleRow | None:
    """The state's days as they are on record."""
    rule = lien_rule(books)
    return LienRuleRow(rule.days, rule.source, rule.checked_on) if rule else None


def source_rows(funds: Sources) -> tuple[SourceRow, ...]:
    """The sources in order of use."""
    return tuple(
        SourceRow(s.code, s.name, s.kind, s.amount, s.drawn, s.used, s.left) for s in funds.states
    )


def claimable_row(claim: Claimable, funds: Sources) -> ClaimableRow:
    """One cost line's claim."""
    return ClaimableRow(
        cost_line=claim.cost_line,
        claimable_cents=claim.claimable,
        became_payable_cents=claim.became_payable,
        lenders_retainage_cents=claim.lenders_retainage,
        drawn_cents=claim.drawn,
        from_equity_cents=draw_sheet.paid_by_equity(claim, funds),
    )


def reserve_of(known: Standing) -> loan_interest.Reserve | None:
    """The reserve of the first source that pays its interest from one; None where there is none."""
    source = next((s for s in known.books.table("sources") if s.rate and s.reserve_line), None)
    if source is None:
        return None
    drawn = by_cost_line(line for line in known.drawn if line.funded_on is not None)
    left = known.budgets.get(source.reserve_line, 0) - drawn.get(source.reserve_line, 0)
    return loan_interest.reserve(known.books, source, known.drawn, left)


def draw_states(known: Standing) -> tuple[DrawState, ...]:
    """Every draw by number, with its lines in the order of the cost lines."""
    names = {line.code: line.name for line in known.lines}
    found = []
    for draw in sorted(known.books.table("draws"), key=lambda d: d.number):
        figures = draw_sheet.sheet(draw.number, known.budgets, known.drawn)
        papers = draw_package.package(known.books, draw, known.accounts, known.gates)
        sums = draw_sheet.total(figures.values())
        found.append(
            DrawState(
                number=draw.number,
                state=state_on(draw, known.books.today),
                period_to=draw.period_to,
                sent=draw.sent,
                funded_on=draw.funded_on,
                lines=tuple(draw_row(code, names[code], one) for code, one in figures.items()),
                total=draw_columns(sums),
                package=tuple(PaperRow(p.what, p.state, p.reason) for p in papers),
                remarks=draw_remarks(known, draw.number, figures, sums),
            )
        )
    return tuple(found)


def draw_row(code: str, name: str, figures: draw_sheet.DrawFigures) -> DrawRow:
    """One line of a draw."""
    return DrawRow(
        cost_line=code,
        name=name,
        **{f"{f.name}_cents": getattr(figures, f.name) for f in fields(figures)},
        share_bp=figures.share_bp,
        above_budget_cents=figures.above_budget,
    )


def draw_columns(figures: draw_sheet.DrawFigures) -> DrawColumns:
    """The columns of the total."""
    return DrawColumns(
        **{f"{f.name}_cents": getattr(figures, f.name) for f in fields(figures)},
        share_bp=figures.share_bp,
    )


def draw_remarks(
    known: Standing,
    number: int,
    figures: Mapping[str, draw_sheet.DrawFigures],
    sums: draw_sheet.DrawFigures,
) -> tuple[str, ...]:
    """What stands against a draw: lines above their budget, less than a source's minimum."""
    found = [
        f"{code} is drawn above its budget now: move budget first, with the reason"
        for code, one in figures.items()
        if one.above_budget and one.this_draw
    ]
    drawn = by_source(line for line in known.drawn if line.draw == number)
    for source in known.books.table("sources"):
        asked = drawn.get(source.code, 0)
        if source.minimum_draw and 0 < asked < source.minimum_draw:
            found.append(f"{source.name or source.code} pays no draw under its minimum")
    if not sums.this_draw:
        found.append("nothing is asked")
    return tuple(found)


def application_rows(known: Standing) -> tuple[PayApplication, ...]:
    """Every application in row order."""
    found = []
    for row in known.books.table("applications"):
        account = known.accounts.get(row.contract)
        state = account.state(row.number) if account else None
        if account is not None and state is not None:
            found.append(application_row(known, account, state))
    return tuple(found)


def application_row(known: Standing, account: Account, state: ApplicationState) -> PayApplication:
    """One application with lines and gates."""
    key = state.contract, state.number
    before = known.paid.before(state.contract, state.number, state.period_to)
    on_it = known.paid.on_application(*key)
    return PayApplication(
        contract=state.contract,
        contractor=account.contract.contractor,
        number=state.number,
        period_to=state.period_to,
        state=known.states[key],
        as_signed_cents=state.as_signed,
        changes_cents=state.changes,
        contract_now_cents=state.contract_now,
        in_place_cents=state.in_place,
        stored_cents=state.stored,
        earned_cents=state.earned,
        retainage_cents=state.held,
        approved_before_cents=state.approved_before,
        due_cents=state.due,
        payable_cents=state.payable,
        paid_before_cents=sum(before.values()),
        paid_cents=on_it,
        left_to_pay_cents=known.owed[state.contract].applications.get(
            state.number, max(state.payable - on_it, 0)
        ),
        still_to_pay_cents=state.contract_now - state.approved_before - state.due,
        lines=tuple(
            pay_line(known.books, key, line, before.get(line.line, 0)) for line in state.lines
        ),
        gates=pay_gates(known.gates[key]),
    )


def pay_gates(gates: Iterable[Gate]) -> tuple[PayGate, ...]:
    """The requirements of a payment, met or not."""
    return tuple(PayGate(g.gate, g.open, g.reason, g.overridden) for g in gates)


def pay_line(books: Books, key: tuple[str, int], line: LineState, paid_before: int) -> PayLine:
    """One line of an application, with what was claimed and what the lender's inspector saw."""
    billed = books.billed.get(key, {}).get(line.line)
    seen = billed.inspector_share if billed is not None else None
    return PayLine(
        line=line.line,
        name=line.name,
        cost_line=line.cost_line,
        value_cents=line.value,
        claimed_cents=billed.claimed if billed is not None else None,
        verified_cents=billed.verified if billed is not None else None,
        in_place_cents=line.in_place,
        stored_cents=line.stored,
        earned_cents=line.earned,
        retainage_cents=line.held,
        approved_before_cents=line.approved_before,
        due_cents=line.due,
        payable_cents=line.payable,
        paid_before_cents=paid_before,
        inspector_bp=None if seen is None else divide(seen, 10),
        above_inspector_cents=above_inspector(line.in_place, line.value, seen),
    )


def waiver_rows(known: Standing) -> tuple[WaiverRow, ...]:
    """The waivers that are missing."""
    return tuple(
        WaiverRow(
            w.contract,
            w.application,
            w.contractor,
            w.from_party,
            w.kind,
            w.amount,
            w.through,
            w.gate,
            w.reason,
        )
        for w in missing_waivers(known)
    )


def exposure_row(one: Exposure) -> ExposureRow:
    """One contractor."""
    return ExposureRow(one.contractor, one.paid, one.earned, one.held, one.paid_ahead)


def due_row(one: weeks.Due) -> DueRow:
    """One payment to make."""
    return DueRow(
        one.friday,
        one.due,
        one.payee,
        one.kind,
        one.key,
        one.amount,
        one.closed,
        one.in_exchange,
        one.jointly,
        one.release,
        pay_gates(one.gates),
    )


def balance_parts(test: Balance) -> BalanceParts:
    """The parts of the test of balance."""
    return BalanceParts(
        not_yet_drawn_cents=test.not_yet_drawn,
        not_yet_paid_out_cents=test.not_yet_paid_out,
        still_to_pay_cents=test.still_to_pay,
        interest_beyond_cents=test.interest_beyond,
    )
