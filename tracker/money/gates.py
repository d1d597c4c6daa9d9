"""Gates to payment: what has to be there before an application is paid, each open or closed with
its reason.

An owner can set a closed gate aside with a reason (an override for CONTRACT/NUMBER), which is
printed wherever it matters.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from tracker.money.applications import ApplicationState, accounts
from tracker.money.books import Books
from tracker.money.owed import owed
from tracker.money.paid import Paid
from tracker.money.records import Waiver
from tracker.values.grouped import grouped
from tracker.values.money import dollars

CONDITIONAL = ("conditional progress", "conditional final")
UNCONDITIONAL = ("unconditional progress", "unconditional final")


@dataclass(frozen=True, slots=True)
class Gate:
    """One gate to payment. overridden: it is open only because the owner set it aside; reason then
    says why.
    """

    gate: str
    open: bool
    reason: str
    overridden: bool = False


def in_words(gate: str, reason: str) -> str:
    """A gate with its reason; a reason that begins with the gate's name says it once."""
    return reason if reason.startswith(gate) else f"{gate}: {reason}"


@dataclass(frozen=True, slots=True)
class Asked:
    """An application at its gates. contractor: code of who asks; paid: all payments by today."""

    books: Books
    state: ApplicationState
    contractor: str
    paid: Paid

    @property
    def today(self) -> dt.date:
        """The day on which it is looked at."""
        return self.books.today


def gates(books: Books, state: ApplicationState, paid: Paid) -> tuple[Gate, ...]:
    """All gates of an application, in the order in which they are looked at."""
    asked = Asked(books, state, books.contracts[state.contract].contractor, paid)
    return gated(
        books, f"{state.contract}/{state.number}", ((name, rule(asked)) for name, rule in RULES)
    )


def gated(
    books: Books, key: str, ruled: Iterable[tuple[str, tuple[bool, str]]]
) -> tuple[Gate, ...]:
    """Gates by name, open or not, and reason, with what the owner has set aside for a key."""
    aside = overrides(books, key)
    found = []
    for name, (is_open, reason) in ruled:
        if not is_open and name in aside:
            found.append(Gate(name, True, f"set aside: {aside[name]} ({reason})", overridden=True))
        else:
            found.append(Gate(name, is_open, reason))
    return tuple(found)


def overrides(books: Books, key: str) -> dict[str, str]:
    """What the owner has set aside for a key by today, with the reason, by gate."""
    return {
        o.what: o.reason
        for o in grouped(books.table("overrides"), "key").get(key, ())
        if (o.date is None or o.date <= books.today)
    }


def verified(asked: Asked) -> tuple[bool, str]:
    """Somebody has seen the work."""
    known = asked.books.verified.get(asked.state.contract, ())
    for application in known:
        if application.number == asked.state.number:
            by = f" by {application.verified_by}" if application.verified_by else ""
            return True, f"verified on {application.verified_on}{by}"
    return False, "not verified yet"


def conditional_waiver(asked: Asked) -> tuple[bool, str]:
    """A conditional waiver for exactly the payable amount, through the period: for more, it would
    never take effect.
    """
    state, amount = asked.state, to_be_paid(asked)
    if amount <= 0:
        return True, "nothing is payable"
    own = [w for w in own_waivers(asked, CONDITIONAL) if w.application in (state.number, None)]
    if not own:
        return False, f"no conditional waiver for {dollars(amount)}"
    right = [w for w in own if w.amount == amount]
    if not right:
        return False, f"the conditional waiver is not for {dollars(amount)}"
    return through(right, state.period_to)


def to_be_paid(asked: Asked) -> int:
    """What is paid on the application in all once all that is owed is paid, in cents: what is
    payable, less what was paid ahead.

    One that does not count yet: what would be payable on it.
    """
    state = asked.state
    account = accounts(asked.books).get(state.contract)
    if account is None or state not in account.states:
        return state.payable
    left = owed(account, asked.paid).applications[state.number]
    return min(state.payable, asked.paid.on_application(state.contract, state.number) + left)


def unconditional_waiver(asked: Asked) -> tuple[bool, str]:
    """An unconditional waiver for the last payment: through the period of the application that it
    paid.
    """
    number = last_paid(asked)
    if number is None:
        return True, "no earlier payment"
    earlier = grouped(asked.books.table("applications"), "contract", "number")[
        asked.state.contract, number
    ][0]
    amount = asked.paid.on_application(asked.state.contract, number)
    own = [w for w in own_waivers(asked, UNCONDITIONAL) if w.application in (number, None)]
    if not own:
        return False, f"no unconditional waiver for application {number}, {dollars(amount)}"
    right = [w for w in own if w.amount is not None and w.amount >= amount]
    if not right:
        return (
            False,
            f"the unconditional waiver for application {number} is for less than {dollars(amount)}",
        )
    return through(right, earlier.period_to)


def last_paid(asked: Asked) -> int | None:
    """The last application before this one on which something was paid."""
    paid = {
        p.application
        for p in asked.paid.of_contract(asked.state.contract)
        if p.kind == "application"
    }
    return max((n for n in paid if n is not None and n < asked.state.number), default=None)


