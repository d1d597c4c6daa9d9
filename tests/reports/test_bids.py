"""Bids side by side on paper show the leveled prices of the answer."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from tests.every import every
from tests.reports.reading import TODAY, cells, text, workbook
from tracker.answers import trades
from tracker.reports.printing import made
from tracker.values.money import dollars
from tracker.values.problems import ProblemError

Rows = dict[str, tuple[Any, ...]]


def test_every_bid_stands_with_its_price_what_we_add_and_its_leveled_price(rows: Rows) -> None:
    said = text(made(rows, TODAY, "bids", ".pdf").data)
    for package in trades.from_rows(rows, TODAY).packages:
        for bid in package.bids:
            if (
                bid.as_bid_cents is not None
                and bid.plugs_cents is not None
                and bid.leveled_cents is not None
            ):
                assert (
                    f"{dollars(bid.as_bid_cents)} {dollars(bid.plugs_cents)}"
                    f" {dollars(bid.leveled_cents)}" in said
                )


def test_the_leveled_price_of_the_spreadsheet_is_live_and_holds_the_answers_cents(
    rows: Rows,
) -> None:
    data = made(rows, TODAY, "bids", ".xlsx").data
    live, stored = workbook(data)["All bids"], workbook(data, values=True)["All bids"]
    leveled = [
        bid.leveled_cents
        for package in trades.from_rows(rows, TODAY).packages
        for bid in package.bids
    ]
    found = [
        (
            str(formula),
            Decimal(str(stored[address].value)),
            stored[address.replace("H", "F")].value,
            stored[address.replace("H", "G")].value,
        )
        for address, formula in cells(live).items()
        if address.startswith("H") and str(formula).startswith("=")
    ]
    assert [value * 100 for _, value, _, _ in found] == [
        cents for cents in leveled if cents is not None
    ]
    assert every(Decimal(str(bid)) + Decimal(str(added)) == value for _, value, bid, added in found)


def test_one_package_is_printed_by_its_code_and_another_word_is_refused(rows: Rows) -> None:
    said = text(made(rows, TODAY, "bids", ".pdf", "BP-ROOF").data)
    assert "BP-ROOF" in said
    assert "BP-PLUM" not in said
    with pytest.raises(ProblemError, match="BP-ROOF"):
        made(rows, TODAY, "bids", ".pdf", "nothing")
