"""The budget on paper shows the figures of the answer, in every format."""

from __future__ import annotations

import csv
import io
from decimal import Decimal
from pathlib import Path
from typing import Any

from tests.reports.reading import TODAY, cells, pages, recalculated, text, workbook
from tracker.answers import cost
from tracker.project_folder.reading import read
from tracker.reports.document import Part
from tracker.reports.printing import KINDS, Asked, made
from tracker.values.money import dollars, plain_dollars

COLUMNS = (
    "committed",
    "pending",
    "billed",
    "left_to_buy",
    "without_contract",
    "forecast",
    "budget",
    "moves",
    "budget_now",
    "room_left",
    "paid",
)


def test_every_figure_of_a_line_and_of_the_total_is_on_paper(
    rows: dict[str, tuple[Any, ...]],
) -> None:
    answer, said = cost.from_rows(rows, TODAY), text(made(rows, TODAY, "budget", ".pdf").data)
    for row in (*answer.lines, answer.total):
        amounts = [dollars(getattr(row, f"{name}_cents")) for name in COLUMNS]
        if row.room_left_cents < 0:
            amounts[COLUMNS.index("room_left")] += " short"
        assert " ".join(amounts) in said
    assert dollars(answer.per_gross_sf_cents.forecast_cents or 0) in said
    assert f"{answer.gross_sf:,}" in said


def test_the_printed_lines_add_up_to_the_printed_total(rows: dict[str, tuple[Any, ...]]) -> None:
    table = list(csv.reader(io.StringIO(made(rows, TODAY, "budget", ".csv").data.decode("utf-8"))))
    for place in range(2, 2 + len(COLUMNS)):
        assert sum(Decimal(row[place]) for row in table[1:-1]) == Decimal(table[-1][place])
    total = cost.from_rows(rows, TODAY).total
    assert table[-1][2:] == [plain_dollars(getattr(total, f"{name}_cents")) for name in COLUMNS]


def test_each_page_says_which_of_how_many_it_is_and_repeats_the_headings(
    rows: dict[str, tuple[Any, ...]],
) -> None:
    found = pages(made(rows, TODAY, "budget", ".pdf").data)
    assert len(found) > 1
    for number, page in enumerate(found, start=1):
        assert f"page {number} of {len(found)}" in page
        assert "Licensed trades and local code govern." in page
        assert "Nonesuch Maker Bays" in page
    assert "Asked for" in found[0]
    assert "Asked for" in found[1]


def test_a_spreadsheet_program_that_computes_anew_gets_the_same_cents(
    rows: dict[str, tuple[Any, ...]], tmp_path: Path
) -> None:
    data = made(rows, TODAY, "budget", ".xlsx").data
    formulas, stored = workbook(data), workbook(data, values=True)
    anew = recalculated(data, tmp_path)
    compared = 0
    for sheet in formulas.worksheets:
        for address, formula in cells(sheet).items():
            if isinstance(formula, str) and formula.startswith("="):
                was = Decimal(str(stored[sheet.title][address].value))
                assert cents_of(anew[sheet.title.upper(), address]) == cents_of(was), (
                    sheet.title,
                    address,
                )
                compared += 1
    assert compared > 3 * len(cost.from_rows(rows, TODAY).lines)


def cents_of(dollars_: Decimal) -> Decimal:
    """Dollars as a whole number of cents."""
    return (dollars_ * 100).quantize(Decimal(1))


def test_the_stored_results_of_the_spreadsheet_are_the_answers_figures(
    rows: dict[str, tuple[Any, ...]],
) -> None:
    total = cost.from_rows(rows, TODAY).total
    sheet = workbook(made(rows, TODAY, "budget", ".xlsx").data, values=True)["Cost lines"]
    last = next(row for row in sheet.iter_rows(values_only=True) if row[0] == "Total")
    assert [round(value * 100) for value in last[2:]] == [
        getattr(total, f"{name}_cents") for name in COLUMNS
    ]


def test_the_same_day_gives_the_same_bytes(rows: dict[str, tuple[Any, ...]]) -> None:
    for suffix in (".pdf", ".xlsx", ".csv"):
        assert made(rows, TODAY, "budget", suffix).data == made(rows, TODAY, "budget", suffix).data


def earned(rows: dict[str, tuple[Any, ...]], texts: Any) -> Part:
    """Earned value as the budget prints it."""
    document, _ = KINDS["budget"].make(Asked(rows, TODAY, snapshots=texts))
    return next(part for part in document.parts if part.key == "earned_value")


def test_earned_value_by_trade_adds_up_and_needs_a_baseline_for_what_was_planned(
    rows: dict[str, tuple[Any, ...]],
) -> None:
    from tracker.project_folder.places import folder

    bare = earned(rows, {})
    assert bare.foot[1] is None
    assert "no baseline" in bare.note
    kept = read(folder("sample_project")).snapshots
    heads, texts = (
        tuple(head for head, _ in kept.values()),
        {on: text for on, (_, text) in kept.items()},
    )
    part = earned({**rows, "snapshots": heads}, texts)
    for place in (1, 2, 3, 4):
        assert sum(row[place] for row in part.rows) == part.foot[place]  # type: ignore[misc]
    assert isinstance(part.foot[1], int)
    assert part.foot[1] > 0
    assert part.foot[6]


def test_the_budget_tells_yield_and_coverage_as_it_stands_and_late(
    rows: dict[str, tuple[Any, ...]],
) -> None:
    answer, said = cost.from_rows(rows, TODAY), text(made(rows, TODAY, "budget", ".pdf").data)
    will_cost, earns = (
        dollars(answer.total.forecast_cents or 0),
        dollars(answer.yield_on_cost_bp or 0),
    )
    assert f"as it stands {will_cost} {earns} % {answer.loan_coverage}" in said
    for one in answer.yield_if:
        assert (
            f"{one.what} {dollars(one.forecast_cents)} {dollars(one.yield_bp or 0)} %"
            f" {one.loan_coverage}" in said
        )
    assert "GSA P-120" in said
