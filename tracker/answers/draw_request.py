"""A draw request: what stands in the package that goes to the lender. Amounts in cents.

Order and content of a package: draw processes of a state housing agency, title companies and a
credit union. The owner's sworn statement lists every contract that the owner made; without a
general contractor that is all trades.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from tracker.answers.draw_checks import DrawCheck, Looked, SetAside, checks, set_aside
from tracker.answers.draw_claims import not_agreed, notices_received
from tracker.answers.draw_papers import bills_outside, papers_on_file, stored_goods
from tracker.answers.draw_payees import (
    application_payees,
    checks_to_write,
    invoice_payees,
    is_between,
    names,
    release_payees,
    releases_of,
)
from tracker.answers.draw_request_rows import (
    BillRow,
    ChangeInPeriod,
    CheckRow,
    CutRow,
    InspectionInPeriod,
    MissingWaiver,
    MoveInPeriod,
    NotAgreed,
    NoticeReceived,
    NotInDraw,
    PaperOnFile,
    PayeeRow,
    SourceAsk,
    StatementRow,
    StoredRow,
    WaiverRow,
)
from tracker.answers.draw_rows import DrawState, PayApplication
from tracker.answers.draws import DrawsAnswer, from_books
from tracker.answers.draws import forecast_opening as opening_of
from tracker.answers.trades import contracts
from tracker.money.applications import accounts
from tracker.money.books import Books
from tracker.money.drawn import DrawnLine, drawn_lines
from tracker.money.overpaid import PAYABLE
from tracker.money.paid import Paid, paid
from tracker.money.records import Waiver
from tracker.money.sources import Sources
from tracker.money.sources import sources as sources_of
from tracker.tables.books import books_of
from tracker.values.money import dollars
from tracker.values.records import Rows
from tracker.values.sums import totals


@dataclass(frozen=True, slots=True)
class DrawRequest:
    """One draw as the lender gets it. since: the end of the period before (None: from the
    beginning); until: of its own.

    beyond_payees_cents: this draw less what its payees get; not 0 where something was payable
    before, was cut, or is held back. owner_paid: by cost line, what the owner paid by today that no
    draw covers.
    """

    draw: DrawState
    since: dt.date | None
    until: dt.date
    sources: tuple[SourceAsk, ...]
    sources_total: SourceAsk
    cuts: tuple[CutRow, ...]
    cut_cents: int
    owner_paid: Mapping[str, int]
    owner_paid_cents: int
    payees: tuple[PayeeRow, ...]
    checks_to_write: tuple[CheckRow, ...]
    payees_total_cents: int
    payees_paid_cents: int
    payees_to_pay_cents: int
    beyond_payees_cents: int
    statement: tuple[StatementRow, ...]
    statement_total: StatementRow
    notices: tuple[NoticeReceived, ...]
    not_agreed: tuple[NotAgreed, ...]
    bills: tuple[BillRow, ...]
    bills_total_cents: int
    bills_paid_cents: int
    bills_due_cents: int
    invoices: tuple[BillRow, ...]
    invoices_cents: int
    stored: tuple[StoredRow, ...]
    stored_cents: int
    papers: tuple[PaperOnFile, ...]
    waivers: tuple[WaiverRow, ...]
    missing_waivers: tuple[MissingWaiver, ...]
    changes: tuple[ChangeInPeriod, ...]
    changes_total_cents: int
    moves: tuple[MoveInPeriod, ...]
    inspections: tuple[InspectionInPeriod, ...]
    applications: tuple[PayApplication, ...]
    not_in_draw: tuple[NotInDraw, ...]
    not_in_draw_cents: int
    checks: tuple[DrawCheck, ...]
    set_aside: tuple[SetAside, ...]
    in_balance: bool
    short_cents: int
    balance_not_known: str
    cautions: tuple[str, ...]


def from_rows(rows: Rows, today: dt.date, number: int | None = None) -> DrawRequest | None:
    """A draw request from a project's rows; the draw of the highest number if none is named.

    None where there is none.
    """
    books = books_of(rows, today)
    every: DrawsAnswer = from_books(books, opening_of(rows))
    draws = {draw.number: draw for draw in books.table("draws")}
    wanted = number if number is not None else max(draws, default=None)
    state = next((one for one in every.draws if one.number == wanted), None)
    if state is None or wanted is None:
        return None
    known = accounts(books)
    draw, payments = draws[wanted], paid(books, known)
    drawn = drawn_lines(books)
    funds = sources_of(books, payments, drawn)
    since = max(
        (d.period_to for d in draws.values() if d.number < wanted and d.period_to), default=None
    )
    until = draw.period_to or today
    own = {(a.contract, a.number) for a in books.table("applications") if a.draw == wanted}
    applications = tuple(a for a in every.applications if (a.contract, a.number) in own)
    stopped = {
        (a.contract, a.number)
        for a in applications
        if state.state == "draft" and a.state not in ("cleared", "paid")
    }
    payees = (
        *application_payees(
            books, [a for a in applications if (a.contract, a.number) not in stopped], payments
        ),
        *release_payees(books, known, payments, since, until),
        *invoice_payees(books, draw, payments),
    )
    beyond = state.total.this_draw_cents - sum(p.amount_cents for p in payees)
    names_on_checks = [p.payee for p in payees]
    cut = cuts(books, state)
    missing = beyond + sum(c.cut_cents for c in cut)
    releases = tuple(releases_of(books, known, payments, since, until))
    looked = Looked(
        books=books,
        draw=state,
        applications=applications,
        payees=names_on_checks,
        beyond_payees_cents=missing,
        not_paid_out_cents=funds.not_paid_out,
        short_cents=every.short_cents,
        balance_not_known=every.balance_not_known,
        releases=releases,
    )
    given_back = {
        r.code for one in known.values() for r in one.releases if is_between(r.day, since, until)
    }
    owner_paid = {
        line.code: amount
        for line in books.cost_lines
        if (
            amount := funds.equity_by_line.get(line.code, 0)
            + funds.floated_by_line.get(line.code, 0)
        )
    }
    asked, left_out = (
        asked_of_sources(funds, drawn, wanted),
        not_in_draw(books, every.applications, own - stopped, wanted, until),
    )
    aside = [SetAside(one.key, PAYABLE, one.reason) for one in every.overpaid]
    stated, bills = statement(books, payments), bills_outside(books, payments)
    own_bills, goods = (
        tuple(bill for bill in bills if bill.draw == wanted),
        stored_goods(applications),
    )
    changes = approved_between(books, since, until)
    return DrawRequest(
        draw=state,
        since=since,
        until=until,
        sources=asked,
        sources_total=all_sources(asked),
        cuts=cut,
        cut_cents=sum(c.cut_cents for c in cut),
        owner_paid=owner_paid,
        owner_paid_cents=sum(owner_paid.values()),
        payees=payees,
        checks_to_write=checks_to_write(payees),
        payees_total_cents=sum(p.amount_cents for p in payees),
        payees_paid_cents=sum(p.paid_cents for p in payees),
        payees_to_pay_cents=sum(p.to_pay_cents for p in payees),
        beyond_payees_cents=beyond,
        statement=stated,
        statement_total=total_of(stated),
        notices=notices_received(books),
        not_agreed=not_agreed(books, every.applications),
        bills=bills,
        bills_total_cents=sum(b.amount_cents for b in bills),
        bills_paid_cents=sum(b.paid_cents for b in bills),
        bills_due_cents=sum(b.due_cents for b in bills),
        invoices=own_bills,
        invoices_cents=sum(b.amount_cents for b in own_bills),
        stored=goods,
        stored_cents=sum(g.stored_cents for g in goods),
        papers=papers_on_file(books, applications),
        waivers=waivers_of(books, applications, since),
        missing_waivers=missing_waivers(applications),
        changes=changes,
        changes_total_cents=sum(c.price_cents for c in changes),
        moves=moved_between(books, since, until),
        inspections=inspections_between(rows, since, until),
        applications=applications,
        not_in_draw=left_out,
        not_in_draw_cents=sum(one.left_to_pay_cents for one in left_out),
        checks=checks(looked),
        set_aside=set_aside(books, state, applications, aside, given_back),
        in_balance=every.in_balance,
        short_cents=every.short_cents,
        balance_not_known=every.balance_not_known,
        cautions=every.cautions,
    )


def asked_of_sources(
    funds: Sources, lines: Sequence[DrawnLine], number: int
) -> tuple[SourceAsk, ...]:
    """What was used of each source before the draw, what the draw brings, and what is left then."""
    found = []
    for source in funds.states:
        before = sum(
            line.amount for line in lines if line.source == source.code and line.draw < number
        )
        before += source.used - source.drawn
        own = [line for line in lines if line.source == source.code and line.draw == number]
        this, held = sum(line.amount for line in own), sum(line.retainage for line in own)
        left = source.amount - before - this
        found.append(
            SourceAsk(
                source.code, source.name, source.amount, before, this, left, held, source.kind
            )
        )
    return tuple(found)


def asks_in_words(sources: Iterable[SourceAsk], state: str) -> tuple[str, ...]:
    """A sentence for each lender with the sum that is asked of it alone, and one for the owner's
    own money.
    """
    known = list(sources)
    own = sum(one.this_draw_cents for one in known if one.kind == "equity")
    lenders = [one for one in known if one.kind != "equity" and one.this_draw_cents]
    if state == "funded":
        words = [f"{one.name} funded {dollars(one.this_draw_cents)}." for one in lenders] or [
            "No lender funded anything."
        ]
        return (*words, f"The owner paid {dollars(own)} of own money.") if own else tuple(words)
    if state == "returned":
        return ("It came back: no lender is asked for anything with it.",)
    words = [f"The owner asks {one.name} for {dollars(one.this_draw_cents)}." for one in lenders]
    words = words or ["No lender is asked for anything."]
    return (*words, f"The owner pays {dollars(own)} of own money.") if own else tuple(words)


def cuts(books: Books, draw: DrawState) -> tuple[CutRow, ...]:
    """What was cut of a funded draw, line by line."""
    if draw.state != "funded":
        return ()
    return tuple(
        CutRow(li.source, li.cost_line, li.asked, li.funded, li.asked - li.funded, li.cut_reason)
        for li in books.table("draw_lines")
        if li.draw == draw.number and li.funded is not None and li.funded != li.asked
    )


def all_sources(sources: Sequence[SourceAsk]) -> SourceAsk:
    """The sum of the sources."""
    columns = (
        "committed_cents",
        "before_cents",
        "this_draw_cents",
        "left_cents",
        "retainage_cents",
    )
    return SourceAsk(
        "", "Total", *(sum(getattr(one, column) for one in sources) for column in columns)
    )


def not_in_draw(
    books: Books,
    applications: Iterable[PayApplication],
    own: set[tuple[str, int]],
    number: int,
    until: dt.date,
) -> tuple[NotInDraw, ...]:
    """Applications through the end of the period, not paid and in no other draw, with what keeps
    them out of this one.
    """
    people = names(books.table("contractors"))
    drawn = {
        (a.contract, a.number) for a in books.table("applications") if a.draw not in (None, number)
    } | own
    found = []
    for one in applications:
        if (
            (one.contract, one.number) in drawn
            or one.period_to > until
            or not one.left_to_pay_cents
        ):
            continue
        closed = "; ".join(
            gate.reason if gate.gate in gate.reason else f"{gate.gate}: {gate.reason}"
            for gate in one.gates
            if not gate.open
        )
        why = closed or "every gate is open: it can be taken in"
        name = people.get(one.contractor, one.contractor)
        found.append(
            NotInDraw(f"{one.contract}/{one.number}", name, one.state, one.left_to_pay_cents, why)
        )
    return tuple(found)


def statement(books: Books, payments: Paid) -> tuple[StatementRow, ...]:
    """Every signed contract of the owner."""
    people, packages = names(books.table("contractors")), names(books.table("packages"))
    trade = {c.code: c.trade for c in books.table("contractors")}
    return tuple(
        StatementRow(
            people.get(one.contractor, one.contractor),
            one.code,
            packages.get(one.package, "") or trade.get(one.contractor, ""),
            one.now_cents,
            one.earned_cents,
            one.held_cents,
            one.paid_cents,
            one.earned_cents - one.held_cents - one.paid_cents,
            one.now_cents - one.earned_cents,
        )
        for one in contracts(books, accounts(books), payments)
        if one.is_signed
    )


def total_of(rows: Sequence[StatementRow]) -> StatementRow:
    """The sum of the contracts."""
    return StatementRow(
        "Total",
        "",
        "",
        sum(r.now_cents for r in rows),
        sum(r.earned_cents for r in rows),
        sum(r.held_cents for r in rows),
        sum(r.paid_cents for r in rows),
        sum(r.due_cents for r in rows),
        sum(r.to_come_cents for r in rows),
    )


def waivers_of(
    books: Books, applications: Sequence[PayApplication], since: dt.date | None
) -> tuple[WaiverRow, ...]:
    """Waivers given by today on the contracts of the draw: for its applications, and those dated
    since the draw before.
    """
    contracts_of = {one.contract: one.contractor for one in applications}
    own = {(one.contract, one.number) for one in applications}
    people = names(books.table("contractors"))

    def belongs(waiver: Waiver) -> bool:
        if waiver.contract not in contracts_of or (
            waiver.date is not None and waiver.date > books.today
        ):
            return False
        recent = since is None or (waiver.date is not None and waiver.date > since)
        return (waiver.contract, waiver.application) in own or recent

    return tuple(
        WaiverRow(
            w.code,
            w.contract,
            w.application,
            w.from_party or people.get(contracts_of[w.contract], contracts_of[w.contract]),
            w.kind,
            w.amount,
            w.through,
            w.date,
            w.evidence,
        )
        for w in books.table("waivers")
        if belongs(w)
    )


def missing_waivers(applications: Sequence[PayApplication]) -> tuple[MissingWaiver, ...]:
    """The waiver gates of the draw's applications that are closed, or that the owner set aside."""
    return tuple(
        MissingWaiver(
            one.contract,
            one.number,
            gate.gate,
            "set aside" if gate.overridden else "missing",
            gate.reason,
        )
        for one in applications
        for gate in one.gates
        if "waiver" in gate.gate and (not gate.open or gate.overridden)
    )


