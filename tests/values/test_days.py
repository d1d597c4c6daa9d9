"""Days as people read them."""

from __future__ import annotations

import datetime as dt
import re
from pathlib import Path

from tracker.values.days import (
    count_of_days,
    day_and_month,
    day_of_month,
    full_day,
    month,
    month_of_year,
    short_day,
)

PACKAGE = Path(__file__).parents[2] / "tracker"
DAY = dt.date(2027, 3, 5)


def test_a_day_reads_the_same_everywhere() -> None:
    assert (full_day(DAY), day_and_month(DAY), short_day(DAY)) == (
        "Fri 05 Mar 2027",
        "Fri 05 Mar",
        "05 Mar 2027",
    )
    assert (day_of_month(DAY), month_of_year(DAY), month(DAY)) == ("05 Mar", "Mar 2027", "Mar")


def test_days_are_counted_with_their_word() -> None:
    assert [count_of_days(n) for n in (1, -1, 0, 1_200)] == [
        "1 day",
        "-1 day",
        "0 days",
        "1,200 days",
    ]


def test_the_forms_of_a_day_and_the_names_of_months_are_written_down_in_one_place() -> None:
    """No other module spells out how a day is written, or what months are called for short."""
    spelled = re.compile(r"%[ab]\b|[\"']Feb\b")
    homes = [
        path.name
        for path in PACKAGE.rglob("*.py")
        if spelled.search(path.read_text(encoding="utf-8"))
    ]
    assert homes == ["days.py"]
