"""What may still be paid on a contract is never more than is owed on it in all; the last money has
requirements of its own.
"""

from __future__ import annotations

import dataclasses
from typing import Any

import pytest

from tests.every import every
from tests.money.making import TODAY, Site, cents, day
from tests.money.test_gates import papers, waiver
from tracker.answers.draw_request import from_rows as request
from tracker.answers.draw_rows import DueRow
from tracker.answers.draws import from_rows
from tracker.approvals.records import ChecklistItem
from tracker.money.records import Draw, Invoice, LienNotice, Source
from tracker.money.warnings import warnings
from tracker.values.project import Override
from tracker.values.records import new


def credited() -> Site:
    """10,000 earned and nothing held: 9,000 due and 1,000 held back at first; then a credit of
    2,000.
    """
    site = Site().contract("C1", {"A": 10_000}).application(1, {"A": 10_000})
    return site.change("X", "C1", {"A": -2_000}, approved="2-10").application(2, {})


def listed(site: Site) -> list[tuple[str, str, int]]:
    """The payment list: what for, which, how much."""
    return [(one.kind, one.key, one.cents) for one in from_rows(site.tables, TODAY).payments_due]


def test_a_release_is_not_paid_to_one_who_is_paid_ahead_after_a_credit() -> None:
    """9,000 paid of 10,000 - 2,000 = 8,000 with the release of 800: 1,000 paid ahead, nothing
    payable.
    """
    site = credited().pay("2-1", 9_000, number=1).release("3-5", 800)
    answer = from_rows(site.tables, TODAY)
    assert answer.applications[1].due_cents == cents(-1_800)
    assert [one.paid_ahead_cents for one in answer.exposure] == [cents(1_000)]
    assert listed(site) == []


def test_a_release_is_not_paid_beside_a_deposit_that_is_not_earned() -> None:
    """Deposit 30,000; earned 20,000 of which 2,000 is held; all of that released: 10,000 paid
    ahead, nothing payable.
    """
    site = (
        Site()
        .contract("C1", {"A": 60_000})
        .pay("1-6", 30_000, kind="deposit")
        .application(1, {"A": 20_000})
    )
    site.release("2-5", 2_000)
    assert [one.paid_ahead_cents for one in from_rows(site.tables, TODAY).exposure] == [
        cents(10_000)
    ]
    assert listed(site) == []


def test_an_older_application_is_not_paid_beyond_what_a_later_credit_leaves() -> None:
    """9,000 of the first application is unpaid, then the credit makes 7,200 of it: list,
    application and draw say 7,200.
    """
    site = credited()
    assert listed(site) == [("application", "C1/1", cents(7_200))]
    first, second = from_rows(site.tables, TODAY).applications
    assert (first.payable_cents, first.left_to_pay_cents) == (cents(9_000), cents(7_200))
    assert (second.payable_cents, second.left_to_pay_cents) == (0, 0)


def test_the_conditional_waiver_is_for_what_a_later_credit_leaves() -> None:
    site = credited().add(waiver("conditional progress", 1, 9_000, "1-28"))
    assert waiver_gate(site) == (False, "the conditional waiver is not for 7,200.00")
    site.tables["waivers"] = [waiver("conditional progress", 1, 7_200, "1-28")]
    assert waiver_gate(site)[0]
    site.pay("3-1", 3_000, number=1)
    assert waiver_gate(site)[0]
    site.pay("3-2", 4_200, number=1)
    assert from_rows(site.tables, TODAY).applications[0].state == "paid"


def waiver_gate(site: Site) -> tuple[bool, str]:
    """The first application's requirement of a conditional waiver."""
    gate = next(
        g
        for g in from_rows(site.tables, TODAY).applications[0].gates
        if g.gate == "conditional waiver"
    )
    return gate.open, gate.reason


