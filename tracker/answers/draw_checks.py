"""What a lender looks for in a draw request, looked at before it is sent: each point is fine, says
what would come back, or is not known, where nothing is entered to tell it by.

Why requests are cut or returned (title companies, a credit union, a state housing agency): claimed
above what the inspector sees; waivers missing or wrong; somebody not on the sworn statement;
deposits and goods not installed; changes not approved; money moved without consent; loan out of
balance; insurance lapsed; own labor.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from tracker.answers.draw_rows import DrawState, PayApplication, PayGate
from tracker.money.balance import NO_LOAN
from tracker.money.books import Books
from tracker.money.drawn import by_source, drawn_lines
from tracker.money.gates import Gate
from tracker.money.release_gates import ACCEPTANCE, WAIVERS
from tracker.money.retainage_caps import above_cap, on_record
from tracker.money.schedule_of_values import is_pending
from tracker.values.money import dollars, plain_rate

FINE, LOOK, NOT_KNOWN = "fine", "look", "not known"
"""How a point stands: nothing would come back for it; something would; nothing is entered to tell
it by.
"""

Found = tuple[str, str]
"""How a point stands, and its remark."""


@dataclass(frozen=True, slots=True)
class DrawCheck:
    """One point. state: fine, look, not known; remark: what was looked at, what is in the way, or
    what is not entered.
    """

    what: str
    state: str
    remark: str


@dataclass(frozen=True, slots=True)
class SetAside:
    """A rule that the owner set aside for something in the draw, with the reason."""

    key: str
    what: str
    reason: str


@dataclass(frozen=True, slots=True)
class Looked:
    """What is looked at. not_paid_out_cents: drawn before and not paid out.

    beyond_payees_cents: the draw, with what was cut of it, less its payees. releases: of the
    period, not paid yet: contract, code of the event, what it needs.
    """

    books: Books
    draw: DrawState
    applications: Sequence[PayApplication]
    payees: Sequence[str]
    beyond_payees_cents: int
    not_paid_out_cents: int
    short_cents: int
    balance_not_known: str
    releases: Sequence[tuple[str, str, tuple[Gate, ...]]] = ()


def checks(looked: Looked) -> tuple[DrawCheck, ...]:
    """All points in the order in which a package is read."""
    return tuple(DrawCheck(what, *rule(looked)) for what, rule in POINTS)


def told(wrong: Iterable[str], fine: str, not_known: str = "") -> Found:
    """What is wrong; else what is not known; else fine with what was looked at."""
    found = list(dict.fromkeys(wrong))
    if found:
        return LOOK, "; ".join(found)
    return (NOT_KNOWN, not_known) if not_known else (FINE, fine)


def columns_foot(looked: Looked) -> Found:
    """Each line across, and each column down."""
    draw = looked.draw
    wrong = [
        one.cost_line
        for one in draw.lines
        if one.drawn_before_cents + one.this_draw_cents != one.drawn_to_date_cents
        or one.budget_now_cents - one.drawn_to_date_cents != one.left_cents
    ]
    for column in (
        "budget_now_cents",
        "drawn_before_cents",
        "this_draw_cents",
        "drawn_to_date_cents",
        "left_cents",
    ):
        if sum(getattr(one, column) for one in draw.lines) != getattr(draw.total, column):
            wrong.append(column.removesuffix("_cents").replace("_", " "))
    return told(wrong, f"{len(draw.lines)} line{'s' if len(draw.lines) != 1 else ''}, every column")


def within_budget(looked: Looked) -> Found:
    """No line is drawn above its budget now."""
    wrong = [
        f"{one.cost_line} by {dollars(one.above_budget_cents)}"
        for one in looked.draw.lines
        if one.above_budget_cents
    ]
    budgets = any(one.budget_now_cents for one in looked.draw.lines)
    return told(wrong, "no line above its budget now", "" if budgets else "no budget is entered")


def payees_add_up(looked: Looked) -> Found:
    """The draw is what its payees get."""
    beyond = looked.beyond_payees_cents
    words = (
        f"the draw is {dollars(abs(beyond))} {'more' if beyond > 0 else 'less'} than its payees get"
    )
    return told([words] if beyond else [], "this draw is what its payees get, to the cent")


def paid_out(looked: Looked) -> Found:
    """What was drawn before has been paid out."""
    left = looked.not_paid_out_cents
    return told(
        [f"{dollars(left)} drawn before is not paid out yet"] if left else [],
        "what was drawn before is paid out",
    )


def lines_within_value(looked: Looked) -> Found:
    """No line is earned above its value, and the lines of each contract are the contract as it
    stands.
    """
    wrong = [
        f"{named(one)} line {line.line}"
        for one in looked.applications
        for line in one.lines
        if not min(0, line.value_cents) <= line.earned_cents <= max(0, line.value_cents)
    ]
    for one in looked.applications:
        lines = sum(line.value_cents for line in one.lines)
        if lines != one.contract_now_cents:
            off = dollars(abs(lines - one.contract_now_cents))
            wrong.append(
                f"the lines of contract {one.contract} are {off} off what the contract is now"
            )
    return told(
        wrong, "lines add up to each contract with its approved changes; none is above its value"
    )


def within_inspector(looked: Looked) -> Found:
    """Nothing is in place above what the lender's inspector saw."""
    wrong = [
        f"{named(one)} {line.line}: {dollars(line.above_inspector_cents)} above the"
        f" {plain_rate(line.inspector_bp * 10)} % seen"
        for one in looked.applications
        for line in one.lines
        if line.above_inspector_cents and line.inspector_bp is not None
    ]
    seen = any(line.inspector_bp is not None for one in looked.applications for line in one.lines)
    unseen = (
        ""
        if seen or not looked.applications
        else "no inspection by the lender is on record for this draw"
    )
    return told(wrong, "nothing above what the inspector saw", unseen)


