"""An award makes a contract that adds up to the bid, passes the others over, and is one step that
undo takes back.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.actions.exported import exported, project_of
from tests.every import every
from tracker.actions.award import AwardEntry, award
from tracker.actions.rows import save
from tracker.project_file.store import ProjectFile, StaleError
from tracker.trades.award import awarded_scope
from tracker.trades.leveling import leveled_package
from tracker.trades.records import Bid, BidAnswer, Package, PackageItem
from tracker.values.problems import ProblemError
from tracker.values.records import new

TODAY = dt.date(2027, 3, 5)
FILES = {
    "cost_lines": "code,budget\nB30,100000\nB10,50000\n",
    "contractors": (
        "code,name\nroof-a,Invented Roof A\nroof-b,Invented Roof B\nroof-c,Invented Roof"
        " C\nroof-d,Invented Roof D\n"
    ),
    "packages": "code,name\nROOF,Roofing\n",
    "package_items": (
        "package,item,name,cost_line,own_estimate\nROOF,TEAR,Tear off,B30,30000\nROOF,DECK,Deck"
        " repair,B10,20000\nROOF,SKIN,Membrane,B30,40000\n"
    ),
    "bids": (
        "package,contractor,state,received,valid_until,amount\n"
        "ROOF,roof-a,received,2027-02-20,2027-04-30,\nROOF,roof-b,received,2027-02-21,2027-02-28,90000.01\n"
        "ROOF,roof-c,asked,,,\nROOF,roof-d,declined,,,\n"
    ),
    "bid_answers": (
        "package,contractor,item,answer,price\n"
        "ROOF,roof-a,TEAR,included,31000\nROOF,roof-a,DECK,excluded,\nROOF,roof-a,SKIN,allowance,42000.50\n"
    ),
}


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    with project_of(tmp_path, FILES) as opened:
        yield opened


def states(project: ProjectFile) -> dict[str, str]:
    return {b.contractor: b.state for b in project.rows(Bid)}


def test_priced_items_become_lines_as_bid_and_excluded_ones_stay_out(project: ProjectFile) -> None:
    done = award(
        project, AwardEntry("ROOF", "roof-a", "C1", dt.date(2027, 3, 4), retainage=10_000), TODAY
    )
    assert (done.contract.sum, done.contract.contractor, done.contract.package) == (
        7_300_050,
        "roof-a",
        "ROOF",
    )
    assert done.contract.retainage == 10_000
    kept = project.tables()["contract_lines"]
    assert [(ln.line, ln.name, ln.cost_line, ln.value) for ln in kept] == [
        ("TEAR", "Tear off", "B30", 3_100_000),
        ("SKIN", "Membrane", "B30", 4_200_050),
    ]
    assert done.left_out == ("DECK",)
    assert any("Deck repair is excluded" in note for note in done.notes)
    assert any("Membrane is an allowance" in note for note in done.notes)
    assert any("no license, no liability, no workers comp" in note for note in done.notes)
    assert project.check() == ()


def test_the_others_are_passed_over_but_who_declined_declined(project: ProjectFile) -> None:
    done = award(project, AwardEntry("ROOF", "roof-a", "C1", None), TODAY)
    assert states(project) == {
        "roof-a": "awarded",
        "roof-b": "passed over",
        "roof-c": "passed over",
        "roof-d": "declined",
    }
    assert done.passed_over == ("roof-b", "roof-c")


def test_a_lump_sum_is_spread_by_own_estimates_to_the_cent(project: ProjectFile) -> None:
    """90,000.01 over 30 : 20 : 40 is 30,000.0033, 20,000.0022, 40,000.0044: the odd cent goes to
    the largest remainder.
    """
    done = award(project, AwardEntry("ROOF", "roof-b", "C1", dt.date(2027, 3, 4)), TODAY)
    assert [ln.value for ln in done.lines] == [3_000_000, 2_000_000, 4_000_001]
    assert any("your own estimates" in note for note in done.notes)
    assert any("valid until 2027-02-28" in note for note in done.notes)


def test_a_signed_award_moves_the_forecast_and_says_so(project: ProjectFile) -> None:
    """Line B10 has 50,000, of which 20,000 are signed: the rest stays to buy.

    B30's 70,000 lie within its 100,000.
    """
    done = award(project, AwardEntry("ROOF", "roof-b", "C1", dt.date(2027, 3, 4)), TODAY)
    assert (done.forecast_before, done.forecast_after) == (15_000_000, 15_000_000)
    with pytest.raises(ProblemError, match="already awarded to roof-b"):
        award(project, AwardEntry("ROOF", "roof-a", "C2", None), TODAY)


def test_a_contract_above_its_budget_raises_the_forecast(project: ProjectFile) -> None:
    save(project, "bids", "ROOF/roof-b", {"amount": "180000"})
    done = award(project, AwardEntry("ROOF", "roof-b", "C1", dt.date(2027, 3, 4)), TODAY)
    assert (done.forecast_before, done.forecast_after) == (15_000_000, 19_000_000)


def test_what_was_foreseen_comes_off_what_is_still_to_buy_so_that_nothing_counts_twice(
    project: ProjectFile,
) -> None:
    """75,000 entered as still to buy on B30, of which 70,000 are own estimates; bought for
    70,000.01: 5,000 left, a cent more.
    """
    save(project, "cost_lines", "B30", {"left_to_buy": "75000"})
    done = award(project, AwardEntry("ROOF", "roof-b", "C1", dt.date(2027, 3, 4)), TODAY)
    assert [line.left_to_buy for line in project.tables()["cost_lines"]] == [500_000, None]
    assert done.forecast_after - done.forecast_before == 1
    assert any("B30: still to buy was 75,000.00, is 5,000.00 now" in note for note in done.notes)
    project.undo()
    assert [line.left_to_buy for line in project.tables()["cost_lines"]] == [7_500_000, None]


def test_a_contract_not_signed_yet_leaves_what_is_still_to_buy(project: ProjectFile) -> None:
    save(project, "cost_lines", "B30", {"left_to_buy": "75000"})
    done = award(project, AwardEntry("ROOF", "roof-b", "C1", None), TODAY)
    assert project.tables()["cost_lines"][0].left_to_buy == 7_500_000
    assert done.forecast_after == done.forecast_before
    assert any("lower what is still to buy on B30" in note for note in done.notes)


def test_undo_gives_the_first_state_byte_for_byte(project: ProjectFile, tmp_path: Path) -> None:
    before, steps = exported(project, tmp_path / "a"), len(project.history())
    award(project, AwardEntry("ROOF", "roof-b", "C1", dt.date(2027, 3, 4), retainage=5_000), TODAY)
    assert len(project.history()) == steps + 1
    assert exported(project, tmp_path / "b") != before
    project.undo()
    assert exported(project, tmp_path / "c") == before


@pytest.mark.parametrize(
    ("package", "contractor", "code", "cells", "words"),
    [
        ("NONE", "roof-a", "C1", {}, "no such package"),
        ("ROOF", "nobody", "C1", {}, "no such bid"),
        ("ROOF", "roof-c", "C1", {}, "not come in yet"),
        ("ROOF", "roof-d", "C1", {}, "declined"),
        ("ROOF", "roof-b", "C 1", {}, "is not a code"),
        ("ROOF", "roof-b", "C1", {"bids ROOF/roof-b": {"amount": ""}}, "price is not known"),
        ("ROOF", "roof-b", "C1", {"package_items ROOF/DECK": {"cost_line": ""}}, "no cost line"),
        (
            "ROOF",
            "roof-b",
            "C1",
            {"contracts C1": {"contractor": "roof-c"}},
            "of that code already",
        ),
    ],
)
def test_what_cannot_be_awarded_leaves_the_file_untouched(
    project: ProjectFile,
    package: str,
    contractor: str,
    code: str,
    cells: dict[str, dict[str, str]],
    words: str,
) -> None:
    for place, change in cells.items():
        table, key = place.split(" ")
        save(project, table, key, change)
    before = project.tables()
    with pytest.raises(ProblemError, match=words):
        award(project, AwardEntry(package, contractor, code, None), TODAY)
    assert project.tables() == before


def test_a_rate_above_the_whole_is_refused(project: ProjectFile) -> None:
    with pytest.raises(ProblemError, match="retainage"):
        award(project, AwardEntry("ROOF", "roof-b", "C1", None, retainage=100_001), TODAY)
    assert project.tables()["contracts"] == ()


def test_a_bid_that_was_changed_meanwhile_is_not_awarded(project: ProjectFile) -> None:
    seen = next(b for b in project.rows(Bid) if b.contractor == "roof-b")
    save(project, "bids", "ROOF/roof-b", {"amount": "95000"})
    with pytest.raises(StaleError):
        award(project, AwardEntry("ROOF", "roof-b", "C1", None), TODAY, expected=seen)


ANSWERS = st.sampled_from(("included", "excluded", "allowance", "unclear", ""))
PRICES = st.one_of(st.none(), st.integers(0, 10**9))


@given(
    st.lists(st.tuples(ANSWERS, PRICES, PRICES, PRICES), min_size=1, max_size=6),
    st.integers(0, 10**10),
)
def test_the_lines_add_up_to_the_lump_sum_whatever_is_priced(
    items: list[tuple[str, int | None, int | None, int | None]], amount: int
) -> None:
    """answer, own price, the other bid's price, own estimate."""
    bid = new(Bid, package="P", contractor="A", state="received", amount=amount)
    package = new(Package, code="P")
    rows: dict[str, Any] = {
        "packages": (package,),
        "bids": (bid, new(Bid, package="P", contractor="B", state="received")),
        "package_items": tuple(
            new(PackageItem, package="P", item=f"I{at}", cost_line="L", own_estimate=own)
            for at, (_, _, _, own) in enumerate(items)
        ),
        "bid_answers": (
            tuple(
                new(BidAnswer, package="P", contractor="A", item=f"I{at}", answer=said, price=price)
                for at, (said, price, _, _) in enumerate(items)
                if said
            )
            + tuple(
                new(
                    BidAnswer,
                    package="P",
                    contractor="B",
                    item=f"I{at}",
                    answer="included",
                    price=other,
                )
                for at, (_, _, other, _) in enumerate(items)
            )
        ),
    }
    leveled = leveled_package(rows, package, 0).bids[0]
    silent = not any(said for said, *_ in items)
    bought = len(items) if silent else sum(said in ("included", "allowance") for said, *_ in items)
    if not bought:
        with pytest.raises(ProblemError, match="covers no item"):
            awarded_scope(rows, bid, leveled)
        return
    scope = awarded_scope(rows, bid, leveled)
    assert scope.amount == amount
    assert len(scope.items) == bought
    assert every(item.value >= 0 for item in scope.items)


def test_trying_an_award_tells_the_same_and_writes_nothing(project: ProjectFile) -> None:
    before, steps = project.tables(), project.history()
    tried = award(project, AwardEntry("ROOF", "roof-a", "C9", TODAY), TODAY, only_try=True)
    assert tried.step is None and project.tables() == before and project.history() == steps
    done = award(project, AwardEntry("ROOF", "roof-a", "C9", TODAY), TODAY)
    assert (tried.contract, tried.lines, tried.forecast_after, tried.notes) == (
        done.contract,
        done.lines,
        done.forecast_after,
        done.notes,
    )
