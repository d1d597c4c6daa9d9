"""A change that was noticed gets its price and days in one step; then it can be approved."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.actions.exported import exported, project_of
from tests.actions.test_approve_change import FILES
from tracker.actions.approve_change import approve_change
from tracker.actions.price_change import PriceEntry, PriceLine, price_change
from tracker.money.records import Change, ChangeLine
from tracker.project_file.store import ProjectFile
from tracker.values.problems import ProblemError

TODAY = dt.date(2027, 3, 12)
ON = dt.date(2027, 3, 11)


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    with project_of(tmp_path, FILES) as opened:
        yield opened


def priced(
    project: ProjectFile,
    number: str = "CH-3",
    *lines: PriceLine,
    on: dt.date = ON,
    only_try: bool = False,
    **more: Any,
) -> Any:
    """CH-3 is an estimate of 100.00 on its line 1, noticed on 9 March; here it is priced."""
    wanted = lines or (PriceLine(180_000, "B30", line="1"),)
    known: dict[str, Any] = {"contract": "C1", "days": 2, "activities": ("ROOF",)} | more
    return price_change(project, PriceEntry(number, wanted, on, **known), TODAY, only_try)


def of_change(project: ProjectFile, number: str) -> list[tuple[str, str, int]]:
    return [
        (line.line, line.cost_line, line.amount)
        for line in project.rows(ChangeLine)
        if line.change == number
    ]


def test_the_estimate_becomes_the_price_and_moves_the_forecast_by_the_difference(
    project: ProjectFile, tmp_path: Path
) -> None:
    """B30 has 100,000 and nothing said about what is to buy: a price within the budget moves no
    forecast. CC is the same.
    """
    first = exported(project, tmp_path / "first")
    done = priced(
        project, "CH-3", PriceLine(180_000, "B30", line="1"), PriceLine(-5_000, "CC", "Saved")
    )
    kept = next(c for c in project.rows(Change) if c.number == "CH-3")
    assert (kept.state, kept.priced, kept.days, kept.activities) == ("priced", ON, 2, ("ROOF",))
    assert of_change(project, "CH-3") == [("1", "B30", 180_000), ("2", "CC", -5_000)]
    assert done.price == 175_000 and done.step.what == "priced change CH-3"
    assert done.after.forecast - done.before.forecast == 0
    assert approve_change(project, "CH-3", ON, TODAY).price == 175_000
    project.undo()
    project.undo()
    assert exported(project, tmp_path / "undone") == first


def test_trying_tells_the_same_and_writes_nothing(project: ProjectFile) -> None:
    before = project.tables()
    tried = priced(project, only_try=True)
    assert tried.step is None and project.tables() == before
    done = priced(project)
    assert (tried.price, tried.before, tried.after, tried.lines) == (
        done.price,
        done.before,
        done.after,
        done.lines,
    )


def test_what_is_missing_for_an_approval_is_told(project: ProjectFile) -> None:
    notes = " / ".join(priced(project, days=3, activities=(), contract="", only_try=True).notes)
    assert (
        "it is not said whose change it is" in notes
        and "names no activity: nothing will move" in notes
    )
    assert "how many days" in " / ".join(priced(project, days=None).notes)


@pytest.mark.parametrize(
    ("number", "lines", "more", "words"),
    [
        ("CH-9", (), {}, "no such change"),
        ("CH-0", (), {}, "approved already"),
        ("CH-3", (), {"on": dt.date(2027, 3, 13)}, "lies ahead"),
        ("CH-3", (), {"on": dt.date(2027, 3, 8)}, "before it was noticed"),
        ("CH-3", (), {"contract": "C9"}, "contract"),
        ("CH-3", (), {"activities": ("NONE",)}, "NONE"),
        ("CH-3", (PriceLine(100, "NONE", line="1"),), {}, "NONE"),
    ],
)
def test_what_can_not_be_priced_changes_nothing(
    project: ProjectFile,
    number: str,
    lines: tuple[PriceLine, ...],
    more: dict[str, Any],
    words: str,
) -> None:
    before = project.tables()
    with pytest.raises(ProblemError, match=words):
        priced(project, number, *lines, **more)
    assert project.tables() == before


def test_a_change_without_a_line_is_not_priced(project: ProjectFile) -> None:
    """CH-2 has no line: nothing can be said of what it costs."""
    with pytest.raises(ProblemError, match="the change has no price"):
        price_change(project, PriceEntry("CH-2", (), ON, contract="C1", days=0), TODAY)
