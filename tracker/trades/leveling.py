"""Bid leveling: what each bid would cost if all of them covered the same scope.

Leveled price = price + our plug for each item that the bid excludes or leaves unclear: the plug
that was entered, or the median of the other bids' priced answers to that item (of an even count the
mean of the middle two, rounded half away from zero to the cent). Where nobody else priced the item,
the leveled price is unknown. An allowance in a bid is replaced by our own figure where both are
given. A line that is a tenth or more off the owner's own estimate asks for an explanation (10 %: a
US Navy guide for architect-engineers). How far below the others a bid is called far below is the
owner's setting; no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tracker.trades.records import Bid, BidAnswer, Package, PackageItem
from tracker.values.money import WHOLE_RATE, basis_points, divide
from tracker.values.records import Rows

COMPARED = ("received", "awarded", "passed over")
"""The states of a bid that has a price to compare."""

FEW = 3
"""Fewer bids than this are said to be few."""

EXPLAIN_BP = 1_000
"""A line that is so many basis points or more off the own estimate is to be explained."""


@dataclass(frozen=True, slots=True)
class LeveledItem:
    """One bid's answer to one scope item. Cents. answer: as given, or "not answered".

    plug: what leveling adds for this item; plug_from: entered, median or unknown; blank where
    nothing is added. off_estimate_bp: price against the own estimate; explain: it is a tenth or
    more off.
    """

    item: str
    name: str
    answer: str
    price: int | None
    plug: int | None
    plug_from: str
    own_estimate: int | None
    off_estimate_bp: int | None
    explain: bool


@dataclass(frozen=True, slots=True)
class LeveledBid:
    """One bid beside the others. Cents; shares in basis points.

    as_bid: the lump sum, or the sum of its priced items. leveled: None where it is unknown;
    unknown_because names the items. spread_bp: leveled against the median of the leveled bids.
    far_below: so far under the next one that a mistake is likely.
    """

    contractor: str
    state: str
    as_bid: int | None
    leveled: int | None
    unknown_because: tuple[str, ...]
    spread_bp: int | None
    far_below: bool
    items: tuple[LeveledItem, ...]


@dataclass(frozen=True, slots=True)
class LeveledPackage:
    """A package with its bids side by side. median: of the leveled prices, cents; few: fewer than
    three bids.
    """

    package: Package
    own_estimate: int | None
    median: int | None
    few: bool
    bids: tuple[LeveledBid, ...]


def leveled_packages(rows: Rows, low_bid_share: int) -> tuple[LeveledPackage, ...]:
    """All packages in row order. low_bid_share: thousandths of a percent below the next bid from
    which one is far below.
    """
    return tuple(
        leveled_package(rows, package, low_bid_share) for package in rows.get("packages", ())
    )


def leveled_package(rows: Rows, package: Package, low_bid_share: int) -> LeveledPackage:
    """One package with its bids leveled."""
    items: list[PackageItem] = [
        i for i in rows.get("package_items", ()) if i.package == package.code
    ]
    bids: list[Bid] = [b for b in rows.get("bids", ()) if b.package == package.code]
    compared = {b.contractor for b in bids if b.state in COMPARED}
    given: dict[tuple[str, str], BidAnswer] = {
        (a.contractor, a.item): a for a in rows.get("bid_answers", ()) if a.package == package.code
    }
    priced = {key: a for key, a in given.items() if key[0] in compared}
    found = [_leveled(bid, items, given, priced) for bid in bids]
    known = [bid.leveled for bid in found if bid.leveled is not None and bid.state in COMPARED]
    middle = median(known)
    estimates = [item.own_estimate for item in items if item.own_estimate is not None]
    return LeveledPackage(
        package=package,
        own_estimate=sum(estimates) if items and len(estimates) == len(items) else None,
        median=middle,
        few=len(compared) < FEW,
        bids=tuple(_beside(bid, found, middle, low_bid_share) for bid in found),
    )


def median(amounts: Iterable[int]) -> int | None:
    """The middle amount; of an even count the mean of the middle two, rounded half away from zero;
    None of none.
    """
    ordered = sorted(amounts)
    if not ordered:
        return None
    half = len(ordered) // 2
    return ordered[half] if len(ordered) % 2 else divide(ordered[half - 1] + ordered[half], 2)


def is_far_below(amount: int, others: Sequence[int], share: int) -> bool:
    """Whether an amount lies at least this share (thousandths of a percent) below the lowest of the
    others.
    """
    return (
        bool(others)
        and amount * WHOLE_RATE <= min(others) * (WHOLE_RATE - share)
        and amount < min(others)
    )


def _leveled(
    bid: Bid,
    items: Sequence[PackageItem],
    given: dict[tuple[str, str], BidAnswer],
    priced: dict[tuple[str, str], BidAnswer],
) -> LeveledBid:
    """One bid by itself."""
    silent = not any(contractor == bid.contractor for contractor, _ in given)
    lines = tuple(
        _item(item, given.get((bid.contractor, item.item)), _others(priced, bid, item), silent)
        for item in items
    )
    as_bid = bid.amount if bid.amount is not None else _sum_of_prices(lines)
    unknown = tuple(line.item for line in lines if line.plug_from == "unknown")
    leveled = None if as_bid is None or unknown else as_bid + sum(line.plug or 0 for line in lines)
    return LeveledBid(bid.contractor, bid.state, as_bid, leveled, unknown, None, False, lines)


def _others(priced: dict[tuple[str, str], BidAnswer], bid: Bid, item: PackageItem) -> list[int]:
    """What the other bids ask for an item."""
    return [
        answer.price
        for (contractor, code), answer in priced.items()
        if code == item.item
        and contractor != bid.contractor
        and answer.price is not None
        and _covers(answer.answer)
    ]


def _covers(answer: str) -> bool:
    """Whether a bid's price has this item in it."""
    return answer in ("included", "allowance")


