"""The package of a draw, in the order in which lenders and title companies want it: each paper
present, missing or waived.

The order and what is in it: draw processes of a state housing agency (request, payees), title
companies (sworn statement, waivers, title date-down), a credit union (permits, inspections), FAR
52.232-5(b)(2) (stored materials); photos and insurance: common practice, no source. What
draw_papers says stands; else what the project itself shows.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from tracker.money.applications import Account, ApplicationState
from tracker.money.books import Books
from tracker.money.gates import Gate
from tracker.money.records import Draw, DrawPaper

PAPERS = (
    "request",
    "cost lines",
    "payees",
    "sworn statement",
    "applications",
    "invoices",
    "waivers",
    "changes",
    "photos",
    "permits and inspections",
    "stored materials",
    "insurance",
    "title date-down",
)
PRINTED = ("request", "cost lines", "payees")
"""What the program prints into the package itself."""

CAUTION = "Lender, title company and attorney decide what they accept; this package only prepares."

WAIVER_GATES = ("conditional waiver", "unconditional waiver", "notice waivers")


@dataclass(frozen=True, slots=True)
class PaperState:
    """One paper of a draw's package: present, missing or waived, and why."""

    what: str
    state: str
    reason: str


def package(
    books: Books,
    draw: Draw,
    accounts: Mapping[str, Account],
    gates: Mapping[tuple[str, int], tuple[Gate, ...]],
) -> tuple[PaperState, ...]:
    """The package of a draw: the usual papers in their order, then what else was entered for it."""
    entered = {p.what: p for p in books.table("draw_papers") if p.draw == draw.number}
    states = states_of(books, draw, accounts)
    found = []
    for what in PAPERS:
        known = entered.pop(what, None)
        found.append(as_entered(known) if known else found_out(books, what, draw, states, gates))
    found.extend(as_entered(paper) for paper in entered.values())
    return tuple(found)


def as_entered(paper: DrawPaper) -> PaperState:
    """A paper as somebody entered it: its reason, else what shows it."""
    return PaperState(paper.what, paper.state, paper.reason or paper.evidence)


def states_of(books: Books, draw: Draw, accounts: Mapping[str, Account]) -> list[ApplicationState]:
    """The applications that name this draw."""
    found = []
    for application in books.table("applications"):
        account = accounts.get(application.contract)
        state = (
            account.state(application.number)
            if account and application.draw == draw.number
            else None
        )
        if state is not None:
            found.append(state)
    return found


def found_out(
    books: Books,
    what: str,
    draw: Draw,
    states: Iterable[ApplicationState],
    gates: Mapping[tuple[str, int], tuple[Gate, ...]],
) -> PaperState:
    """The state of a paper that nobody entered, as far as the project shows it; what it can't know
    is missing.
    """
    known = list(states)
    if what in PRINTED:
        return PaperState(what, "present", "printed with the package")
    if what == "applications":
        return _some(what, len(known), "application", "applications", "no application in this draw")
    if what == "invoices":
        return _invoices(books, draw)
    if what == "waivers":
        return _waivers(known, gates)
    if what == "changes":
        return _changes(books, draw)
    if what == "stored materials" and not any(state.stored for state in known):
        return PaperState(what, "waived", "nothing stored in this draw")
    if what == "insurance":
        return _insurance(books)
    return PaperState(what, "missing", "not marked as present yet")


def _some(what: str, count: int, one: str, many: str, none: str) -> PaperState:
    """Present if there is any, told by its number."""
    return (
        PaperState(what, "present", f"{count} {one if count == 1 else many}")
        if count
        else PaperState(what, "waived", none)
    )


def _invoices(books: Books, draw: Draw) -> PaperState:
    """Each invoice of the draw has its evidence attached."""
    own = [i for i in books.invoices.values() if i.draw == draw.number]
    bare = [i.code for i in own if not i.evidence]
    if bare:
        return PaperState("invoices", "missing", "no evidence for " + ", ".join(bare))
    return _some("invoices", len(own), "invoice", "invoices", "no invoice in this draw")


def _waivers(
    states: Iterable[ApplicationState], gates: Mapping[tuple[str, int], tuple[Gate, ...]]
) -> PaperState:
    """The waiver gates of each application are open."""
    known = [(s.contract, s.number) for s in states]
    closed = [
        f"{contract}/{number}: {gate.reason}"
        for contract, number in known
        for gate in gates.get((contract, number), ())
        if gate.gate in WAIVER_GATES and not gate.open
    ]
    if closed:
        return PaperState("waivers", "missing", "; ".join(closed))
    return _some(
        "waivers",
        len(known),
        "application with its waivers",
        "applications with their waivers",
        "no application in this draw",
    )


def _changes(books: Books, draw: Draw) -> PaperState:
    """Changes approved since the draw before."""
    earlier = [d.period_to for d in books.table("draws") if d.number < draw.number and d.period_to]
    since, until = max(earlier, default=None), draw.period_to or books.today
    approved = [
        c
        for c in books.table("changes")
        if c.state == "approved"
        and c.approved is not None
        and c.approved <= until
        and (since is None or c.approved > since)
    ]
    return _some(
        "changes",
        len(approved),
        "change approved",
        "changes approved",
        "no change approved in the period",
    )


def _insurance(books: Books) -> PaperState:
    """The owner's builder's risk insurance is valid today."""
    for paper in books.table("papers"):
        valid = (paper.from_ is None or paper.from_ <= books.today) and (
            paper.to is None or paper.to >= books.today
        )
        if paper.kind == "builders risk" and valid:
            return PaperState("insurance", "present", f"builders risk {paper.number}".strip())
    return PaperState("insurance", "missing", "no builders risk insurance that is valid today")