def test_a_second_release_is_payable_for_what_the_first_left() -> None:
    """2,000 held, 20,000 earned, a deposit of 18,500: of 1,000 and 600 released, 500 and 600 are
    payable.
    """
    site = (
        Site()
        .contract("C1", {"A": 60_000})
        .application(1, {"A": 20_000})
        .pay("1-20", 18_500, kind="deposit")
    )
    site.release("2-5", 1_000).release("2-6", 600)
    rows = [one for one in from_rows(site.tables, TODAY).payments_due if one.kind == "release"]
    assert [(one.release, one.cents) for one in rows] == [("E0", cents(500)), ("E1", cents(600))]


def last_money() -> Site:
    """10,000 earned, 9,000 paid and waived for good, 1,000 released, every requirement of
    it met.
    """
    site = (
        Site()
        .contract("C1", {"A": 10_000})
        .application(1, {"A": 10_000})
        .pay("2-1", 9_000, number=1)
        .release("3-5", 1_000)
    )
    site.add(*papers("license"), waiver("unconditional progress", 1, 9_000, "1-28"))
    site.add(
        waiver("conditional final", 1, 1_000, "3-5"),
        new(LienNotice, code="N", contract="C1", from_party="Invented Lumber"),
    )
    site.add(waiver("conditional final", 1, 50, "3-5", from_party="Invented Lumber"))
    return site.add(
        new(
            ChecklistItem,
            code="PL",
            title="Punch list of C1",
            state="proven",
            evidence="signed list",
        )
    )


def release_row(site: Site) -> DueRow:
    """The release on the payment list."""
    return next(one for one in from_rows(site.tables, TODAY).payments_due if one.kind == "release")


def unmet(site: Site) -> list[tuple[str, str]]:
    """The requirements of the release that are not met, with their reasons."""
    return [(g.gate, g.reason) for g in release_row(site).gates if not g.open]


def without(site: Site, table: str, *codes: str) -> Site:
    """The site without some rows."""
    site.tables[table] = [row for row in site.tables[table] if row.code not in codes]
    return site


def test_the_last_money_is_paid_once_every_requirement_is_met() -> None:
    row = release_row(last_money())
    assert [g.gate for g in row.gates] == [
        "conditional final waiver",
        "unconditional waiver",
        "final waivers of suppliers",
        "punch list or certificate",
        "insurance",
        "tax form",
    ]
    assert row.closed == () and every(g.reason for g in row.gates)


@pytest.mark.parametrize(
    ("table", "code", "gate", "reason"),
    [
        ("waivers", "con1", "conditional final waiver", "no conditional final waiver for 1,000.00"),
        (
            "waivers",
            "unc1",
            "unconditional waiver",
            "no unconditional waiver for application 1, 9,000.00",
        ),
        (
            "waivers",
            "con1Inv",
            "final waivers of suppliers",
            "no final waiver from Invented Lumber",
        ),
        (
            "checklist",
            "PL",
            "punch list or certificate",
            (
                'no punch list or certificate item in the checklist: add one, such as "Punch list'
                ' of C1", and prove it'
            ),
        ),
        ("papers", "Plia0", "insurance", "no liability on file"),
        ("papers", "Ptax2", "tax form", "no tax form on file"),
    ],
)
def test_the_last_money_is_stopped_by_each_requirement_alone(
    table: str, code: str, gate: str, reason: str
) -> None:
    """FAR 52.232-5(h): the release of claims comes before final payment."""
    site = without(last_money(), table, code)
    assert unmet(site) == [(gate, reason)]
    assert release_row(site).closed == (reason if reason.startswith(gate) else f"{gate}: {reason}",)
    site.add(
        new(Override, code="OV", what=gate, key="E0", date=TODAY, reason="agreed with the lender")
    )
    assert unmet(site) == []
    (aside,) = [g for g in release_row(site).gates if g.overridden]
    assert aside.reason == f"set aside: agreed with the lender ({reason})"


