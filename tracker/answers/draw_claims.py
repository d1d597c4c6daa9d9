"""What the owner's sworn statement names beside contracts and bills: notices to owner, and what is
asked for and not agreed.

An owner who swears that nobody has a claim but those listed has to list these too. Michigan, as one
state, wants each contractor, subcontractor and supplier on a sworn statement and makes a false one
a crime (MCL 570.1110).
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from tracker.answers.draw_payees import names
from tracker.answers.draw_request_rows import NotAgreed, NoticeReceived
from tracker.answers.draw_rows import PayApplication
from tracker.money.books import Books
from tracker.money.gates import later, same
from tracker.money.records import LienNotice, Waiver
from tracker.money.schedule_of_values import is_pending
from tracker.values.money import dollars
from tracker.values.sums import totals

ENDS = "unconditional final"
"""The kind of waiver that ends a claim for good."""


def notices_received(books: Books) -> tuple[NoticeReceived, ...]:
    """Every notice to owner received by today, in row order."""
    people = names(books.table("contractors"))
    found = []
    for notice in books.table("lien_notices"):
        if later(notice.received, books.today):
            continue
        contract = books.contracts.get(notice.contract)
        given = _waivers(books, notice)
        last = max(
            given,
            key=lambda w: (w.through or w.date or dt.date.min, w.date or dt.date.min),
            default=None,
        )
        found.append(
            NoticeReceived(
                from_party=notice.from_party,
                through=people.get(contract.contractor, contract.contractor) if contract else "",
                contract=notice.contract,
                received=notice.received,
                last_waiver=_in_words(last) if last else "none",
                open=not any(w.kind == ENDS for w in given),
            )
        )
    return tuple(found)


def _waivers(books: Books, notice: LienNotice) -> list[Waiver]:
    """The waivers that who sent a notice gave on that contract by today."""
    return [
        w
        for w in books.table("waivers")
        if w.contract == notice.contract
        and same(w.from_party) == same(notice.from_party)
        and not later(w.date, books.today)
    ]


def _in_words(waiver: Waiver) -> str:
    """A waiver with its amount and the day through which it goes."""
    amount = f", {dollars(waiver.amount)}" if waiver.amount is not None else ""
    through = f", through {waiver.through.isoformat()}" if waiver.through else ""
    return f"{waiver.kind}{amount}{through}"


def not_agreed(books: Books, applications: Iterable[PayApplication]) -> tuple[NotAgreed, ...]:
    """Changes asked for and not decided, then pay applications not verified, or billed above what
    was verified in the last.
    """
    people = names(books.table("contractors"))
    price = totals((line.change, line.amount) for line in books.table("change_lines"))
    found = []
    for change in books.table("changes"):
        if is_pending(change, books.today):
            contract = books.contracts.get(change.contract)
            who = people.get(contract.contractor, contract.contractor) if contract else ""
            state = "asked for, not agreed" if change.number in price else "asked for, no price yet"
            what = f"change {change.number} {change.title}".strip()
            found.append(NotAgreed(what, who, change.contract, price.get(change.number), state))
    known = list(applications)
    last = {one.contract: one.number for one in known if one.state != "entered"}
    for one in known:
        who, what = (
            people.get(one.contractor, one.contractor),
            f"application {one.contract}/{one.number}",
        )
        if one.state == "entered":
            billed = sum(line.claimed_cents or 0 for line in one.lines)
            found.append(NotAgreed(what, who, one.contract, billed, "billed, not verified"))
        elif last[one.contract] == one.number:
            more = sum(
                max((line.claimed_cents or 0) - (line.verified_cents or 0), 0) for line in one.lines
            )
            if more:
                found.append(
                    NotAgreed(what, who, one.contract, more, "billed above what was verified")
                )
    return tuple(found)
