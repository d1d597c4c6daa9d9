"""Filing cut-offs of published calendars: plain arithmetic where it holds, the published date where
the body moved it.
"""

import datetime as dt
import itertools
import json
from pathlib import Path

import pytest

from tracker.schedule.calendars import calendar_set
from tracker.schedule.cutoffs import meetings_between, meetings_from
from tracker.schedule.records import Calendar, CalendarDay

CALENDARS = json.loads((Path(__file__).parent / "hearing_calendars.json").read_text())["calendars"]


def cutoffs(calendar, single_days):
    body = Calendar(
        code="BODY", recurrence=calendar["recurrence"], cutoff_days=calendar["cutoff_days"]
    )
    known = calendar_set(
        {"calendars": [body], "calendar_days": single_days}, int(calendar["dates"][0][0][:4])
    )
    first, last = (dt.date.fromisoformat(calendar["dates"][end][0]).toordinal() for end in (0, -1))
    return {
        m.day.isoformat(): m.cutoff.isoformat()
        for m in meetings_between(known, "BODY", first, last + 1)
    }


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
        CalendarDay(
            calendar="BODY",
            date=dt.date.fromisoformat(meeting),
            works=True,
            cutoff=dt.date.fromisoformat(cutoff),
        )
        for meeting, cutoff, _ in calendar["dates"]
    ]
    found = cutoffs(calendar, days)
    for meeting, published, _ in calendar["dates"]:
        assert found[meeting] == published


@pytest.mark.parametrize("calendar", CALENDARS, ids=lambda c: c["source"])
def test_whoever_files_on_the_published_day_is_heard_then_and_a_day_later_at_the_next_meeting(
    calendar,
):
    """The bodies' own words: late is the next meeting.

    Their cut-offs as published, holiday exceptions included.
    """
    body = Calendar(
        code="BODY", recurrence=calendar["recurrence"], cutoff_days=calendar["cutoff_days"]
    )
    published = [
        tuple(dt.date.fromisoformat(text) for text in row[:2]) for row in calendar["dates"]
    ]
    days = [
        CalendarDay(calendar="BODY", date=meeting, works=True, cutoff=cutoff)
        for meeting, cutoff in published
    ]
    meant = {meeting for meeting, _ in published}
    regular = calendar_set({"calendars": [body], "calendar_days": []}, published[0][0].year)
    low, high = dt.date(published[0][0].year, 1, 1).toordinal(), published[-1][0].toordinal() + 1
    off = [m.day for m in meetings_between(regular, "BODY", low, high) if m.day not in meant]
    days += [CalendarDay(calendar="BODY", date=day, works=False) for day in off]
    known = calendar_set({"calendars": [body], "calendar_days": days}, published[0][0].year)
    for (meeting, cutoff), (following, _) in itertools.pairwise(published):
        assert meetings_from(known, "BODY", cutoff, most=1)[0].day == meeting
        assert (
            meetings_from(known, "BODY", cutoff + dt.timedelta(days=1), most=1)[0].day == following
        )


def test_a_body_that_publishes_each_date_needs_no_rule_for_its_cutoff():
    """Boone County, Missouri, planning and zoning commission, 2023: filing by 2023-03-27 for
    2023-04-20, 24 days (read).
    """
    body = Calendar(code="BODY", recurrence="FREQ=MONTHLY;BYDAY=3TH", cutoff_days=7)
    day = CalendarDay(
        calendar="BODY", date=dt.date(2023, 4, 20), works=True, cutoff=dt.date(2023, 3, 27)
    )
    known = calendar_set({"calendars": [body], "calendar_days": [day]}, 2023)
    (found,) = meetings_between(known, "BODY", day.date.toordinal(), day.date.toordinal() + 1)
    assert (found.day, found.cutoff) == (dt.date(2023, 4, 20), dt.date(2023, 3, 27))