def gates_open(*names: str) -> Callable[[Looked], Found]:
    """A point about gates to payment of the draw's applications."""

    def rule(looked: Looked) -> Found:
        every: list[tuple[str, Gate | PayGate]] = [
            (named(one), gate) for one in looked.applications for gate in one.gates
        ]
        every += [
            (f"retainage released {code} of {contract}", gate)
            for contract, code, own in looked.releases
            for gate in own
        ]
        gates = [(whose, gate) for whose, gate in every if gate.gate in names]
        wrong = [f"{whose}: {gate.reason}" for whose, gate in gates if not gate.open]
        wrong += [
            f"{whose} {gate.gate}: set aside by the owner, see the reason"
            for whose, gate in gates
            if gate.overridden
        ]
        counted = [(len(looked.applications), "application"), (len(looked.releases), "release")]
        return told(
            wrong,
            ", ".join(
                f"{n} {what}{'s' if n != 1 else ''}"
                for n, what in counted
                if n or what == "application"
            ),
        )

    return rule


def work_accepted(looked: Looked) -> Found:
    """Punch list or certificate proven before retainage is let go."""
    if not looked.releases:
        return FINE, "no release is to be paid in this draw"
    state, remark = gates_open(ACCEPTANCE)(looked)
    return state, "the punch list or certificate item is proven" if state == FINE else remark


def stored_papers(looked: Looked) -> Found:
    """Stored goods have their papers, and the loan pays for them."""
    stored = [named(one) for one in looked.applications if one.stored_cents]
    if not stored:
        return FINE, "nothing is stored"
    paper = next((p for p in looked.draw.package if p.what == "stored materials"), None)
    wrong = (
        []
        if paper is not None and paper.state != "missing"
        else [f"no papers for what is stored in {', '.join(stored)}"]
    )
    if not any(source.funds_stored for source in looked.books.table("sources")):
        wrong.append("no source pays for stored goods")
    return told(wrong, f"papers for what is stored in {', '.join(stored)}")


def changes_approved(looked: Looked) -> Found:
    """Only approved changes are in the contracts; what is asked for is named."""
    contracts = {one.contract for one in looked.applications}
    changes = looked.books.table("changes")
    asked = [
        c.number for c in changes if c.contract in contracts and is_pending(c, looked.books.today)
    ]
    words = "only approved changes are in it"
    return FINE, words + (f"; asked for and not in it: {', '.join(asked)}" if asked else "")


def no_own_labor(looked: Looked) -> Found:
    """The owner's own labor is not in it, nor are deposits that no source pays."""
    books, number = looked.books, looked.draw.number
    pays = any(source.funds_deposits for source in books.table("sources"))
    own = [i for i in books.invoices.values() if i.draw == number]
    wrong = [
        f"invoice {i.number or i.code} is the owner's own labor"
        for i in own
        if i.kind == "own labor"
    ]
    wrong += [
        f"invoice {i.number or i.code} is a deposit"
        for i in own
        if i.kind == "deposit" and not pays
    ]
    return told(wrong, "no own labor, and no deposit that the loan does not pay")


def used_once(looked: Looked) -> Found:
    """No invoice number of a contractor is used twice."""
    seen: dict[tuple[str, str], str] = {}
    wrong = []
    for invoice in looked.books.invoices.values():
        if invoice.number and invoice.draw is not None:
            first = seen.setdefault((invoice.contractor, invoice.number.strip()), invoice.code)
            if first != invoice.code and looked.draw.number in (
                invoice.draw,
                looked.books.invoices[first].draw,
            ):
                wrong.append(
                    f"{invoice.number} of {invoice.contractor} stands in {first} and {invoice.code}"
                )
    return told(wrong, "no invoice is used twice")


