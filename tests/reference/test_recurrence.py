"""Meeting days by recurrence rules: the examples of RFC 5545, section 3.8.5.3 (read in a stored
copy).
"""

import datetime as dt
import json
from pathlib import Path

import pytest

from tracker.schedule.calendars import recurring_days

FILE = json.loads((Path(__file__).parent / "recurrence.json").read_text())


@pytest.mark.parametrize("example", FILE["examples"], ids=lambda e: e["name"])
def test_a_body_meets_on_the_days_of_its_rule(example):
    begin = dt.date.fromisoformat(example["begin"])
    dates = [dt.date.fromisoformat(day) for day in example["dates"]]
    end = dates[-1] if example["continues"] else dt.date(2005, 1, 1)
    found = recurring_days(example["rule"], begin, begin.toordinal() - 400, end.toordinal() + 1)
    assert [dt.date.fromordinal(day) for day in found] == dates
