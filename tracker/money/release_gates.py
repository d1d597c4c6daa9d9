"""What the last money needs: requirements of a release of retainage, each met or not, with its
reason.

Once it is paid, nothing secures the work any more, so it needs the release of claims before final
payment (FAR 52.232-5(h)): the contractor's conditional final waiver for its amount, the
unconditional waiver for the last payment, final waivers of those who sent a notice to owner; the
punch list or certificate item of the checklist proven; insurance; tax form. The owner can set one
aside with a reason: an override whose key is the code of the release's event.

A release inside of an application's period is paid with the application. Our reading of who needs
what: where nothing stays held on the contract after it, that application is the last money, and
asks for the final waivers and the acceptance in place of the progress waivers (its overrides keep
the application's key); where something stays held, as after a release in the middle of the work,
something still secures it, and the application's own requirements are enough. No source for that
reading.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
import re
from collections.abc import Callable
from dataclasses import dataclass

from tracker.money.applications import Account, ApplicationState, accounts
from tracker.money.books import Books, books_on
from tracker.money.gates import (
    Asked,
    Gate,
    gated,
    gates,
    later,
    overrides,
    own_waivers,
    paper,
    same,
    sent_notice,
    to_be_paid,
    unconditional_waiver,
)
from tracker.money.owed import owed
from tracker.money.paid import Paid
from tracker.money.paid import paid as all_paid
from tracker.money.records import Payment
from tracker.values.grouped import grouped
from tracker.values.money import dollars

FINAL = ("conditional final", "unconditional final")
ACCEPTED = ("punch list", "certificate of occupancy", "certificate issued")
"""What the title of a checklist item holds that shows the work accepted."""
CONDITIONAL_FINAL = "conditional final waiver"
SUPPLIERS = "final waivers of suppliers"
ACCEPTANCE = "punch list or certificate"
WAIVERS = (CONDITIONAL_FINAL, "unconditional waiver", SUPPLIERS)
"""Those of the requirements that are waivers."""
LAST_MONEY = (CONDITIONAL_FINAL, SUPPLIERS, ACCEPTANCE)
"""What the last money needs beyond what every application does."""


@dataclass(frozen=True, slots=True)
class AskedBack:
    """A release at its requirements. after: the contract as after its last application; wanted:
    cents that its waiver names;

    as_much_before: how many releases before it are for the same amount: each takes a waiver of its
    own.
    """

    after: Asked
    wanted: int
    as_much_before: int


def release_gates(books: Books, account: Account, paid: Paid, release: str) -> tuple[Gate, ...]:
    """All requirements of a release after the last application, by its event's code, in the order
    in which they are looked at.
    """
    last = account.last
    if last is None:
        return ()
    amounts = _amounts(account, paid)
    earlier = list(amounts)[: list(amounts).index(release)]
    asked = AskedBack(
        after=Asked(
            books,
            dataclasses.replace(last, number=last.number + 1),
            account.contract.contractor,
            paid,
        ),
        wanted=amounts[release],
        as_much_before=sum(amounts[code] == amounts[release] for code in earlier),
    )
    return gated(books, release, ((name, rule(asked)) for name, rule in RULES))


PROGRESS = ("conditional waiver", "notice waivers")
"""Requirements of an application in whose place the last money has final ones."""


def application_gates(books: Books, state: ApplicationState, paid: Paid) -> tuple[Gate, ...]:
    """All requirements of an application; where it is the last money, those of a release
    with them.
    """
    found = gates(books, state, paid)
    account = accounts(books).get(state.contract)
    if account is None or not is_last_money(books, account, state):
        return found
    asked = Asked(books, state, account.contract.contractor, paid)
    most = AskedBack(after=asked, wanted=to_be_paid(asked), as_much_before=0)
    own = ((name, rule(most)) for name, rule in RULES if name in LAST_MONEY)
    return (
        *(gate for gate in found if gate.gate not in PROGRESS),
        *gated(books, f"{state.contract}/{state.number}", own),
    )


def is_last_money(books: Books, account: Account, state: ApplicationState) -> bool:
    """Whether an application pays what was held back, and nothing stays held on the contract after
    it.
    """
    if state.held or state.payable <= 0:
        return False
    earlier = [s for s in account.states if s.number < state.number]
    since = earlier[-1].period_to if earlier else dt.date.min
    released = (
        event.kind == "release"
        and event.amount
        and event.date is not None
        and since < event.date <= state.period_to
        for event in books.events.get(state.contract, ())
    )
    return bool(earlier and earlier[-1].held) or any(released)


def paid_without(books: Books, payment: Payment) -> tuple[tuple[str, Gate], ...]:
    """The requirements of the last money that were not met when a payment paid it, each with the
    key that an override names (the release's event, or CONTRACT/NUMBER). books: of today.

    It is looked at as the books stood on the payment's day without it, and once more as they stand
    today: what was met on either day, or set aside since, is not told.
    """
    rest = tuple(
        p
        for p in books.payments
        if p.code != payment.code and p.date and payment.date and p.date <= payment.date
    )
    rows = {**books.rows, "payments": rest}
    if (
        payment.date is None
        or payment.contract not in books.contracts
        or payment.contract not in books.events
    ):
        return ()
    then, now = (
        _not_met(books_on(rows, day, books.passed), payment) for day in (payment.date, books.today)
    )
    still = {gate.gate for _, gate in now} if now is not None else None
    return tuple(
        (key, gate)
        for key, gate in then or ()
        if (still is None or gate.gate in still) and gate.gate not in overrides(books, key)
    )


def _not_met(books: Books, payment: Payment) -> list[tuple[str, Gate]] | None:
    """The requirements of the last money that are not met, for a payment that is not in the books;
    None where it pays no such.
    """
    known = accounts(books)
    account, payments = known[payment.contract], all_paid(books, known)
    state = account.state(payment.application) if payment.application is not None else None
    if state is not None and is_last_money(books, account, state):
        key = f"{state.contract}/{state.number}"
        return [
            (key, g)
            for g in application_gates(books, state, payments)
            if g.gate in LAST_MONEY and not g.open
        ]
    if account.last is None or account.last.number != payment.application:
        return None
    left = owed(account, payments)
    beyond, found = (
        payment.amount - left.applications[account.last.number],
        list[tuple[str, Gate]](),
    )
    paid_releases = [code for code, amount in left.releases.items() if amount]
    for code in paid_releases:
        if beyond > 0:
            found += [
                (code, gate)
                for gate in release_gates(books, account, payments, code)
                if not gate.open
            ]
        beyond -= left.releases[code]
    return found if paid_releases else None


def _amounts(account: Account, paid: Paid) -> dict[str, int]:
    """By release, what is paid on it in all if all that is owed is paid, in cents."""
    left = owed(account, paid)
    last = account.last
    beyond = (
        max(paid.on_application(account.contract.code, last.number) - last.payable, 0)
        if last
        else 0
    )
    found: dict[str, int] = {}
    for code, payable in left.payable.items():
        done = min(beyond, payable)
        beyond -= done
        found[code] = done + left.releases[code]
    return found


def conditional_final_waiver(asked: AskedBack) -> tuple[bool, str]:
    """A conditional final waiver of the contractor for exactly what is paid: for more, it would
    never take effect.
    """
    own = own_waivers(asked.after, ("conditional final",))
    right = [w for w in own if w.amount == asked.wanted]
    if len(right) > asked.as_much_before:
        return (
            True,
            f"conditional final {right[asked.as_much_before].code} for {dollars(asked.wanted)}",
        )
    if own and not right:
        return False, f"the conditional final waiver is not for {dollars(asked.wanted)}"
    return False, f"no conditional final waiver for {dollars(asked.wanted)}"


def last_payment_waived(asked: AskedBack) -> tuple[bool, str]:
    """The unconditional waiver for the last payment on the contract."""
    return unconditional_waiver(asked.after)


def suppliers_final_waivers(asked: AskedBack) -> tuple[bool, str]:
    """A final waiver from each who sent a notice to owner."""
    owing = without_final_waiver(asked.after)
    if owing:
        return False, f"no final waiver from {', '.join(owing)}"
    return True, (
        "final waivers from all who sent a notice"
        if sent_notice(asked.after)
        else "nobody sent a notice"
    )


def without_final_waiver(asked: Asked) -> list[str]:
    """Who sent a notice to owner on the contract and gave no final waiver by today."""
    given = {
        same(w.from_party)
        for w in grouped(asked.books.table("waivers"), "contract").get(asked.state.contract, ())
        if w.kind in FINAL and not later(w.date, asked.today)
    }
    return sorted({party for party in sent_notice(asked) if same(party) not in given})


def accepted(asked: AskedBack) -> tuple[bool, str]:
    """The punch list or the certificate of occupancy is proven in the checklist: for this contract,
    or for the whole building.
    """
    contract = asked.after.state.contract
    known = [
        i
        for i in asked.after.books.table("checklist")
        if _is_about(asked.after.books, i.title, contract)
    ]
    proven = next((i for i in known if i.state == "proven"), None)
    if proven is not None:
        return True, f"{proven.code} {proven.title}: proven"
    if known:
        return False, "not proven yet: " + ", ".join(f"{i.code} {i.title}" for i in known)
    return (
        False,
        (
            'no punch list or certificate item in the checklist: add one, such as "Punch list of'
            f' {contract}", and prove it'
        ),
    )


def _is_about(books: Books, title: str, contract: str) -> bool:
    """Whether an item shows acceptance, and names this contract or none."""
    words = title.casefold()
    if not any(sign in words for sign in ACCEPTED):
        return False
    named = {token for token in re.findall(r"[A-Za-z0-9._-]+", title) if token in books.contracts}
    return not named or contract in named


def paper_of(*kinds: str) -> Callable[[AskedBack], tuple[bool, str]]:
    """Papers of the contractor, each valid today."""
    rule = paper(kinds, " and ".join(kinds))
    return lambda asked: rule(asked.after)


RULES: tuple[tuple[str, Callable[[AskedBack], tuple[bool, str]]], ...] = (
    (CONDITIONAL_FINAL, conditional_final_waiver),
    ("unconditional waiver", last_payment_waived),
    (SUPPLIERS, suppliers_final_waivers),
    (ACCEPTANCE, accepted),
    ("insurance", paper_of("liability", "workers comp")),
    ("tax form", paper_of("tax form")),
)
"""Each requirement by its name, in order."""
