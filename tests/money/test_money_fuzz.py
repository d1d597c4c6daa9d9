"""Any sequence of entries: what the rules refuse is refused, what they take adds up, and nobody is
paid more in silence.

A project of two contracts, a loan and equity gets random entries, one after another; each is kept
only if it brings no fault, as every form and command does. MONEY_FUZZ=2000 in the environment runs
as many examples.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
import os
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.money import again
from tests.money.making import Site, cents, day
from tracker.answers.cost import CostAnswer
from tracker.answers.cost import from_rows as cost_of
from tracker.answers.draws import DrawsAnswer
from tracker.answers.draws import from_rows as draws_of
from tracker.money.books import books_on
from tracker.money.cost_lines import FIGURES
from tracker.money.draft_draw import draft_draw
from tracker.money.faults import faults
from tracker.money.overpaid import PAYABLE
from tracker.money.records import (
    Application,
    ApplicationLine,
    BudgetMove,
    Change,
    ChangeLine,
    Draw,
    Invoice,
    Payment,
    RetainageEvent,
    Source,
)
from tracker.money.standing import standing
from tracker.money.warnings import warnings
from tracker.values.project import Override
from tracker.values.records import new

EXAMPLES = int(os.environ.get("MONEY_FUZZ", "30"))
FIRST = dt.date(2027, 1, 4)
Tables = dict[str, list[Any]]
Entry = tuple[str, int, int, int]

KINDS = (
    "apply",
    "apply",
    "verify",
    "verify",
    "pay",
    "pay",
    "deposit",
    "change",
    "approve",
    "refuse",
    "rate",
    "release",
    "invoice",
    "pay bill",
    "move",
    "override",
    "gates",
    "draw",
    "fund",
    "return",
    "wait",
    "whole",
    "whole",
)
ENTRIES = st.lists(
    st.tuples(
        st.sampled_from(KINDS), st.integers(0, 9), st.integers(0, 99), st.integers(1, 120_000)
    ),
    min_size=1,
    max_size=30,
)


class Ledger:
    """The tables of a project as entries come in, and the day on which one is."""

    def __init__(self, stop: int | None, stored_rate: int | None) -> None:
        site = Site().contract(
            "C1",
            {"A": 800, "B": 400},
            rates={"B": 0},
            stop_retainage_at=stop,
            stored_retainage=stored_rate,
        )
        site.contract("C2", {"L1": 500, "L2": 300}, cost_line={"L1": "A", "L2": "D"}, rate=8_125)
        site.add(new(Source, code="OWN", kind="equity", amount=cents(300)))
        site.add(
            new(
                Source,
                code="LOAN",
                kind="loan",
                amount=cents(2_000),
                rate=8_125,
                retainage=12_000,
                matures=day("12-31"),
            )
        )
        for place, line in enumerate(site.tables["cost_lines"]):
            site.tables["cost_lines"][place] = dataclasses.replace(line, budget=cents(1_500))
        self.tables: Tables = site.tables
        self.today = FIRST
        self.refused = 0

    def take(self, entry: Entry) -> None:
        """Take one entry; what brings a fault is refused and leaves no trace."""
        before = {name: list(rows) for name, rows in self.tables.items()}
        getattr(self, "_" + entry[0].replace(" ", "_"))(*entry[1:])
        if faults(self.tables):
            self.tables = before
            self.refused += 1

    def _rows(self, table: str) -> list[Any]:
        return self.tables.setdefault(table, [])

    def _code(self, table: str) -> str:
        return f"{table[:2]}{len(self._rows(table))}"

    def _swap(self, table: str, old: Any, **cells: Any) -> None:
        rows = self._rows(table)
        rows[rows.index(old)] = dataclasses.replace(old, **cells)

    def _wait(self, which: int, share: int, amount: int) -> None:
        self.today += dt.timedelta(days=which + 1)

    def _apply(self, which: int, share: int, amount: int) -> None:
        contract = "C1" if which % 2 else "C2"
        number = 1 + max(
            (a.number for a in self._rows("applications") if a.contract == contract), default=0
        )
        self.today += dt.timedelta(days=7)
        self._rows("applications").append(
            new(Application, contract=contract, number=number, period_to=self.today)
        )
        lines = [
            (li.line, li.value) for li in self._rows("contract_lines") if li.contract == contract
        ]
        approved = {
            c.number
            for c in self._rows("changes")
            if c.state == "approved" and c.contract == contract
        }
        lines += [
            (f"{li.change}/{li.line}", li.amount)
            for li in self._rows("change_lines")
            if li.change in approved
        ]
        for place, (line, value) in enumerate(lines):
            if (which + place) % 3:
                claimed = value * ((share + 17 * place) % 60) // 100
                stored = value * ((share * 7 + place) % 25) // 100 if which > 6 else None
                row = new(
                    ApplicationLine,
                    contract=contract,
                    number=number,
                    line=line,
                    claimed=claimed,
                    stored=stored,
                )
                self._rows("application_lines").append(row)

    def _verify(self, which: int, share: int, amount: int) -> None:
        waiting = [a for a in self._rows("applications") if a.verified_on is None]
        if waiting:
            one = waiting[which % len(waiting)]
            self._swap("applications", one, verified_on=self.today)
            for line in [
                li
                for li in self._rows("application_lines")
                if (li.contract, li.number) == (one.contract, one.number)
            ]:
                sign = -1 if which == 9 else 1
                self._swap(
                    "application_lines",
                    line,
                    verified=sign * (line.claimed or 0) * min(share + 10, 100) // 100,
                )

    def _whole(self, which: int, share: int, amount: int) -> None:
        """An application that goes all the way to its payment, or stays cleared."""
        for step in (self._apply, self._verify, self._gates, *((self._pay,) if share % 2 else ())):
            step(which, share, amount)

    def _pay(self, which: int, share: int, amount: int) -> None:
        known = self._rows("applications")
        if known:
            one = known[which % len(known)]
            code = self._code("payments")
            payable = next(
                a.left_to_pay_cents
                for a in self.draws().applications
                if (a.contract, a.number) == (one.contract, one.number)
            )
            paid = payable if share < 70 and payable else amount
            self._rows("payments").append(
                new(
                    Payment,
                    code=code,
                    kind="application",
                    contract=one.contract,
                    application=one.number,
                    date=self.today,
                    amount=paid,
                )
            )

    def _deposit(self, which: int, share: int, amount: int) -> None:
        row = new(
            Payment,
            code=self._code("payments"),
            kind="deposit",
            contract="C1" if which % 2 else "C2",
            date=self.today,
            amount=amount // 10 + 1,
        )
        self._rows("payments").append(row)

    def _change(self, which: int, share: int, amount: int) -> None:
        number = f"X{len(self._rows('changes'))}"
        contract = ("C1", "C2", "")[which % 3]
        self._rows("changes").append(
            new(
                Change,
                number=number,
                contract=contract,
                title=number,
                state="priced",
                priced=self.today,
            )
        )
        for line in range(1 + which % 2):
            price = (amount if (which + line) % 4 else -amount) // 5
            self._rows("change_lines").append(
                new(
                    ChangeLine,
                    change=number,
                    line=str(line),
                    cost_line="ABD"[share % 3],
                    amount=price,
                )
            )

    def _approve(self, which: int, share: int, amount: int) -> None:
        waiting = [c for c in self._rows("changes") if c.state == "priced" and c.contract]
        if waiting:
            self._swap(
                "changes", waiting[which % len(waiting)], state="approved", approved=self.today
            )

    def _refuse(self, which: int, share: int, amount: int) -> None:
        waiting = [c for c in self._rows("changes") if c.state == "priced"]
        if waiting:
            self._swap("changes", waiting[which % len(waiting)], state="refused")

    def _rate(self, which: int, share: int, amount: int) -> None:
        row = new(
            RetainageEvent,
            code=self._code("retainage_events"),
            contract="C1" if which % 2 else "C2",
            line="A" if which == 1 else "",
            date=self.today,
            kind="rate",
            rate=share * 333,
            reading="all" if which > 4 else "from then on",
        )
        self._rows("retainage_events").append(row)

    def _release(self, which: int, share: int, amount: int) -> None:
        row = new(
            RetainageEvent,
            code=self._code("retainage_events"),
            contract="C1" if which % 2 else "C2",
            date=self.today,
            kind="release",
            amount=amount // 20 + 1,
        )
        self._rows("retainage_events").append(row)

    def _invoice(self, which: int, share: int, amount: int) -> None:
        kinds = ("work", "deposit", "stored", "own labor", "fee", "interest")
        code = self._code("invoices")
        self._rows("invoices").append(
            new(
                Invoice,
                code=code,
                contractor="ACME",
                cost_line="ABD"[share % 3],
                number=code,
                date=self.today,
                amount=amount // 3 + 1,
                kind=kinds[which % 6],
            )
        )

    def _pay_bill(self, which: int, share: int, amount: int) -> None:
        if self._rows("invoices"):
            bill = self._rows("invoices")[which % len(self._rows("invoices"))]
            row = new(
                Payment,
                code=self._code("payments"),
                kind="invoice",
                invoice=bill.code,
                date=self.today,
                amount=bill.amount if share < 80 else amount,
            )
            self._rows("payments").append(row)

    def _move(self, which: int, share: int, amount: int) -> None:
        row = new(
            BudgetMove,
            number=self._code("budget_moves"),
            date=self.today,
            from_="ABD"[which % 3],
            to="ABD"[share % 3],
            amount=amount // 4 + 1,
        )
        self._rows("budget_moves").append(row)

    def _aside(self, what: str, key: str) -> None:
        row = new(
            Override,
            code=self._code("overrides"),
            what=what,
            key=key,
            date=self.today,
            reason="told the bank",
        )
        self._rows("overrides").append(row)

    def _override(self, which: int, share: int, amount: int) -> None:
        known = self._rows("applications")
        if known:
            one = known[which % len(known)]
            self._aside(PAYABLE, f"{one.contract}/{one.number}")

    def _gates(self, which: int, share: int, amount: int) -> None:
        known = [a for a in self._rows("applications") if a.verified_on]
        if known:
            one = known[which % len(known)]
            for gate in (
                "conditional waiver",
                "unconditional waiver",
                "license",
                "insurance",
                "tax form",
            ):
                self._aside(gate, f"{one.contract}/{one.number}")

    def _draw(self, which: int, share: int, amount: int) -> None:
        number = 1 + max((d.number for d in self._rows("draws")), default=0)
        self._rows("draws").append(new(Draw, number=number, period_to=self.today))
        made = draft_draw(standing(books_on(self.tables, self.today)), number, self.today)
        self._rows("draw_lines").extend(made.lines)
        for one in [
            a for a in self._rows("applications") if (a.contract, a.number) in made.applications
        ]:
            self._swap("applications", one, draw=number)
        for bill in [i for i in self._rows("invoices") if i.code in made.invoices]:
            self._swap("invoices", bill, draw=number)

    def _fund(self, which: int, share: int, amount: int) -> None:
        for draw in [d for d in self._rows("draws") if d.state == "draft"]:
            self._swap("draws", draw, state="funded", sent=self.today, funded_on=self.today)
            for line in [li for li in self._rows("draw_lines") if li.draw == draw.number]:
                funded = (
                    line.asked
                    if which < 6
                    else min(line.asked, line.asked * share // 100 + (which == 9))
                )
                self._swap("draw_lines", line, funded=funded)

    def _return(self, which: int, share: int, amount: int) -> None:
        drafts = [d for d in self._rows("draws") if d.state == "draft"]
        if drafts:
            self._swap("draws", drafts[0], state="returned", sent=self.today)

    def draws(self) -> DrawsAnswer:
        """The answer of today."""
        return draws_of(self.tables, self.today)

    def cost(self) -> CostAnswer:
        """The answer of today."""
        return cost_of(self.tables, self.today)


RATES = st.none() | st.sampled_from([0, 5_000, 50_000, 33_333])


def after(entries: list[Entry], stop: int | None = None, stored_rate: int | None = None) -> Ledger:
    """The ledger after all entries, at the end of the last day."""
    ledger = Ledger(stop, stored_rate)
    for entry in entries:
        ledger.take(entry)
    return ledger


fuzz = settings(max_examples=EXAMPLES, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@given(ENTRIES, RATES, RATES)
@fuzz
def test_a_contract_stands_as_the_written_rules_say(
    entries: list[Entry], stop: int | None, stored_rate: int | None
) -> None:
    """Earned, held and due line by line, and what is payable, against a second computation in
    fractions.
    """
    ledger = after(entries, stop, stored_rate)
    found = {(a.contract, a.number): a for a in ledger.draws().applications}
    for contract in ("C1", "C2"):
        for wanted in again.account(ledger.tables, contract, ledger.today):
            one = found[contract, wanted["number"]]
            assert {li.line: li.earned_cents for li in one.lines} == wanted["earned"]
            assert {li.line: li.retainage_cents for li in one.lines} == wanted["held"]
            assert {li.line: li.due_cents for li in one.lines} == wanted["due"]
            assert one.payable_cents == wanted["payable"]


@given(ENTRIES, RATES)
@fuzz
def test_nobody_is_paid_more_than_was_earned_in_silence(
    entries: list[Entry], stop: int | None
) -> None:
    """Wherever payments on an application lie above what was payable on it, an override is on
    record or a warning tells it.

    Without either, all that was paid on a contract lies within what was earned and not held when it
    was approved, and deposits.
    """
    ledger = after(entries, stop)
    told = {
        p.key
        for p in warnings(ledger.tables, ledger.today)
        if p.table == "payments" and "was payable" in p.what
    }
    aside = {o.key for o in ledger.tables.get("overrides", ()) if o.what == PAYABLE}
    payments = ledger.tables.get("payments", [])
    for contract in ("C1", "C2"):
        states = again.account(ledger.tables, contract, ledger.today)
        payable = {f"{contract}/{s['number']}": s["payable"] for s in states}
        earned = max((sum(s["earned"].values()) for s in states), default=0)
        loud = False
        for number in {
            p.application for p in payments if p.kind == "application" and p.contract == contract
        }:
            mine = [
                p
                for p in payments
                if p.kind == "application" and (p.contract, p.application) == (contract, number)
            ]
            key = f"{contract}/{number}"
            most = payable.get(key, 0) + (
                released_since(ledger, contract) if states and number == states[-1]["number"] else 0
            )
            if sum(p.amount for p in mine) > most:
                loud = True
                assert key in aside or {p.code for p in mine} & told, key
        on_applications = sum(
            p.amount for p in payments if p.contract == contract and p.kind == "application"
        )
        if not loud:
            assert on_applications <= max(earned, 0)


@given(ENTRIES, RATES)
@fuzz
def test_the_payment_list_is_never_above_what_is_owed_in_all(
    entries: list[Entry], stop: int | None
) -> None:
    """On each contract: dues to date by the second computation, with releases since, less
    everything paid on it.
    """
    ledger = after(entries, stop)
    answer = ledger.draws()
    for contract in ("C1", "C2"):
        states = again.account(ledger.tables, contract, ledger.today)
        dues = sum(sum(state["due"].values()) for state in states) + released_since(
            ledger, contract
        )
        out = sum(p.amount for p in ledger.tables.get("payments", ()) if p.contract == contract)
        listed = [
            d
            for d in answer.payments_due
            if d.kind != "invoice" and d.key.startswith(f"{contract}/")
        ]
        assert sum(d.cents for d in listed) <= max(dues - out, 0)
        left = {
            f"{a.contract}/{a.number}": a.left_to_pay_cents
            for a in answer.applications
            if a.state != "entered"
        }
        assert {d.key: d.cents for d in listed if d.kind == "application"} == {
            key: cents for key, cents in left.items() if cents and key.startswith(f"{contract}/")
        }


def released_since(ledger: Ledger, contract: str) -> int:
    """What releases after the last application that counts gave back."""
    ends = [
        a.period_to
        for a in ledger.tables.get("applications", ())
        if a.contract == contract and a.verified_on
    ]
    last = [
        a.period_to
        for a in ledger.tables.get("applications", ())
        if a.contract == contract and a.verified_on and ends
    ]
    if not last:
        return 0
    return sum(
        e.amount
        for e in ledger.tables.get("retainage_events", ())
        if e.contract == contract and e.kind == "release" and e.date > max(last)
    )


@given(ENTRIES, RATES)
@fuzz
def test_every_total_foots_and_nothing_is_lost(entries: list[Entry], stop: int | None) -> None:
    ledger = after(entries, stop)
    cost, draws = ledger.cost(), ledger.draws()
    for name in FIGURES:
        assert sum(getattr(li, f"{name}_cents") for li in cost.lines) == getattr(
            cost.total, f"{name}_cents"
        )
    assert cost.total.moves_cents == 0
    assert cost.total.paid_cents == sum(p.amount for p in ledger.tables.get("payments", ()))
    assert cost.unplaced == ()
    for draw in draws.draws:
        for column in (
            "budget_now",
            "drawn_before",
            "this_draw",
            "retainage",
            "drawn_to_date",
            "left",
        ):
            assert sum(getattr(li, f"{column}_cents") for li in draw.lines) == getattr(
                draw.total, f"{column}_cents"
            )
        for line in (*draw.lines, draw.total):
            assert line.drawn_before_cents + line.this_draw_cents == line.drawn_to_date_cents
            assert line.budget_now_cents - line.drawn_to_date_cents == line.left_cents
    for one in draws.applications:
        for column in (
            "in_place",
            "stored",
            "earned",
            "retainage",
            "approved_before",
            "due",
            "payable",
            "paid_before",
        ):
            assert sum(getattr(li, f"{column}_cents") for li in one.lines) == getattr(
                one, f"{column}_cents"
            )
    for source in draws.sources:
        assert source.left_cents >= 0
    assert all(claim.claimable_cents >= 0 for claim in draws.claimable)
    assert draws.in_balance == (draws.short_cents == 0)
    assert sum(w.due_cents for w in draws.weeks) == sum(
        d.cents for d in draws.payments_due if d.friday <= draws.weeks[-1].friday
    )


@given(ENTRIES)
@fuzz
def test_a_draw_asks_nothing_twice_and_nothing_above_a_budget(entries: list[Entry]) -> None:
    """All draws together never bring more on a line than became payable and was not held back by
    the lender, cuts apart; a draw prepared by the rules lies within the line's budget then; what
    was returned brings nothing.
    """
    ledger = after([*entries, ("draw", 0, 0, 1)])
    draws = ledger.draws()
    for claim in draws.claimable:
        assert claim.claimable_cents == max(
            claim.became_payable_cents - claim.lenders_retainage_cents - claim.drawn_cents, 0
        )
    last = draws.draws[-1]
    for line in last.lines:
        if line.this_draw_cents > 0:
            assert line.above_budget_cents == 0
    again_asked = draft_draw(
        standing(books_on(ledger.tables, ledger.today)), last.number + 1, ledger.today
    )
    assert again_asked.asked == 0
    drawn = {s.code: s.drawn_cents for s in draws.sources}
    loan = next(s for s in draws.sources if s.code == "LOAN")
    assert drawn["LOAN"] <= loan.amount_cents
