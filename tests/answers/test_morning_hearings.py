"""Hearings in Morning: filed cases until something came of them, and the notices that they need."""

from __future__ import annotations

import dataclasses
import datetime as dt

import pytest

from tracker.answers.morning import from_rows
from tracker.answers.rezoning import from_rows as rezoning_of
from tracker.approvals.records import Answer, Hearing, Notice
from tracker.schedule.records import Activity, Calendar, Link
from tracker.values.project import Project
from tracker.values.records import new

HEARD = dt.date(2027, 4, 6)
"""The first Tuesday of April."""


def told(today: str, **case: object) -> list[str]:
    """What Morning says of a case that was filed on 1 March, with its marks."""
    values: dict[str, object] = {
        "code": "Z",
        "calendar": "B",
        "activity": "HEAR",
        "filed_on": dt.date(2027, 3, 1),
        "hearing_on": HEARD,
    }
    rows = {
        "project": [new(Project, start=dt.date(2027, 1, 4), status_date=dt.date(2027, 3, 1))],
        "calendars": [
            new(Calendar, code="week", weekdays=("mon", "tue", "wed", "thu", "fri")),
            new(
                Calendar,
                code="B",
                name="Town council",
                recurrence="FREQ=MONTHLY;BYDAY=1TU",
                recurrence_from=dt.date(2027, 1, 1),
            ),
        ],
        "activities": [new(Activity, code="HEAR", kind="gate", calendar="B", duration=1)],
        "notices": [
            new(
                Notice,
                calendar="B",
                kind="published",
                latest_days=15,
                earliest_days=30,
                count="calendar",
            )
        ],
        "hearings": [Hearing(**{**dict.fromkeys(("outcome", "note"), ""), **values, **case})],  # type: ignore[arg-type]
    }
    morning = from_rows(rows, dt.date.fromisoformat(f"2027-{today}"))
    return [
        f"{i.mark} {i.text}"
        for s in morning.sections
        if s.title == "Hearings and their notices"
        for i in s.items
    ]


def test_a_notice_is_asked_for_within_two_weeks_of_its_last_day_and_no_longer() -> None:
    """At least 15 days before 6 April is 22 March, at most 30 days 7 March (the model act's 15
    days, section 4).
    """
    notice = (
        "~ published notice of Z, heard Tue 06 Apr 2027 before Town council: by Mon 22 Mar 2027;"
        " was it given?"
    )
    assert told("03-07") == []
    assert told("03-08") == [notice]
    assert told("03-22") == [notice]
    assert told("03-23") == ["  Z is heard Tue 06 Apr 2027 before Town council: be there"]


@pytest.mark.parametrize(
    ("today", "said"),
    [
        ("04-05", "  Z is heard Tue 06 Apr 2027 before Town council: be there"),
        ("04-06", "  Z is heard today before Town council: be there"),
        ("04-07", "? Z was heard Tue 06 Apr 2027: what did Town council say?"),
    ],
)
def test_a_hearing_is_told_ahead_and_asked_about_from_the_day_after(today: str, said: str) -> None:
    assert told(today) == [said]


def test_a_decided_case_and_one_not_filed_are_silent_and_one_without_a_day_is_asked_about() -> None:
    assert told("04-07", outcome="approved") == []
    assert told("04-07", filed_on=None) == []
    assert told("04-07", hearing_on=None) == [
        "? Z is filed and has no day: ask the clerk of Town council"
    ]


def test_what_is_filed_is_not_to_be_filed_again_until_that_case_is_decided() -> None:
    """Looked at on 15 March, twenty days of cut-off before 6 April are Wed 17 March."""
    gate = new(Activity, code="HEAR", name="Hearing", kind="gate", calendar="B", duration=1)
    rows = {
        "project": [new(Project, start=dt.date(2027, 3, 1), status_date=dt.date(2027, 3, 12))],
        "calendars": [
            new(
                Calendar,
                code="B",
                recurrence="FREQ=MONTHLY;BYDAY=1TU",
                recurrence_from=dt.date(2027, 1, 1),
                cutoff_days=20,
            ),
            new(Calendar, code="week", weekdays=("mon", "tue", "wed", "thu", "fri")),
        ],
        "activities": [new(Activity, code="FILE", duration=1, calendar="week"), gate],
        "links": [new(Link, from_="FILE", to="HEAR", type="FS", lag=0, lag_unit="cutoff")],
    }

    def filings(**tables: object) -> list[str]:
        morning = from_rows({**rows, **tables}, dt.date(2027, 3, 15))  # type: ignore[dict-item]
        return [
            i.text
            for s in morning.sections
            if s.title == "Filings before a cut-off"
            for i in s.items
        ]

    assert filings()[0].startswith("file for Hearing by Wed 17 Mar 2027, 2 days left")
    filed = new(
        Hearing,
        code="Z",
        activity="HEAR",
        calendar="B",
        filed_on=dt.date(2027, 3, 14),
        hearing_on=HEARD,
    )
    assert filings(hearings=[filed]) == []
    for outcome in ("denied", "withdrawn"):  # in March: for April one files anew
        over = dataclasses.replace(
            filed, outcome=outcome, hearing_on=dt.date(2027, 3, 2), filed_on=dt.date(2027, 2, 8)
        )
        assert filings(hearings=[over]) == filings(), outcome


def test_a_case_filed_after_its_cutoff_stands_first_and_is_not_said_to_be_heard_then() -> None:
    """33 days before Tue 6 April is Thu 4 March; filed on the 8th it reaches Tue 4 May, whose
    cut-off is 1 April.
    """
    rows = {
        "project": [new(Project, start=dt.date(2027, 1, 4), status_date=dt.date(2027, 3, 1))],
        "calendars": [
            new(Calendar, code="week", weekdays=("mon", "tue", "wed", "thu", "fri")),
            new(
                Calendar,
                code="B",
                name="Town council",
                recurrence="FREQ=MONTHLY;BYDAY=1TU",
                recurrence_from=dt.date(2027, 1, 1),
                cutoff_days=33,
            ),
        ],
        "activities": [
            new(
                Activity,
                code="HEAR",
                kind="gate",
                calendar="B",
                duration=1,
                not_before=dt.date(2027, 4, 1),
            )
        ],
        "answers": [new(Answer, question="cutoff_hour", answer="12:00")],
        "hearings": [
            new(
                Hearing,
                code="Z",
                calendar="B",
                activity="HEAR",
                filed_on=dt.date(2027, 3, 8),
                hearing_on=HEARD,
            ),
        ],
    }
    said = {
        s.title: [f"{i.mark} {i.text}" for i in s.items]
        for s in from_rows(rows, dt.date(2027, 4, 5)).sections
    }
    (late,) = said["Filings before a cut-off"]
    assert late.startswith(
        "! Z was filed on Mon 08 Mar 2027, after the cut-off (Thu 04 Mar 2027, 12:00) for the"
        " meeting of Tue 06 Apr 2027: the plan takes the meeting of Tue 04 May 2027; ask the office"
    )
    assert "Hearings and their notices" not in said
    (shown,) = rezoning_of(rows, dt.date(2027, 4, 5)).cases
    assert (shown.mark, shown.reached, shown.warning) == ("!", dt.date(2027, 5, 4), late[2:])
