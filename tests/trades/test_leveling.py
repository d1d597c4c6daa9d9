"""Bids side by side.

The case of four prices rests on comparison of prices received (FAR 15.404-1(b)(2)(i)); the lines to
be explained on a US Navy guide for architect-engineers (10 % or more off the own estimate); the
numbers are worked by hand.
"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.trades.leveling import (
    LeveledBid,
    LeveledPackage,
    is_far_below,
    leveled_package,
    median,
)
from tracker.trades.records import Bid, BidAnswer, Package, PackageItem

PACKAGE = Package(code="P")
SHARE = 20_000


def package(items: dict[str, int | None], bids: dict[str, dict[str, Any]]) -> LeveledPackage:
    """A package from own estimates by item and, by bidder, amount and answers (answer, price,
    plug), in dollars.
    """
    rows: dict[str, list[Any]] = {"package_items": [], "bids": [], "bid_answers": []}
    for item, estimate in items.items():
        rows["package_items"].append(
            PackageItem(package="P", item=item, own_estimate=cents(estimate))
        )
    for who, bid in bids.items():
        amount = cents(bid.get("amount"))
        rows["bids"].append(
            Bid(package="P", contractor=who, state=bid.get("state", "received"), amount=amount)
        )
        for item, (answer, price, plug) in bid.get("answers", {}).items():
            made = BidAnswer(
                package="P",
                contractor=who,
                item=item,
                answer=answer,
                price=cents(price),
                plug=cents(plug),
            )
            rows["bid_answers"].append(made)
    return leveled_package(rows, PACKAGE, SHARE)


def cents(dollars: int | None) -> int | None:
    return None if dollars is None else dollars * 100


def bid_of(made: LeveledPackage, who: str) -> LeveledBid:
    return next(b for b in made.bids if b.contractor == who)


def test_an_excluded_item_takes_the_plug_that_was_entered():
    made = package(
        {"walls": None, "doors": None},
        {
            "A": {
                "amount": 10_000,
                "answers": {"walls": ("included", None, None), "doors": ("excluded", None, 1_500)},
            }
        },
    )
    assert bid_of(made, "A").leveled == 1_150_000
    assert bid_of(made, "A").items[1].plug_from == "entered"


def test_without_a_plug_the_median_of_the_others_prices_counts_and_an_even_count_takes_the_mean_of_the_middle_two():  # noqa: E501
    others = {
        who: {"amount": 10_000, "answers": {"doors": ("included", price, None)}}
        for who, price in (("B", 1_000), ("C", 1_301), ("D", 2_000), ("E", 1_200))
    }
    made = package(
        {"doors": None},
        {"A": {"amount": 9_000, "answers": {"doors": ("unclear", None, None)}}, **others},
    )
    assert bid_of(made, "A").items[0].plug == 125_050
    assert bid_of(made, "A").items[0].plug_from == "median"
    assert bid_of(made, "A").leveled == 900_000 + 125_050


def test_where_nobody_priced_an_item_the_leveled_price_is_unknown_and_the_item_is_named():
    made = package(
        {"doors": None},
        {
            "A": {"amount": 9_000, "answers": {"doors": ("excluded", None, None)}},
            "B": {"amount": 9_500, "answers": {"doors": ("included", None, None)}},
        },
    )
    assert bid_of(made, "A").leveled is None
    assert bid_of(made, "A").unknown_because == ("doors",)
    assert bid_of(made, "B").leveled == 950_000


def test_a_declined_bids_prices_are_no_plug():
    made = package(
        {"doors": None},
        {
            "A": {"amount": 9_000, "answers": {"doors": ("excluded", None, None)}},
            "B": {"state": "declined", "amount": 1, "answers": {"doors": ("included", 700, None)}},
        },
    )
    assert bid_of(made, "A").leveled is None


def test_an_allowance_is_replaced_by_our_own_figure():
    """41,000 with an allowance of 1,800 against our own 3,000: 42,200."""
    made = package(
        {"fixtures": None},
        {"A": {"amount": 41_000, "answers": {"fixtures": ("allowance", 1_800, 3_000)}}},
    )
    assert bid_of(made, "A").leveled == 4_220_000


def test_a_lump_sum_without_any_answer_stands_as_it_was_bid():
    made = package({"doors": None}, {"A": {"amount": 9_000}})
    assert bid_of(made, "A").leveled == 900_000
    assert bid_of(made, "A").items[0].answer == "in the lump sum"


def test_an_item_that_a_bid_passes_over_in_silence_is_not_taken_as_included():
    made = package(
        {"walls": None, "doors": None},
        {
            "A": {"amount": 9_000, "answers": {"walls": ("included", 9_000, None)}},
            "B": {
                "amount": 9_800,
                "answers": {"walls": ("included", 9_000, None), "doors": ("included", 800, None)},
            },
        },
    )
    assert bid_of(made, "A").items[1].answer == "not answered"
    assert bid_of(made, "A").leveled == 980_000


def test_without_a_lump_sum_the_priced_items_are_the_bid():
    made = package(
        {"a": None, "b": None},
        {"A": {"answers": {"a": ("included", 100, None), "b": ("included", 50, None)}}},
    )
    assert bid_of(made, "A").as_bid == 15_000


def test_the_spread_is_told_against_the_median_and_the_outlier_is_far_below():
    """41,000, 44,500, 47,800 and 29,900: median 42,750; the lowest is 27.07 % under the next, 30.06
    % under the median.
    """
    prices = {"a": 41_000, "b": 44_500, "c": 47_800, "d": 29_900}
    made = package({}, {who: {"amount": amount} for who, amount in prices.items()})
    assert made.median == 4_275_000
    assert bid_of(made, "d").spread_bp == -3_006
    assert [b.contractor for b in made.bids if b.far_below] == ["d"]
    assert not made.few


def test_the_share_below_the_others_counts_from_the_day_it_is_reached():
    assert is_far_below(80_000, [100_000, 120_000], SHARE)
    assert not is_far_below(80_001, [100_000, 120_000], SHARE)
    assert not is_far_below(80_000, [], SHARE)


def test_lines_a_tenth_or_more_off_the_own_estimate_are_to_be_explained():
    """Demolition 7,400 of 8,000, framing 25,300 of 22,000, electrical 26,900 of 30,000, plumbing
    19,800 of 18,000.
    """
    bid = {"demolition": 7_400, "framing": 25_300, "electrical": 26_900, "plumbing": 19_800}
    answers = {item: ("included", price, None) for item, price in bid.items()}
    estimates = {"demolition": 8_000, "framing": 22_000, "electrical": 30_000, "plumbing": 18_000}
    made = package(estimates, {"A": {"answers": answers}})
    items = {i.item: i for i in bid_of(made, "A").items}
    assert {code: i.off_estimate_bp for code, i in items.items()} == {
        "demolition": -750,
        "framing": 1_500,
        "electrical": -1_033,
        "plumbing": 1_000,
    }
    assert [code for code, i in items.items() if i.explain] == ["framing", "electrical", "plumbing"]


@pytest.mark.parametrize(("count", "few"), [(0, True), (2, True), (3, False)])
def test_fewer_than_three_bids_are_few(count: int, few: bool):
    assert package({}, {f"C{n}": {"amount": 10 + n} for n in range(count)}).few is few


@given(st.lists(st.integers(0, 10**9), min_size=1))
def test_half_of_the_amounts_lie_on_either_side_of_the_median(amounts: list[int]):
    middle = median(amounts)
    assert middle is not None
    assert 2 * sum(a < middle for a in amounts) <= len(amounts)
    assert 2 * sum(a > middle for a in amounts) <= len(amounts)