@pytest.mark.parametrize("amount", [999.99, 1_000.01])
def test_a_final_waiver_for_another_amount_does_not_do(amount: float) -> None:
    site = without(last_money(), "waivers", "con1").add(
        waiver("conditional final", 2, amount, "3-5")
    )
    assert unmet(site) == [
        ("conditional final waiver", "the conditional final waiver is not for 1,000.00")
    ]


def test_two_releases_of_one_amount_take_a_final_waiver_each() -> None:
    site = last_money()
    site.tables["retainage_events"] = []
    site.release("3-5", 500).release("3-6", 500)
    site.tables["waivers"] = [w for w in site.tables["waivers"] if w.code != "con1"]
    site.add(waiver("conditional final", 1, 500, "3-5"))
    rows = [one for one in from_rows(site.tables, TODAY).payments_due if one.kind == "release"]
    assert [
        [g.open for g in one.gates if g.gate == "conditional final waiver"] for one in rows
    ] == [[True], [False]]


@pytest.mark.parametrize(
    ("title", "state", "met"),
    [
        ("Punch list of C1", "proven", True),
        ("Punch list of C1", "in hand", False),
        ("Punch list of C2", "proven", False),
        ("Punch list closed", "proven", True),
        ("Certificate issued and read", "proven", True),
        ("Certificate of occupancy", "proven", True),
        ("Certificates of insurance", "proven", False),
    ],
)
def test_the_work_is_accepted_by_a_proven_item_of_its_own_or_of_the_building(
    title: str, state: str, met: bool
) -> None:
    site = last_money().contract("C2", {"B": 100})
    site.tables["checklist"] = [
        new(ChecklistItem, code="PL", title=title, state=state, evidence="x")
    ]
    assert (unmet(site) == []) is met


def test_what_the_last_money_lacks_of_waivers_is_listed_as_missing() -> None:
    site = without(last_money(), "waivers", "con1", "con1Inv")
    missing = [
        (w.from_party, w.kind, w.amount_cents, w.gate)
        for w in from_rows(site.tables, TODAY).waivers_missing
    ]
    assert missing == [
        ("", "conditional final", cents(1_000), "conditional final waiver"),
        ("Invented Lumber", "conditional final", None, "final waivers of suppliers"),
    ]


def test_a_release_within_the_period_of_an_application_is_paid_with_it() -> None:
    site = (
        Site()
        .contract("C1", {"A": 20_000})
        .application(1, {"A": 10_000})
        .release("2-5", 1_000)
        .application(2, {"A": 1_000})
    )
    assert listed(site) == [
        ("application", "C1/1", cents(9_000)),
        ("application", "C1/2", cents(1_900)),
    ]


def released_within(amount: float) -> Site:
    """10,000 earned, 9,000 paid and waived; a release inside of the second application's period,
    with progress papers alone.
    """
    site = (
        Site()
        .contract("C1", {"A": 10_000})
        .application(1, {"A": 10_000})
        .pay("2-1", 9_000, number=1)
    )
    site.release("2-5", amount).application(2, {}).add(
        *papers(), waiver("unconditional progress", 1, 9_000, "1-28")
    )
    return site.add(waiver("conditional progress", 2, amount, "2-28"))


def test_an_application_that_pays_the_last_money_has_the_requirements_of_a_release() -> None:
    site = released_within(1_000).add(
        new(LienNotice, code="N", contract="C1", from_party="Invented Lumber")
    )
    site.add(waiver("conditional progress", 2, 50, "2-28", from_party="Invented Lumber"))
    answer = from_rows(site.tables, TODAY)
    assert (
        answer.applications[1].retainage_cents == 0 and answer.applications[1].state == "verified"
    )
    assert [(g.gate, g.reason) for g in answer.applications[1].gates if not g.open] == [
        ("conditional final waiver", "no conditional final waiver for 1,000.00"),
        ("final waivers of suppliers", "no final waiver from Invented Lumber"),
        (
            "punch list or certificate",
            (
                'no punch list or certificate item in the checklist: add one, such as "Punch list'
                ' of C1", and prove it'
            ),
        ),
    ]
    assert [one.in_exchange for one in answer.payments_due] == [
        "conditional final waiver for 1,000.00"
    ]
    assert [
        (w.application, w.from_party, w.kind, w.amount_cents) for w in answer.waivers_missing
    ] == [
        (2, "", "conditional final", cents(1_000)),
        (2, "Invented Lumber", "conditional final", None),
    ]