def _item(
    item: PackageItem, answer: BidAnswer | None, others: Sequence[int], silent: bool
) -> LeveledItem:
    """One item of one bid. silent: the bid answers no item at all, so that its lump sum is taken
    for the whole scope.
    """
    said = answer.answer if answer else "in the lump sum" if silent else "not answered"
    price = answer.price if answer else None
    plug, plug_from = _plug(answer, others, silent)
    off = (
        basis_points(price - item.own_estimate, item.own_estimate)
        if price is not None and item.own_estimate
        else None
    )
    explain = bool(
        price is not None
        and item.own_estimate
        and _covers(said)
        and abs(price - item.own_estimate) * 10_000 >= EXPLAIN_BP * item.own_estimate
    )
    return LeveledItem(
        item.item,
        item.name or item.item,
        said,
        price,
        plug,
        plug_from,
        item.own_estimate,
        off,
        explain,
    )


def _plug(answer: BidAnswer | None, others: Sequence[int], silent: bool) -> tuple[int | None, str]:
    """What leveling adds for an item, and where that figure comes from."""
    if answer is None and silent:
        return None, ""
    if answer is not None and answer.answer == "included":
        return None, ""
    if answer is not None and answer.answer == "allowance":
        if answer.plug is None or answer.price is None:
            return None, ""
        return answer.plug - answer.price, "entered"
    if answer is not None and answer.plug is not None:
        return answer.plug, "entered"
    middle = median(others)
    return (None, "unknown") if middle is None else (middle, "median")


def _sum_of_prices(lines: Sequence[LeveledItem]) -> int | None:
    """The sum of the items that a bid covers; None unless each of them has a price."""
    covered = [line.price for line in lines if _covers(line.answer)]
    known = [price for price in covered if price is not None]
    return sum(known) if covered and len(known) == len(covered) else None


def _beside(
    bid: LeveledBid, bids: Sequence[LeveledBid], middle: int | None, share: int
) -> LeveledBid:
    """A bid with what shows only beside the others."""
    if bid.leveled is None or middle is None or bid.state not in COMPARED:
        return bid
    others = [
        b.leveled for b in bids if b is not bid and b.leveled is not None and b.state in COMPARED
    ]
    return LeveledBid(
        contractor=bid.contractor,
        state=bid.state,
        as_bid=bid.as_bid,
        leveled=bid.leveled,
        unknown_because=bid.unknown_because,
        spread_bp=basis_points(bid.leveled - middle, middle),
        far_below=is_far_below(bid.leveled, others, share),
        items=bid.items,
    )