def own_waivers(asked: Asked, kinds: Iterable[str]) -> list[Waiver]:
    """Waivers that the contractor itself gave on this contract by today."""
    known = grouped(asked.books.table("contractors"), "code").get(asked.contractor, ())
    names = {"", asked.contractor, *(contractor.name for contractor in known[:1])}
    return [
        w
        for w in grouped(asked.books.table("waivers"), "contract").get(asked.state.contract, ())
        if w.kind in kinds and w.from_party in names and not later(w.date, asked.today)
    ]


def through(waivers: Iterable[Waiver], day: dt.date) -> tuple[bool, str]:
    """Whether one of the waivers covers work through a day."""
    known = list(waivers)
    right = next((w for w in known if w.through is not None and w.through >= day), None)
    if right is not None:
        return True, f"{right.kind} {right.code} through {right.through}"
    return False, f"waiver {known[-1].code} does not go through {day}"


def paper(kinds: tuple[str, ...], words: str) -> Callable[[Asked], tuple[bool, str]]:
    """A gate that asks for papers of these kinds, each valid today."""

    def rule(asked: Asked) -> tuple[bool, str]:
        missing = [reason for kind in kinds if (reason := paper_missing(asked, kind))]
        return (False, "; ".join(missing)) if missing else (True, f"{words} valid today")

    return rule


def paper_missing(asked: Asked, kind: str) -> str:
    """Why a contractor's paper of a kind does not hold today; empty where it does."""
    own = grouped(asked.books.table("papers"), "contractor", "kind").get(
        (asked.contractor, kind), ()
    )
    if not own:
        return f"no {kind} on file"
    if any(not later(p.from_, asked.today) and (p.to is None or p.to >= asked.today) for p in own):
        return ""
    ended = [p.to for p in own if p.to is not None and p.to < asked.today]
    return f"{kind} ran out on {max(ended)}" if ended else f"{kind} does not hold yet"


def inspections(asked: Asked) -> tuple[bool, str]:
    """The inspections of the lines that are billed in this period have passed, by themselves or by
    a re-inspection.
    """
    billed = asked.books.billed.get((asked.state.contract, asked.state.number), {})
    now = {row.line for row in billed.values() if row.claimed or row.verified or row.stored}
    lines = [v for v in asked.books.values.get(asked.state.contract, ()) if v.line in now]
    needed = {code for line in lines for code in line.inspections}
    if closed := not_passed(asked.books, sorted(needed)):
        return False, "inspections: " + ", ".join(closed)
    return True, "passed" if needed else "none needed for what is billed"


def not_passed(books: Books, codes: Iterable[str]) -> list[str]:
    """Those of the inspections that have not passed by the day of the books, each with how it
    stands.
    """
    known = grouped(books.table("inspections"), "code")
    closed = (code for code in codes if code not in books.passed)
    states = ((code, known[code][-1].state if code in known else "") for code in closed)
    return [
        f"{code} {'not passed yet' if state in ('', 'passed') else state}" for code, state in states
    ]


def notice_waivers(asked: Asked) -> tuple[bool, str]:
    """A waiver from each who sent a notice to owner, through the period."""
    owed = sent_notice(asked)
    missing = without_waiver(asked)
    if missing:
        return False, f"no waiver through {asked.state.period_to} from {', '.join(missing)}"
    return True, "waivers from all who sent a notice" if owed else "nobody sent a notice"


def sent_notice(asked: Asked) -> list[str]:
    """Who sent a notice to owner on the contract by today."""
    contract, today = asked.state.contract, asked.today
    sent = grouped(asked.books.table("lien_notices"), "contract").get(contract, ())
    return [n.from_party for n in sent if not later(n.received, today)]


def without_waiver(asked: Asked) -> list[str]:
    """Who of them gave no waiver through the period."""
    state, today = asked.state, asked.today
    given = {
        same(w.from_party)
        for w in grouped(asked.books.table("waivers"), "contract").get(state.contract, ())
        if not later(w.date, today) and w.through is not None and w.through >= state.period_to
    }
    return sorted({party for party in sent_notice(asked) if same(party) not in given})


def same(party: str) -> str:
    """A party's name without what does not matter in comparing it."""
    return " ".join(party.split()).casefold()


def later(day: dt.date | None, today: dt.date) -> bool:
    """Whether something happens only after today; what has no date is there already."""
    return day is not None and day > today


RULES: tuple[tuple[str, Callable[[Asked], tuple[bool, str]]], ...] = (
    ("verified", verified),
    ("conditional waiver", conditional_waiver),
    ("unconditional waiver", unconditional_waiver),
    ("license", paper(("license",), "license")),
    ("insurance", paper(("liability", "workers comp"), "liability and workers comp")),
    ("inspections", inspections),
    ("notice waivers", notice_waivers),
    ("tax form", paper(("tax form",), "tax form")),
)
"""Each gate by its name, in order."""


def application_state(gates: Iterable[Gate], left: int, counts: bool) -> str:
    """entered, verified, cleared or paid: it follows from dates, gates and payments. left: cents
    that may still be paid on it.

    Paid: it counts and nothing is left; cleared: every gate is open.
    """
    if not counts:
        return "entered"
    if left <= 0:
        return "paid"
    return "cleared" if all(gate.open for gate in gates) else "verified"