def test_an_application_that_pays_the_last_money_is_ok_to_pay_with_the_final_papers() -> None:
    site = released_within(1_000).add(waiver("conditional final", 2, 1_000, "2-28"))
    site.add(
        new(
            ChecklistItem,
            code="PL",
            title="Punch list of C1",
            state="proven",
            evidence="signed list",
        )
    )
    assert from_rows(site.tables, TODAY).applications[1].state == "cleared"


def test_an_application_whose_release_leaves_something_held_needs_no_final_waiver() -> None:
    """Our reading, no source: what stays held still secures the work."""
    second = from_rows(released_within(400).tables, TODAY).applications[1]
    assert (second.retainage_cents, second.state) == (cents(600), "cleared")


@pytest.mark.parametrize(
    ("on", "amount", "refused"),
    [("1-27", 0.01, True), ("1-28", 1_000, False), ("1-28", 1_000.01, True)],
)
def test_no_more_is_released_than_is_held_on_that_day(
    on: str, amount: float, refused: bool
) -> None:
    """1,000 is held from 28 January on; 2,000 from 28 February on."""
    from tracker.money.faults import faults

    site = (
        Site()
        .contract("C1", {"A": 40_000})
        .application(1, {"A": 10_000})
        .application(2, {"A": 10_000})
        .release(on, amount)
    )
    found = [(p.table, p.what) for p in faults(site.tables)]
    assert found == (
        [("retainage_events", "more is released than is held on its day")] if refused else []
    )


def test_two_releases_before_an_application_share_what_was_held() -> None:
    from tracker.money.faults import faults

    site = (
        Site()
        .contract("C1", {"A": 40_000})
        .application(1, {"A": 10_000})
        .application(2, {"A": 10_000})
    )
    site.release("2-3", 600).release("2-4", 400)
    assert faults(site.tables) == []
    event: Any = site.tables["retainage_events"][1]
    site.tables["retainage_events"][1] = dataclasses.replace(
        event, amount=cents(400.01), date=day("2-5")
    )
    assert [p.key for p in faults(site.tables)] == ["E1"]


def in_a_draw(site: Site) -> Any:
    """The draw of 31 March that holds every application, as the lender gets it."""
    site.tables["applications"] = [
        dataclasses.replace(a, draw=1) for a in site.tables["applications"]
    ]
    site.add(
        new(Source, code="LOAN", kind="loan", amount=cents(50_000)),
        new(Draw, number=1, state="sent", period_to=day("3-31")),
    )
    return request(site.tables, TODAY)


def test_no_check_is_written_for_a_release_to_one_who_is_paid_ahead() -> None:
    found = in_a_draw(credited().pay("2-1", 9_000, number=1).release("3-5", 800))
    assert [(p.what, p.to_pay_cents) for p in found.payees] == [("application C1/1", 0)]
    assert found.checks_to_write == ()


def test_a_check_is_written_for_what_a_later_credit_leaves() -> None:
    assert [c.to_pay_cents for c in in_a_draw(credited()).checks_to_write] == [cents(7_200)]


