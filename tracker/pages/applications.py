"""Pay applications: on the page of Draws, and as a document with the contract, the work, the money;
line by line; what stops their payment.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import replace

from tracker.answers.draw_rows import PayApplication, PayGate, PayLine
from tracker.money.records import Application
from tracker.pages.cells import amount, day
from tracker.pages.marks import ASKS, BLOCKS, DONE, FINE
from tracker.pages.page import (
    CODE,
    MONEY,
    NOT_ON_PAPER,
    SHARE,
    Cell,
    Column,
    Paper,
    Part,
    Piece,
    Row,
    Section,
    cells_of,
    total,
)
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows

CONTRACT, WORK, MONEY_GROUP = "The contract", "The work", "The money"

SUMS = (
    (CONTRACT, "as signed", "as_signed_cents", ""),
    ("", "approved changes", "changes_cents", ""),
    ("", "now", "contract_now_cents", "{r0}+{r1}"),
    (WORK, "in place to date", "in_place_cents", ""),
    ("", "stored", "stored_cents", ""),
    ("", "earned", "earned_cents", "{r3}+{r4}"),
    (MONEY_GROUP, "held back", "retainage_cents", ""),
    ("", "approved before", "approved_before_cents", ""),
    ("", "due now", "due_cents", "{r5}-{r6}-{r7}"),
    ("Beside it", "payable now, after deposits and what was due before", "payable_cents", ""),
    ("", "paid before", "paid_before_cents", ""),
    ("", "paid on this application", "paid_cents", ""),
    ("", "still to pay on this contract", "still_to_pay_cents", "{r2}-{r7}-{r8}"),
    ("", "of which held back", "retainage_cents", "{r6}"),
)
"""Each sum: its group, its name, the answer's field, its formula by rows."""

LINES = (
    Column("line", "line", CODE),
    Column("name", "name"),
    Column("value", "value", MONEY, sums=True),
    Column("in_place", "in place to date", MONEY, WORK, sums=True),
    Column("stored", "stored", MONEY, WORK, sums=True),
    Column("earned", "earned", MONEY, WORK, "{in_place}+{stored}", sums=True),
    Column("retainage", "held back", MONEY, MONEY_GROUP, sums=True),
    Column("approved_before", "approved before", MONEY, MONEY_GROUP, sums=True),
    Column(
        "due", "due now", MONEY, MONEY_GROUP, "{earned}-{retainage}-{approved_before}", sums=True
    ),
    Column("claimed", "claimed", MONEY, "in this period"),
    Column("verified", "verified", MONEY, "in this period"),
    Column("inspector", "lender's inspector saw", SHARE),
)

PERIOD = (
    Column("claimed", "claimed", MONEY),
    Column("verified", "verified", MONEY),
    Column("stored", "stored", MONEY),
    Column("inspector", "seen", SHARE),
    Column("line", "line", CODE),
    Column("name", ""),
    Column("above", ""),
)
"""What an application says of its lines, where there is little room."""

LIST = (
    Column("key", "application", most=26),
    Column("state", "state", CODE, most=8),
    Column("earned", "earned", MONEY, late=True),
    Column("retainage", "held back", MONEY, late=True),
    Column("payable", "payable", MONEY),
    Column("left_to_pay", "left to pay", MONEY),
    Column("closed", "closed gates", most=50),
)
SIGN = ("Contractor", "Owner, who has seen the work")


def named(one: PayApplication) -> str:
    """An application as people name it."""
    return f"{one.contract}/{one.number}"


def listed(known: Sequence[PayApplication]) -> Part:
    """Pay applications, those not paid first as a person works on them; then the paid ones."""
    ordered = sorted(known, key=lambda one: one.state == "paid")
    todo = sum(one.state != "paid" for one in known)
    return Part(
        "applications",
        "pay applications",
        LIST,
        tuple(list_row(one) for one in ordered),
        count=f"{todo} open",
        marked=True,
        table="applications",
        on=NOT_ON_PAPER,
    )


def list_row(one: PayApplication) -> Row:
    """One application in the list."""
    closed = [gate.gate for gate in one.gates if not gate.open and one.state != "paid"]
    mark = {"paid": DONE, "entered": ASKS}.get(one.state, BLOCKS if closed else FINE)
    key = named(one)
    cells = cells_of(one, LIST, key=f"{key} {one.contractor}", closed=", ".join(closed))
    return Row(cells, "applications", key, mark=mark, about=lambda: about(one))


def about(one: PayApplication) -> list[Section | Part]:
    """Gates, money in three groups, the lines of which it says something."""
    head = Section(f"{named(one)} through {day(one.period_to)}: {one.state}", [one.contractor])
    return [head, gates(named(one), one.gates), sums(one), period(one)]


def sums(one: PayApplication, words: tuple[str, ...] = ()) -> Part:
    """The contract, the work, the money."""
    return Part(
        f"sums-{named(one)}",
        f"application {named(one)}",
        (Column("group", ""), Column("what", "", CODE), Column("amount", "amount", MONEY)),
        tuple(Row((g, what, getattr(one, field)), live=live) for g, what, field, live in SUMS),
        words=words,
    )


