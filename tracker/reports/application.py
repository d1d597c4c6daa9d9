"""A pay application: the contract, the work, the money; line by line; what stops its payment."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from tracker.answers.draw_rows import PayApplication
from tracker.answers.draws import from_rows
from tracker.approvals.cautions import for_view
from tracker.money.overpaid import PAYABLE
from tracker.reports.document import CODE, MONEY, SHARE, Column, Document, Part, day
from tracker.reports.making import document_of, names_of
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
    Column("line", "Line", CODE),
    Column("name", "Name"),
    Column("value", "Value", MONEY, sums=True),
    Column("in_place", "In place to date", MONEY, WORK, sums=True),
    Column("stored", "Stored", MONEY, WORK, sums=True),
    Column("earned", "Earned", MONEY, WORK, "{in_place}+{stored}", sums=True),
    Column("retainage", "Held back", MONEY, MONEY_GROUP, sums=True),
    Column("approved_before", "Approved before", MONEY, MONEY_GROUP, sums=True),
    Column(
        "due", "Due now", MONEY, MONEY_GROUP, "{earned}-{retainage}-{approved_before}", sums=True
    ),
    Column("claimed", "Claimed", MONEY, "In this period"),
    Column("verified", "Verified", MONEY, "In this period"),
    Column("inspector", "Lender's inspector saw", SHARE),
)


def documents(rows: Rows, today: dt.date, number: str | None) -> Document:
    """One application, or each contract's application of a number.

    number: CONTRACT/N, or N for the application N of every contract that has one; None: the one
    whose period ends last.
    """
    answer = from_rows(rows, today)
    chosen = choose(answer.applications, number)
    aside = {one.key: one.reason for one in answer.overpaid}
    names = names_of(rows, "contractors")
    by = {(a.contract, a.number): a for a in rows.get("applications", ())}
    parts: list[Part] = []
    for place, one in enumerate(chosen):
        row = by[one.contract, one.number]
        seen = f"verified {day(row.verified_on)}" + (
            f" by {row.verified_by}" if row.verified_by else ""
        )
        parts += application(
            one,
            names.get(one.contractor, one.contractor),
            seen if row.verified_on else "not verified yet",
            place,
            aside.get(named(one), ""),
        )
    title = (
        f"Pay application {named(chosen[0])}"
        if len(chosen) == 1
        else f"Pay applications number {number}"
    )
    cautions = [c.text for c in for_view("draws")]
    return document_of(
        title,
        rows,
        today,
        parts,
        cautions,
        main=f"lines-{named(chosen[0])}" if len(chosen) == 1 else "",
    )


def choose(known: Sequence[PayApplication], number: str | None) -> list[PayApplication]:
    """The applications that are asked for; ProblemError says which there are."""
    if not known:
        raise ProblemError(
            Problem(
                what="there is no pay application yet", do="enter one, or import applications.csv"
            )
        )
    if number is None:
        return [max(enumerate(known), key=lambda pair: (pair[1].period_to, pair[0]))[1]]
    found = [one for one in known if number in (named(one), str(one.number))]
    if not found:
        shown = ", ".join(named(one) for one in known[-8:])
        raise ProblemError(
            Problem(
                what="there is no such pay application",
                value=number,
                do=f"take CONTRACT/N or N; the last are {shown}",
            )
        )
    return found


def named(one: PayApplication) -> str:
    """An application as people name it."""
    return f"{one.contract}/{one.number}"


def application(
    one: PayApplication, contractor: str, seen: str, place: int, aside: str = ""
) -> list[Part]:
    """The parts of one application: sums, gates with the lines to sign on; its lines on a wide
    page.

    aside: why more was paid than was payable; "" where it was not, or nobody said.
    """
    words = [
        (
            f"{contractor}. Contract {one.contract}, application {one.number}, work through"
            f" {day(one.period_to)}."
        ),
        f"State: {one.state}; {seen}.",
    ]
    if one.state == "entered":
        words.append(
            "It does not count yet: the figures stand as they would if it were verified as entered."
        )
    return [
        Part(
            f"sums-{named(one)}",
            f"Application {named(one)}",
            (Column("group", ""), Column("what", ""), Column("amount", "Amount", MONEY)),
            tuple((group, what, getattr(one, field)) for group, what, field, _ in SUMS),
            words=tuple(words),
            live=tuple(formula for *_, formula in SUMS),
            new_page=place > 0,
        ),
        gates(one, aside),
        lines(one),
    ]


def gates(one: PayApplication, aside: str) -> Part:
    """What stops the payment, and what was set aside with its reason."""
    columns = (
        Column("gate", "Gate to payment"),
        Column("state", "State", CODE),
        Column("reason", "Reason"),
    )
    rows = tuple(
        (g.gate, "set aside" if g.overridden else "open" if g.open else "CLOSED", g.reason)
        for g in one.gates
    )
    if aside:
        rows = (*rows, (PAYABLE, "set aside", f"set aside: {aside}"))
    sign = ("Contractor", "Owner, who has seen the work")
    return Part(f"gates-{named(one)}", f"Gates {named(one)}", columns, rows, sign=sign)


def lines(one: PayApplication) -> Part:
    """Line by line, footing to the sums."""
    rows = tuple(
        (
            line.line,
            line.name,
            line.value_cents,
            line.in_place_cents,
            line.stored_cents,
            line.earned_cents,
            line.retainage_cents,
            line.approved_before_cents,
            line.due_cents,
            line.claimed_cents,
            line.verified_cents,
            line.inspector_bp,
        )
        for line in one.lines
    )
    foot = (
        "Total",
        "",
        one.contract_now_cents,
        one.in_place_cents,
        one.stored_cents,
        one.earned_cents,
        one.retainage_cents,
        one.approved_before_cents,
        one.due_cents,
        None,
        None,
        None,
    )
    return Part(
        f"lines-{named(one)}",
        f"Lines {named(one)}",
        LINES,
        rows,
        foot,
        empty="It has no line.",
        wide=True,
    )
