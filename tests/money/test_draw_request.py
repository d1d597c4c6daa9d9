"""A draw request before it goes out: payees, checks to write, what is set aside or left out, what
would come back.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from typing import Any

import pytest

from tests.every import every
from tests.money.making import TODAY, Site, cents, day
from tracker.answers.draw_request import DrawRequest, asks_in_words, from_rows
from tracker.approvals.records import Answer
from tracker.money.records import (
    Application,
    ApplicationLine,
    BudgetMove,
    Draw,
    DrawLine,
    DrawPaper,
    Invoice,
    LienNotice,
    Source,
    Waiver,
)
from tracker.trades.records import Contractor, Paper
from tracker.values.project import Override
from tracker.values.records import new

GATES = ("conditional waiver", "unconditional waiver", "license", "insurance", "tax form")
PAPERS = (
    "sworn statement",
    "photos",
    "permits and inspections",
    "title date-down",
    "insurance",
    "waivers",
)


def request(site: Site, number: int = 1) -> DrawRequest:
    """The request of a draw as of the end of June."""
    found = from_rows(site.tables, TODAY, number)
    assert found is not None
    return found


def asking(**more: Any) -> Site:
    """Draw 1 of a loan asks 900 for an application of 1,000 on a contract of 5,000 and 250 for two
    bills of one office.
    """
    site = Site().contract("C1", {"A": 5_000}).cost_lines("FEES", budget=600)
    site.tables["cost_lines"][0] = dataclasses.replace(
        site.tables["cost_lines"][0], budget=cents(6_000)
    )
    site.add(
        new(Contractor, code="TOWN", name="Town of Nowhere"),
        new(Source, code="LOAN", kind="loan", amount=cents(6_600)),
    )
    site.application(1, {"A": 1_000}, period_to="3-28", draw=1)
    for place, gate in enumerate(GATES):
        site.add(
            new(
                Override,
                code=f"O{place}",
                what=gate,
                key="C1/1",
                date=day("3-28"),
                reason="seen by the owner",
            )
        )
    for code, amount in (("B1", 100), ("B2", 150)):
        bill = new(
            Invoice,
            code=code,
            contractor="TOWN",
            cost_line="FEES",
            number=code,
            date=day("3-1"),
            amount=cents(amount),
            draw=1,
        )
        site.add(dataclasses.replace(bill, **{"kind": "fee", **more.get(code, {})}))
    site.add(new(Draw, number=1, period_to=day("3-31")))
    site.add(new(DrawLine, draw=1, source="LOAN", cost_line="A", asked=cents(900)))
    site.add(new(DrawLine, draw=1, source="LOAN", cost_line="FEES", asked=cents(250)))
    return site.add(*(new(DrawPaper, draw=1, what=what, state="present") for what in PAPERS))


def looked(site: Site, number: int = 1) -> dict[str, str]:
    """What would come back, by the point that was looked at."""
    return {one.what: one.remark for one in request(site, number).checks if one.state == "look"}


ASIDE = {"lien waivers", "license, insurance, tax form"}
"""What the owner set aside in asking(), which a lender looks at."""


def test_a_request_without_a_fault_is_fine_but_for_what_was_set_aside() -> None:
    found = looked(asking())
    assert set(found) == {*ASIDE, "package complete"}
    assert found["package complete"] == "invoices"
    assert "C1/1 license: set aside by the owner" in found["license, insurance, tax form"]


def test_payees_get_one_check_each_and_add_up_to_the_draw() -> None:
    found = request(asking())
    assert [(p.payee, p.what, p.cost_line, p.to_pay_cents) for p in found.payees] == [
        ("Invented Trade Co", "application C1/1", "A", cents(900)),
        ("Town of Nowhere", "invoice B1", "FEES", cents(100)),
        ("Town of Nowhere", "invoice B2", "FEES", cents(150)),
    ]
    assert [(c.payee, c.to_pay_cents, c.what) for c in found.checks_to_write] == [
        ("Invented Trade Co", cents(900), ("application C1/1",)),
        ("Town of Nowhere", cents(250), ("invoice B1", "invoice B2")),
    ]
    assert (
        sum(c.to_pay_cents for c in found.checks_to_write)
        == found.payees_to_pay_cents
        == found.draw.total.this_draw_cents
    )


def test_who_sent_a_notice_stands_on_the_check() -> None:
    site = asking().add(
        new(LienNotice, code="N", contract="C1", from_party="Invented Lumber", received=day("2-1"))
    )
    assert [c.payee for c in request(site).checks_to_write] == ["Town of Nowhere"]
    site.add(
        new(
            Override,
            code="ON",
            what="notice waivers",
            key="C1/1",
            date=day("4-1"),
            reason="one check to both",
        )
    )
    assert next((c.payee, c.jointly) for c in request(site).checks_to_write) == (
        "Invented Trade Co",
        ("Invented Lumber",),
    )


def test_what_is_paid_already_needs_no_check() -> None:
    site = asking().pay("4-1", 900, number=1).pay("4-1", 40, kind="invoice", invoice="B1")
    assert [(c.payee, c.to_pay_cents, c.what) for c in request(site).checks_to_write] == [
        ("Town of Nowhere", cents(210), ("invoice B1", "invoice B2"))
    ]


def test_each_source_shows_what_is_left_after_the_draw() -> None:
    """Equity of 300 paid 40 without a draw; the loan of 6,600 gives 1,150."""
    site = (
        asking()
        .add(new(Source, code="OWN", kind="equity", amount=cents(300)))
        .pay("4-1", 40, kind="invoice", invoice="B1")
    )
    found = request(site)
    assert [(s.source, s.before_cents, s.this_draw_cents, s.left_cents) for s in found.sources] == [
        ("OWN", cents(40), 0, cents(260)),
        ("LOAN", 0, cents(1_150), cents(5_450)),
    ]
    assert found.sources_total.left_cents == cents(5_710)
    assert (found.owner_paid, found.owner_paid_cents) == ({"FEES": cents(40)}, cents(40))


def released(on: str) -> Site:
    """A second application is paid and drawn; then 60 of 150 held on two cost lines are released,
    and draw 2 asks for them.
    """
    site = asking()
    site.tables["contract_lines"].append(
        dataclasses.replace(
            site.tables["contract_lines"][0], line="B", cost_line="FEES", value=cents(1_000)
        )
    )
    site.tables["contracts"][0] = dataclasses.replace(site.tables["contracts"][0], sum=cents(6_000))
    site.tables["application_lines"].append(
        new(ApplicationLine, contract="C1", number=1, line="B", verified=cents(500))
    )
    site.pay("4-1", 1_350, number=1).release(on, 60)
    return site.add(new(Draw, number=2, period_to=day("5-31")))


def test_a_release_after_the_last_application_is_paid_over_its_cost_lines_in_the_draw_of_its_period() -> (  # noqa: E501
    None
):
    """60 released of 100 held on A and 50 on FEES: 40 and 20."""
    site = released("5-10")
    assert [
        (p.payee, p.what, p.cost_line, p.amount_cents, p.paid_cents)
        for p in request(site, 2).payees
    ] == [
        ("Invented Trade Co", "retainage released, C1", "A", cents(40), 0),
        ("Invented Trade Co", "retainage released, C1", "FEES", cents(20), 0),
    ]
    assert not any("released" in p.what for p in request(site, 1).payees)
    assert not any("released" in p.what for p in request(released("6-1"), 2).payees)


def test_a_release_that_was_paid_is_counted_as_paid() -> None:
    rows = request(released("5-10").pay("5-20", 60, number=1), 2).payees
    assert [(p.amount_cents, p.paid_cents, p.to_pay_cents) for p in rows] == [
        (cents(40), cents(40), 0),
        (cents(20), cents(20), 0),
    ]


def test_an_application_that_is_kept_out_is_named_with_what_keeps_it_out() -> None:
    site = (
        asking()
        .application(2, {"A": 500}, period_to="3-31")
        .application(3, {"A": 100}, period_to="4-1")
    )
    (one,) = request(site).not_in_draw
    assert (one.application, one.state, one.left_to_pay_cents) == ("C1/2", "verified", cents(450))
    assert "conditional waiver: no conditional waiver for 450.00" not in one.why
    assert "no conditional waiver for 450.00" in one.why
    assert request(site).not_in_draw_cents == cents(450)


def test_what_the_owner_set_aside_is_listed_with_its_reason() -> None:
    site = asking().pay("4-1", 950, number=1)
    site.add(
        new(
            Override,
            code="OP",
            what="payable amount",
            key="C1/1",
            date=day("4-1"),
            reason="a round sum was agreed on",
        )
    )
    site.add(
        new(
            Override,
            code="OL",
            what="lender's retainage",
            key="LOAN",
            date=day("4-1"),
            reason="letter of the bank",
        )
    )
    site.add(
        new(
            Override,
            code="OX",
            what="license",
            key="C9/9",
            date=day("4-1"),
            reason="of another draw",
        )
    )
    found = [(one.key, one.what, one.reason) for one in request(site).set_aside]
    needed = [gate for gate in GATES if gate != "unconditional waiver"]
    assert [what for _, what, _ in found] == [*needed, "payable amount", "lender's retainage"]
    assert found[-2:] == [
        ("C1/1", "payable amount", "a round sum was agreed on"),
        ("LOAN", "lender's retainage", "letter of the bank"),
    ]
    assert every("seen by the owner" in reason for _, _, reason in found[:4])


def above_inspector() -> Site:
    """The inspector saw 19 % of a line that stands at 20 %."""
    site = asking()
    site.tables["application_lines"][0] = dataclasses.replace(
        site.tables["application_lines"][0], inspector_share=19_000
    )
    return site


def with_stored() -> Site:
    """Goods are stored, and nothing says who pays for them or where their papers are."""
    site = asking()
    site.tables["application_lines"][0] = dataclasses.replace(
        site.tables["application_lines"][0], stored=cents(100)
    )
    return site


def without(code: str) -> Site:
    """One gate is closed, not set aside."""
    site = asking()
    site.tables["overrides"] = [o for o in site.tables["overrides"] if o.what != code]
    return site


def funded_and_unpaid() -> Site:
    """A first draw was funded and its money lies with the owner."""
    site = asking()
    site.tables["draws"][0] = dataclasses.replace(
        site.tables["draws"][0], state="funded", funded_on=day("4-10")
    )
    site.tables["draw_lines"] = [
        dataclasses.replace(line, funded=line.asked) for line in site.tables["draw_lines"]
    ]
    return site.add(new(Draw, number=2, period_to=day("4-30")))


def over_budget() -> Site:
    """The fees are asked above their budget."""
    site = asking()
    site.tables["draw_lines"][1] = dataclasses.replace(
        site.tables["draw_lines"][1], asked=cents(600.01)
    )
    return site


@pytest.mark.parametrize(
    ("site", "number", "what", "remark"),
    [
        (
            above_inspector(),
            1,
            "seen by the lender's inspector",
            "C1/1 A: 50.00 above the 19 % seen",
        ),
        (
            with_stored(),
            1,
            "stored materials",
            "no papers for what is stored in C1/1; no source pays for stored goods",
        ),
        (without("license"), 1, "license, insurance, tax form", "C1/1: no license on file"),
        (
            without("conditional waiver"),
            1,
            "lien waivers",
            "C1/1: no conditional waiver for 900.00",
        ),
        (
            funded_and_unpaid(),
            2,
            "earlier draws paid out",
            "1,150.00 drawn before is not paid out yet",
        ),
        (over_budget(), 1, "within budget", "FEES by 0.01"),
        (over_budget(), 1, "payees add up", "the draw is 350.01 more than its payees get"),
        (
            asking(B1={"kind": "own labor"}),
            1,
            "own labor and deposits",
            "invoice B1 is the owner's own labor",
        ),
        (asking(B1={"kind": "deposit"}), 1, "own labor and deposits", "invoice B1 is a deposit"),
        (asking(B2={"number": "B1"}), 1, "invoices used once", "B1 of TOWN stands in B1 and B2"),
        (
            asking(B2={"contractor": "", "number": "X"}),
            1,
            "sworn statement complete",
            "a payee has no name",
        ),
        (
            asking().add(new(Answer, question="state", answer="OR")),
            1,
            "state cap on retainage",
            "holds 10 %, OR allows 5 %",
        ),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_what_would_come_back_is_told(site: Site, number: int, what: str, remark: str) -> None:
    assert remark in looked(site, number)[what]


def test_less_than_the_loans_minimum_and_a_loan_that_is_too_small_are_told() -> None:
    site = asking()
    site.tables["sources"][0] = dataclasses.replace(
        site.tables["sources"][0], minimum_draw=cents(1_150.01), amount=cents(6_599)
    )
    assert looked(site)["minimum of the loan"] == "LOAN pays nothing under 1,150.01"
    assert looked(site)["loan in balance"].startswith("short by ")
    site.tables["sources"][0] = dataclasses.replace(
        site.tables["sources"][0], minimum_draw=cents(1_150)
    )
    assert "minimum of the loan" not in looked(site)


def test_changes_that_are_asked_for_are_named_and_not_in_it() -> None:
    site = asking().change("X", "C1", {"A": 50})
    (one,) = [c for c in request(site).checks if c.what == "changes"]
    assert one.state == "fine"
    assert "asked for and not in it: X" in one.remark


def test_bills_of_the_draw_stand_with_their_papers_and_others_do_not() -> None:
    site = asking(B1={"evidence": "scan 7"}, B2={"draw": None})
    found = request(site)
    assert [(b.number, b.amount_cents, b.evidence) for b in found.invoices] == [
        ("B1", cents(100), "scan 7")
    ]
    assert found.invoices_cents == cents(100)
    assert [b.number for b in found.bills] == ["B1", "B2"]


def test_stored_goods_are_listed_line_by_line() -> None:
    found = request(with_stored())
    assert [(g.application, g.line, g.stored_cents) for g in found.stored] == [
        ("C1/1", "A", cents(100))
    ]
    assert found.stored_cents == cents(100)


def test_papers_are_the_owners_and_those_of_who_is_paid_and_the_one_that_holds() -> None:
    site = asking().add(
        new(Paper, code="P1", contractor="ACME", kind="liability", number="OLD", to=day("6-29")),
        new(
            Paper,
            code="P2",
            contractor="ACME",
            kind="liability",
            number="NEW",
            from_=day("6-30"),
            to=day("12-31"),
        ),
        new(Paper, code="P3", contractor="ACME", kind="license", number="L", to=day("6-29")),
        new(Paper, code="P4", contractor="TOWN", kind="license", number="T"),
        new(Paper, code="P5", kind="builders risk", number="BR"),
    )
    assert [(p.holder, p.kind, p.number, p.valid) for p in request(site).papers] == [
        ("Owner", "builders risk", "BR", True),
        ("Invented Trade Co", "liability", "NEW", True),
        ("Invented Trade Co", "license", "L", False),
    ]


def test_what_the_lender_cut_is_told_with_its_reason_and_is_no_fault_of_the_payees() -> None:
    site = funded_and_unpaid()
    site.tables["draw_lines"][1] = dataclasses.replace(
        site.tables["draw_lines"][1], funded=cents(200), cut_reason="one bill unclear"
    )
    found = request(site)
    assert [
        (c.cost_line, c.asked_cents, c.funded_cents, c.cut_cents, c.reason) for c in found.cuts
    ] == [("FEES", cents(250), cents(200), cents(50), "one bill unclear")]
    assert (found.cut_cents, found.beyond_payees_cents) == (cents(50), cents(-50))
    assert "payees add up" not in looked(site)
    assert request(asking()).cuts == ()


def test_budget_that_was_moved_in_the_period_is_told_with_its_reason() -> None:
    """Draw 1 ends on 31 March, draw 2 on 30 April; a move without a day belongs to the first."""
    site = asking().add(new(Draw, number=2, period_to=day("4-30")))
    for number, on in (("M0", ""), ("M1", "3-31"), ("M2", "4-1"), ("M3", "4-30"), ("M4", "5-1")):
        move = new(
            BudgetMove,
            number=number,
            from_="A",
            to="FEES",
            amount=cents(1),
            reason=f"reason {number}",
        )
        site.add(dataclasses.replace(move, date=day(on) if on else None))
    assert [m.number for m in request(site, 1).moves] == ["M0", "M1"]
    assert [(m.number, m.from_line, m.to_line, m.reason) for m in request(site, 2).moves] == [
        ("M2", "A", "FEES", "reason M2"),
        ("M3", "A", "FEES", "reason M3"),
    ]


def with_own_money() -> Site:
    """Draw 1 of 42,744.44: 8,249.50 of equity, 34,494.94 of the loan."""
    site = asking().add(
        new(Source, code="OWN", name="Owner's equity", kind="equity", amount=cents(20_000))
    )
    site.tables["sources"][0] = new(
        Source, code="LOAN", name="Bank of Nowhere", kind="loan", amount=cents(60_000)
    )
    site.tables["draw_lines"] = [
        new(DrawLine, draw=1, source="OWN", cost_line="A", asked=cents(8_249.50)),
        new(DrawLine, draw=1, source="LOAN", cost_line="A", asked=cents(34_244.94)),
        new(DrawLine, draw=1, source="LOAN", cost_line="FEES", asked=cents(250)),
    ]
    return site


def test_the_lender_is_asked_for_its_own_part_alone() -> None:
    found = request(with_own_money())
    assert asks_in_words(found.sources, "draft") == (
        "The owner asks Bank of Nowhere for 34,494.94.",
        "The owner pays 8,249.50 of own money.",
    )
    letter = letter_of(found)
    assert (
        "asks Bank of Nowhere for 34,494.94" in letter
        and "asks that" not in letter
        and "be advanced" not in letter
    )


def test_each_lender_has_a_sentence_of_its_own() -> None:
    site = with_own_money().add(
        new(Source, code="TOWN", name="Town of Nowhere", kind="other", amount=cents(5_000))
    )
    site.tables["draw_lines"][2] = new(
        DrawLine, draw=1, source="TOWN", cost_line="FEES", asked=cents(250)
    )
    assert asks_in_words(request(site).sources, "sent")[:2] == (
        "The owner asks Bank of Nowhere for 34,244.94.",
        "The owner asks Town of Nowhere for 250.00.",
    )


def test_a_draw_of_own_money_alone_asks_no_lender() -> None:
    site = with_own_money()
    site.tables["draw_lines"] = site.tables["draw_lines"][:1]
    words = ("No lender is asked for anything.", "The owner pays 8,249.50 of own money.")
    assert asks_in_words(request(site).sources, "draft") == words


def test_a_funded_draw_says_what_each_lender_funded_and_one_that_came_back_asks_nothing() -> None:
    site = with_own_money()
    lines = site.tables["draw_lines"]
    site.tables["draw_lines"] = [
        dataclasses.replace(line, funded=line.asked - 100) for line in lines
    ]
    site.tables["draws"][0] = new(
        Draw, number=1, state="funded", period_to=day("3-31"), sent=day("4-1"), funded_on=day("4-9")
    )
    found = request(site)
    words = ("Bank of Nowhere funded 34,492.94.", "The owner paid 8,248.50 of own money.")
    assert asks_in_words(found.sources, found.draw.state) == words
    site.tables["draws"][0] = new(
        Draw, number=1, state="returned", period_to=day("3-31"), sent=day("4-1")
    )
    found = request(site)
    assert asks_in_words(found.sources, found.draw.state) == (
        "It came back: no lender is asked for anything with it.",
    )


def letter_of(found: DrawRequest) -> str:
    """The words of the letter to the lender."""
    from tracker.pages.draw_request import request as letter

    return " ".join(letter(found).words)


def test_the_statement_lists_every_notice_with_its_last_waiver() -> None:
    """MCL 570.1110 as one state's law: who is left out of a sworn statement makes it a
    false one.
    """
    site = asking()
    for code, party, on in (
        ("N1", "Invented Lumber", "2-1"),
        ("N2", "Invented Pipe", "2-2"),
        ("N3", "Late Steel", "7-1"),
    ):
        site.add(new(LienNotice, code=code, contract="C1", from_party=party, received=day(on)))
    site.add(
        *supplier("progress", "2-28"),
        new(LienNotice, code="N4", from_party="Invented Rental", received=day("3-1")),
    )
    found = [
        (n.from_party, n.through, n.received, n.last_waiver, n.open) for n in request(site).notices
    ]
    assert found == [
        (
            "Invented Lumber",
            "Invented Trade Co",
            day("2-1"),
            "unconditional progress, 70.00, through 2027-02-28",
            True,
        ),
        ("Invented Pipe", "Invented Trade Co", day("2-2"), "none", True),
        ("Invented Rental", "", day("3-1"), "none", True),
    ]
    site.add(*supplier("final", "3-28"))
    assert [n.open for n in request(site).notices] == [False, True, True]


def supplier(kind: str, through: str) -> list[Waiver]:
    """Waivers of the lumber yard, the conditional one before the unconditional one."""
    given = [("conditional", 90, through), ("unconditional", 70, through)]
    return [
        new(
            Waiver,
            code=f"{which[:3]}{kind}",
            contract="C1",
            from_party="invented  lumber",
            kind=f"{which} {kind}",
            amount=cents(amount),
            through=day(until),
            date=day(until) + dt.timedelta(days=which == "unconditional"),
        )
        for which, amount, until in given
    ]


def test_the_statement_lists_what_is_asked_for_or_billed_and_not_agreed() -> None:
    site = (
        asking()
        .change("X", "C1", {"A": 120})
        .change("Y", "C1", {}, state="noticed")
        .change("Z", "C1", {"A": 5}, approved="2-1")
    )
    site.add(new(ApplicationLine, contract="C1", number=2, line="A", claimed=cents(540)))
    site.add(new(Application, contract="C1", number=2, period_to=day("4-28")))
    site.tables["application_lines"][0] = dataclasses.replace(
        site.tables["application_lines"][0], claimed=cents(1_050)
    )
    found = [(n.what, n.who, n.amount_cents, n.state) for n in request(site).not_agreed]
    assert found == [
        ("change X change X", "Invented Trade Co", cents(120), "asked for, not agreed"),
        ("change Y change Y", "Invented Trade Co", None, "asked for, no price yet"),
        ("application C1/1", "Invented Trade Co", cents(50), "billed above what was verified"),
        ("application C1/2", "Invented Trade Co", cents(540), "billed, not verified"),
    ]


def test_the_oath_never_says_that_there_is_nothing_else() -> None:
    from tracker.pages import sworn_statement
    from tracker.pages.sworn_statement import SWORN

    said = SWORN
    assert (
        "Nobody" not in said
        and "on the owner's record" in said
        and "what nobody entered is not in them" in said
    )
    empty = (
        sworn_statement.notices(request(asking())),
        sworn_statement.bills(request(asking())),
    )
    assert every("on record here" in part.empty for part in empty)
    assert "notices to owner received" in said and "not agreed" in said and "the bills" in said