def approved_between(
    books: Books, since: dt.date | None, until: dt.date
) -> tuple[ChangeInPeriod, ...]:
    """Changes approved after the period before through the end of this one."""
    price = totals((line.change, line.amount) for line in books.table("change_lines"))
    return tuple(
        ChangeInPeriod(
            c.number, c.contract, c.title, c.reason, c.approved, price.get(c.number, 0), c.days
        )
        for c in books.table("changes")
        if c.state == "approved" and is_between(c.approved, since, until)
    )


def moved_between(books: Books, since: dt.date | None, until: dt.date) -> tuple[MoveInPeriod, ...]:
    """Budget moved in the period; a move without a day is as old as the budget and stands in the
    first draw.
    """
    return tuple(
        MoveInPeriod(m.number, m.date, m.from_, m.to, m.amount, m.reason)
        for m in books.table("budget_moves")
        if is_between(m.date, since, until) or (m.date is None and since is None)
    )


def inspections_between(
    rows: Rows, since: dt.date | None, until: dt.date
) -> tuple[InspectionInPeriod, ...]:
    """Inspections that took place in the period, with the permit's own number."""
    numbers = {p.code: p.number or p.code for p in rows.get("permits", ())}
    still_open = totals(
        (item.inspection, int(item.closed_on is None)) for item in rows.get("inspection_items", ())
    )
    return tuple(
        InspectionInPeriod(
            i.code,
            numbers.get(i.permit, i.permit),
            i.name,
            i.date,
            i.state,
            still_open.get(i.code, 0),
        )
        for i in rows.get("inspections", ())
        if is_between(i.date, since, until) and i.state in ("passed", "partly passed", "failed")
    )
