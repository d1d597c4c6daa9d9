"""The scope of a bid as it goes into a contract: an item, its cost line, its value.

The values add up to the bid's price.

Prices stand as bid. What is in the lump sum is spread over its items in proportion to the other
bids' prices for them (their median, as leveling has it), else to the owner's own estimates, else
evenly: largest remainder, so that the parts add up to the cent. An item that is excluded, unclear
or not answered is not in the price and stays out of the contract.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tracker.trades.leveling import COMPARED, LeveledBid, median
from tracker.trades.records import Bid, BidAnswer, PackageItem
from tracker.values.money import dollars, split
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows
from tracker.values.sums import totals

IN_PRICE = ("included", "allowance", "in the lump sum")
"""Answers to an item that is in the bid's price."""


@dataclass(frozen=True, slots=True)
class AwardedItem:
    """One item of the contract to be, in cents. foreseen: the owner's own estimate, or the value
    where there is none.
    """

    item: str
    name: str
    cost_line: str
    value: int
    foreseen: int


@dataclass(frozen=True, slots=True)
class AwardedScope:
    """What is bought and for how much. left_out: items that the price does not cover; notes: what
    was assumed, in words.
    """

    items: tuple[AwardedItem, ...]
    left_out: tuple[str, ...]
    notes: tuple[str, ...]

    def foreseen(self) -> dict[str, int]:
        """By cost line, the cents at which the owner had foreseen what is bought."""
        return totals((item.cost_line, item.foreseen) for item in self.items)

    @property
    def amount(self) -> int:
        """The contract sum, in cents."""
        return sum(item.value for item in self.items)


def awarded_scope(rows: Rows, bid: Bid, leveled: LeveledBid) -> AwardedScope:
    """The scope of a bid, with its values. leveled: the bid as leveling has it.

    ProblemError where nothing of the package is in the bid, its price is not known, or an item has
    no cost line.
    """
    key = f"{bid.package}/{bid.contractor}"
    items: dict[str, PackageItem] = {
        i.item: i for i in rows.get("package_items", ()) if i.package == bid.package
    }
    bought = [line for line in leveled.items if line.answer in IN_PRICE]
    if not bought:
        what = (
            "the bid covers no item of the package" if items else "the package has no scope items"
        )
        do = (
            "enter what the bid says about each item"
            if items
            else "enter its items with their cost lines"
        )
        raise ProblemError(Problem(what, do, table="bids", key=key))
    if leveled.as_bid is None:
        do = "give the lump sum, or a price for each item that the bid includes"
        raise ProblemError(
            Problem("the bid's price is not known", do, table="bids", key=key, column="amount")
        )
    if bare := [line.item for line in bought if not items[line.item].cost_line]:
        do = "say on which line of the budget the item lies"
        where = [f"{bid.package}/{code}" for code in bare]
        raise ProblemError(
            Problem("an item has no cost line", do, "package_items", place, "cost_line")
            for place in where
        )
    wanted = [items[line.item] for line in bought]
    values, notes = _values(rows, bid, wanted, [line.price for line in bought], leveled.as_bid)
    left_out = [line for line in leveled.items if line.answer not in IN_PRICE]
    notes += [
        f"{line.name} is {line.answer}: it is not in the price and stays out of the contract"
        for line in left_out
    ]
    notes += [
        f"{line.name} is an allowance: what it costs in the end is a change"
        for line in bought
        if line.answer == "allowance"
    ]
    return AwardedScope(
        items=tuple(
            AwardedItem(
                i.item,
                i.name or i.item,
                i.cost_line,
                v,
                v if i.own_estimate is None else i.own_estimate,
            )
            for i, v in zip(wanted, values, strict=True)
        ),
        left_out=tuple(line.item for line in left_out),
        notes=tuple(notes),
    )


def _values(
    rows: Rows, bid: Bid, items: Sequence[PackageItem], prices: Sequence[int | None], amount: int
) -> tuple[list[int], list[str]]:
    """The value of each item, adding up to the amount, and what was assumed."""
    known = [price or 0 for price in prices]
    rest = amount - sum(known)
    open_ = [at for at, price in enumerate(prices) if price is None]
    if not rest and not open_:
        return known, []
    if open_ and rest >= 0:
        weights, basis = _weights(rows, bid, [items[at] for at in open_])
        for at, part in zip(open_, split(rest, weights), strict=True):
            known[at] = part
        return known, [
            f"{dollars(rest)} of the lump sum is spread over {_names(items, open_)} {basis}"
        ]
    if open_ or not any(known):
        weights, basis = _weights(rows, bid, items)
    else:
        weights, basis = known, "in proportion to the prices as bid"
    note = (
        f"the items' prices add up to {dollars(sum(known))}, the bid is {dollars(amount)}: spread"
        f" over the items {basis}"
    )
    return split(amount, weights), [note]


def _weights(rows: Rows, bid: Bid, items: Sequence[PackageItem]) -> tuple[list[int], str]:
    """How a sum is spread over items, and on what that rests, in words."""
    if len(items) == 1:
        return [1], "as the only item without a price"
    others = {
        b.contractor
        for b in rows.get("bids", ())
        if b.package == bid.package and b.state in COMPARED
    }
    answers: list[BidAnswer] = [
        a
        for a in rows.get("bid_answers", ())
        if a.package == bid.package
        and a.contractor in others - {bid.contractor}
        and a.answer in ("included", "allowance")
    ]
    medians = [
        median(a.price for a in answers if a.item == item.item and a.price is not None)
        for item in items
    ]
    if all(medians):
        return [middle or 0 for middle in medians], "in proportion to the other bids' prices"
    estimates = [item.own_estimate for item in items]
    if all(estimates):
        return [estimate or 0 for estimate in estimates], "in proportion to your own estimates"
    mixed = [middle or estimate or 0 for middle, estimate in zip(medians, estimates, strict=True)]
    if all(mixed):
        return (
            mixed,
            "in proportion to the other bids' prices, and your own estimates where there are none",
        )
    return [1] * len(
        items
    ), "evenly: neither the other bids nor your own estimates price each of them"


def _names(items: Sequence[PackageItem], places: Sequence[int]) -> str:
    """The items at these places by name."""
    return ", ".join(items[at].name or items[at].item for at in places)