def gates(key: str, known: Sequence[PayGate], aside: str = "") -> Part:
    """What stops a payment, and what was set aside with its reason. key: of the application.

    aside: why more was paid than was payable; "" where it was not, or nobody said.
    """
    from tracker.money.overpaid import PAYABLE

    columns = (
        Column("gate", "gate to payment", CODE),
        Column("state", "state", CODE),
        Column("reason", "reason"),
    )
    rows = [gate_row(gate) for gate in known]
    if aside:
        rows.append(Row((PAYABLE, "set aside", f"set aside: {aside}")))
    return Part(f"gates-{key}", f"gates to payment {key}", columns, tuple(rows), marked=True)


def gate_row(gate: PayGate) -> Row:
    """A gate to payment: open, closed or set aside, with its reason."""
    state: Cell = "set aside" if gate.overridden else "open"
    mark = FINE
    if not gate.open:
        state, mark = Piece("CLOSED", "warn"), BLOCKS
    return Row((gate.gate, state, gate.reason), mark=mark)


def period(one: PayApplication) -> Part:
    """What it says of its lines in this period, and what the lender's inspector saw of them."""
    rows = tuple(period_row(line) for line in one.lines if is_billed(line))
    return Part(f"period-{named(one)}", "lines of this period", PERIOD, rows, marked=True)


def is_billed(line: PayLine) -> bool:
    """Whether an application says something of a line."""
    known = line.verified_cents, line.stored_cents, line.above_inspector_cents
    return line.claimed_cents is not None or any(known)


def period_row(line: PayLine) -> Row:
    """Claimed, verified, stored, and what was seen of a line."""
    above: Cell = ""
    if line.above_inspector_cents:
        said = f"{amount(line.above_inspector_cents)} above what the lender's inspector saw"
        above = Piece(said, "warn")
    return Row(cells_of(line, PERIOD, above=above), mark=BLOCKS if above else FINE)


def lines(one: PayApplication) -> Part:
    """Line by line, footing to the sums."""
    foot = total(
        LINES,
        "total",
        value=one.contract_now_cents,
        in_place=one.in_place_cents,
        stored=one.stored_cents,
        earned=one.earned_cents,
        retainage=one.retainage_cents,
        approved_before=one.approved_before_cents,
        due=one.due_cents,
    )
    return Part(
        f"lines-{named(one)}",
        f"lines {named(one)}",
        LINES,
        tuple(Row(cells_of(line, LINES)) for line in one.lines),
        (foot,),
        empty="It has no line.",
        wide=True,
    )


def document(rows: Rows, today: dt.date, number: str | None) -> Paper:
    """One application, or each contract's application of a number.

    number: CONTRACT/N, or N for the application N of every contract that has one; None: the one
    whose period ends last.
    """
    from tracker.answers.draws import from_rows
    from tracker.approvals.cautions import for_view

    answer = from_rows(rows, today)
    chosen = choose(answer.applications, number)
    aside = {one.key: one.reason for one in answer.overpaid}
    first, *more = all_on_paper(chosen, rows, aside)
    parts = (replace(first, new_page=False), *more)
    alone = len(chosen) == 1
    title = f"Pay application {named(chosen[0])}" if alone else f"Pay applications number {number}"
    main = f"lines-{named(chosen[0])}" if alone else ""
    return Paper(title, parts, tuple(c.text for c in for_view("draws")), main)


def choose(known: Sequence[PayApplication], number: str | None) -> list[PayApplication]:
    """The applications that are asked for; ProblemError says which there are."""
    if not known:
        do = "enter one, or import applications.csv"
        raise ProblemError(Problem(what="there is no pay application yet", do=do))
    if number is None:
        return [max(enumerate(known), key=lambda pair: (pair[1].period_to, pair[0]))[1]]
    found = [one for one in known if number in (named(one), str(one.number))]
    if not found:
        do = f"take CONTRACT/N or N; the last are {', '.join(named(one) for one in known[-8:])}"
        raise ProblemError(Problem(what="there is no such pay application", value=number, do=do))
    return found


def on_paper(one: PayApplication, row: Application, who: str, aside: str) -> list[Part]:
    """The parts of one application: sums, gates with the lines to sign on; its lines on a wide
    page. who: the contractor's name. aside: why more was paid than was payable.
    """
    seen = f"verified {day(row.verified_on)}" if row.verified_on else "not verified yet"
    if row.verified_on and row.verified_by:
        seen += f" by {row.verified_by}"
    words = [
        f"{who}. Contract {one.contract}, application {one.number}, work through"
        f" {day(one.period_to)}.",
        f"State: {one.state}; {seen}.",
    ]
    if one.state == "entered":
        words.append(
            "It does not count yet: the figures stand as they would if it were verified as entered."
        )
    stops = replace(gates(named(one), one.gates, aside), sign=SIGN)
    return [sums(one, tuple(words)), stops, lines(one)]


def all_on_paper(
    chosen: Sequence[PayApplication], rows: Rows, aside: Mapping[str, str]
) -> list[Part]:
    """The parts of applications, each on a page of its own. aside: by application, why more was
    paid than was payable.
    """
    by = {(row.contract, row.number): row for row in rows.get("applications", ())}
    names = {who.code: who.name or who.code for who in rows.get("contractors", ())}
    found: list[Part] = []
    for one in chosen:
        who = names.get(one.contractor, one.contractor)
        first, *more = on_paper(one, by[one.contract, one.number], who, aside.get(named(one), ""))
        found += [replace(first, new_page=True), *more]
    return found