def caps_kept(looked: Looked) -> Found:
    """Retainage within what the state allows, as far as it is on record."""
    contracts = {one.contract for one in looked.applications}
    holding = any(looked.books.contracts[code].retainage for code in contracts)
    wrong = [
        f"contract {c.code} holds {plain_rate(c.retainage or 0)} %, {cap.state} allows"
        f" {plain_rate(cap.rate)} %"
        for c, cap in above_cap(looked.books)
        if c.code in contracts
    ]
    unknown = (
        "" if on_record(looked.books) or not holding else "no cap of the state is on record here"
    )
    fine = (
        "within the state's cap, as the text on record has it"
        if holding
        else "no contract of this draw holds back retainage"
    )
    return told(wrong, fine, unknown)


def on_the_statement(looked: Looked) -> Found:
    """Every contract of the draw is signed, and every check has a name."""
    books = looked.books
    wrong = [
        f"contract {a.contract} is not signed"
        for a in looked.applications
        if not books.is_signed(books.contracts[a.contract])
    ]
    wrong += ["a payee has no name" for payee in looked.payees if not payee]
    return told(wrong, "every payee is named and stands on the sworn statement")


def minimum_reached(looked: Looked) -> Found:
    """Each source is asked for at least its minimum."""
    asked = by_source(line for line in drawn_lines(looked.books) if line.draw == looked.draw.number)
    wrong = [
        f"{source.name or source.code} pays nothing under {dollars(source.minimum_draw)}"
        for source in looked.books.table("sources")
        if source.minimum_draw and 0 < asked.get(source.code, 0) < source.minimum_draw
    ]
    lenders = [source for source in looked.books.table("sources") if source.kind != "equity"]
    without = [source.name or source.code for source in lenders if source.minimum_draw is None]
    unknown = (
        f"no minimum is entered for {', '.join(without)}" if without else "" if lenders else NO_LOAN
    )
    return told(wrong, "at least the minimum of each source", unknown)


def in_balance(looked: Looked) -> Found:
    """What is left covers what is still to pay."""
    short = looked.short_cents
    if looked.balance_not_known:
        return NOT_KNOWN, looked.balance_not_known
    return told(
        [f"short by {dollars(short)}"] if short else [],
        "what is not drawn covers what is still to pay",
    )


def package_whole(looked: Looked) -> Found:
    """No paper of the package is missing."""
    return told(
        (p.what for p in looked.draw.package if p.state == "missing"),
        "every paper is present or waived",
    )


def named(one: PayApplication) -> str:
    """An application as people name it."""
    return f"{one.contract}/{one.number}"


POINTS: tuple[tuple[str, Callable[[Looked], Found]], ...] = (
    ("lines and totals foot", columns_foot),
    ("within budget", within_budget),
    ("payees add up", payees_add_up),
    ("earlier draws paid out", paid_out),
    ("schedules of values", lines_within_value),
    ("seen by the lender's inspector", within_inspector),
    ("lien waivers", gates_open("conditional waiver", "notice waivers", *WAIVERS)),
    ("license, insurance, tax form", gates_open("license", "insurance", "tax form")),
    ("inspections of what is billed", gates_open("inspections")),
    ("work accepted where retainage is released", work_accepted),
    ("changes", changes_approved),
    ("stored materials", stored_papers),
    ("own labor and deposits", no_own_labor),
    ("invoices used once", used_once),
    ("state cap on retainage", caps_kept),
    ("sworn statement complete", on_the_statement),
    ("minimum of the loan", minimum_reached),
    ("loan in balance", in_balance),
    ("package complete", package_whole),
)
"""Each point by its name, in order."""


def set_aside(
    books: Books,
    draw: DrawState,
    applications: Iterable[PayApplication],
    overpaid: Iterable[SetAside],
    releases: Iterable[str],
) -> tuple[SetAside, ...]:
    """Every rule that the owner set aside for an application or a release of the draw, or for the
    draw itself, with its reason.

    releases: codes of the events of the period.
    """
    known, given_back = list(applications), set(releases)
    found = [
        SetAside(named(one), gate.gate, gate.reason)
        for one in known
        for gate in one.gates
        if gate.overridden
    ]
    keys = {named(one) for one in known} | {
        i.code for i in books.invoices.values() if i.draw == draw.number
    }
    found += [one for one in overpaid if one.key in keys and one.reason]
    found += [
        SetAside(o.key, o.what, o.reason)
        for o in books.table("overrides")
        if o.key in given_back and (o.date is None or o.date <= books.today)
    ]
    sources = {source.code for source in books.table("sources")}
    found += [
        SetAside(o.key, o.what, o.reason)
        for o in books.table("overrides")
        if o.key in sources and (o.date is None or o.date <= books.today)
    ]
    return tuple(found)