def test_a_draw_tells_what_its_release_lacks_and_what_was_set_aside_for_it() -> None:
    site = without(last_money(), "waivers", "con1Inv")
    site.add(
        new(
            Override,
            code="OV",
            what="punch list or certificate",
            key="E0",
            date=TODAY,
            reason="seen",
        )
    )
    without(site, "checklist", "PL")
    found = in_a_draw(site)
    remarks = {check.what: check.remark for check in found.checks}
    assert (
        "retainage released E0 of C1: no final waiver from Invented Lumber"
        in remarks["lien waivers"]
    )
    assert "set aside by the owner" in remarks["work accepted where retainage is released"]
    assert ("E0", "punch list or certificate", "seen") in [
        (one.key, one.what, one.reason) for one in found.set_aside
    ]
    assert [(p.what, p.to_pay_cents) for p in found.payees if p.to_pay_cents] == [
        ("retainage released, C1", cents(1_000))
    ]


def deposit_bill(site: Site, amount: float, **more: Any) -> Site:
    """The site with a bill of kind deposit of the contractor, on the contract's cost line."""
    return site.add(
        new(
            Invoice,
            code="I",
            contractor="ACME",
            cost_line="A",
            date=day("1-10"),
            amount=cents(amount),
            kind="deposit",
            **more,
        )
    )


def earned() -> Site:
    """10,000 earned, 1,000 held: 9,000 due."""
    return Site().contract("C1", {"A": 40_000}).application(1, {"A": 10_000})


PAID_AHEAD = {
    "a deposit without the contract": (
        lambda: earned().pay("1-20", 5_000, "deposit", contract="", contractor="ACME")
    ),
    "a paid bill of kind deposit": (
        lambda: deposit_bill(earned(), 5_000).pay("1-20", 5_000, "invoice", invoice="I")
    ),
}


@pytest.mark.parametrize("way", PAID_AHEAD)
def test_a_deposit_that_names_no_contract_is_made_up_like_one_that_does(way: str) -> None:
    """Earned 10,000, held 1,000, deposit 5,000: 4,000 left to pay, as exposure says."""
    site = PAID_AHEAD[way]()
    answer = from_rows(site.tables, TODAY)
    assert (answer.applications[0].payable_cents, answer.applications[0].left_to_pay_cents) == (
        cents(4_000),
        cents(4_000),
    )
    assert [one.paid_ahead_cents for one in answer.exposure] == [-cents(4_000)]
    assert listed(site) == [("application", "C1/1", cents(4_000))]


def test_of_several_contracts_the_one_signed_first_takes_the_deposit_and_it_is_said() -> None:
    site = (
        Site()
        .contract("C2", {"B": 10_000}, signed=day("2-1"))
        .contract("C1", {"A": 40_000})
        .application(1, {"A": 10_000})
    )
    site.pay("1-20", 5_000, "deposit", contract="", contractor="ACME")
    assert listed(site) == [("application", "C1/1", cents(4_000))]
    assert [p.what for p in warnings(site.tables, TODAY)] == [
        "the deposit names no contract and ACME has 2; it counts on C1, signed first"
    ]


@pytest.mark.parametrize(
    ("work", "rows"),
    [
        (0, [("invoice", "I", cents(5_000))]),
        (2_000, [("invoice", "I", cents(3_200)), ("application", "C1/1", cents(1_800))]),
        (10_000, [("application", "C1/1", cents(9_000))]),
    ],
)
def test_a_deposit_bill_is_not_listed_beside_the_work_that_overtook_it(
    work: float, rows: list[tuple[str, str, int]]
) -> None:
    site = Site().contract("C1", {"A": 40_000})
    site = deposit_bill(site.application(1, {"A": work}) if work else site, 5_000)
    assert sorted(listed(site)) == sorted(rows)
    if work == 10_000:
        in_it = without(site, "invoices", "I")
        deposit_bill(in_it, 5_000, draw=1)
        assert [(p.what, p.to_pay_cents) for p in in_a_draw(in_it).payees if p.to_pay_cents] == [
            ("application C1/1", cents(9_000))
        ]
        assert listed(site.pay("2-1", 9_000, number=1)) == []
