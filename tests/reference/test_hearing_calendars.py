"""Filing cut-offs of published calendars: plain arithmetic where it holds, the published date where the body moved it."""

import datetime as dt
import json
from pathlib import Path

import pytest

from tracker.schedule.calendars import calendar_set
from tracker.schedule.cutoffs import meetings_between
from tracker.schedule.records import Calendar, CalendarDay

CALENDARS = json.loads((Path(__file__).parent / "hearing_calendars.json").read_text())["calendars"]


def cutoffs(calendar, single_days):
    body = Calendar(code="BODY", recurrence=calendar["recurrence"], cutoff_days=calendar["cutoff_days"])
    known = calendar_set({"calendars": [body], "calendar_days": single_days}, int(calendar["dates"][0][0][:4]))
    first, last = (dt.date.fromisoformat(calendar["dates"][end][0]).toordinal() for end in (0, -1))
    return {m.day.isoformat(): m.cutoff.isoformat() for m in meetings_between(known, "BODY", first, last + 1)}


@pytest.mark.parametrize("calendar", CALENDARS, ids=lambda c: c["source"])
def test_cutoffs_by_arithmetic_are_the_published_ones_where_no_holiday_moved_them(calendar):
    found = cutoffs(calendar, [])
    ruled = [row for row in calendar["dates"] if row[2]]
    assert len(ruled) >= 8
    for meeting, published, _ in ruled:
        assert found[meeting] == published


@pytest.mark.parametrize("calendar", CALENDARS, ids=lambda c: c["source"])
def test_a_published_date_stands_against_the_arithmetic(calendar):
    days = [
        CalendarDay(calendar="BODY", date=dt.date.fromisoformat(meeting), works=True, cutoff=dt.date.fromisoformat(cutoff))
        for meeting, cutoff, _ in calendar["dates"]
    ]
    found = cutoffs(calendar, days)
    for meeting, published, _ in calendar["dates"]:
        assert found[meeting] == published
