"""Days ahead as a calendar file of RFC 5545."""

from __future__ import annotations

import dataclasses
import datetime as dt
from typing import Any

import pytest

from tests.reports.reading import TODAY
from tracker.answers import path
from tracker.approvals.cautions import ALWAYS, standing
from tracker.reports.printing import made
from tracker.schedule.records import CalendarDay
from tracker.values.problems import ProblemError

Rows = dict[str, tuple[Any, ...]]


def unfolded(data: bytes) -> list[str]:
    """The content lines: a line break followed by a blank is taken out (RFC 5545, 3.1)."""
    return data.decode("utf-8").replace("\r\n ", "").split("\r\n")[:-1]


def test_lines_end_and_fold_as_the_standard_says(rows: Rows) -> None:
    """RFC 5545, section 3.1: lines end in CRLF and are no longer than 75 octets."""
    for name in ("schedule", "lookahead", "checklist", "inspections", "hearings"):
        data = made(rows, TODAY, name, ".ics").data
        lines = data.split(b"\r\n")
        assert lines[-1] == b""
        assert b"\n" not in data.replace(b"\r\n", b"")
        assert max(map(len, lines)) <= 75
        assert data == made(rows, TODAY, name, ".ics").data
        assert unfolded(data).count("BEGIN:VEVENT") == unfolded(data).count("END:VEVENT") > 0


def test_an_activity_ends_on_the_day_after_its_last_as_the_standard_counts(rows: Rows) -> None:
    """RFC 5545, section 3.6.1: DTEND of whole days is not inclusive."""
    lines = unfolded(made(rows, TODAY, "schedule", ".ics").data)
    for one in path.from_rows(rows, TODAY).activities:
        place = lines.index(f"UID:activity-{one.code}@tracker") if one.state != "done" else None
        if place is not None:
            around = lines[max(place - 8, 0) : place + 8]
            assert f"DTSTART;VALUE=DATE:{one.early_start:%Y%m%d}" in around
            assert f"DTEND;VALUE=DATE:{one.early_finish + dt.timedelta(days=1):%Y%m%d}" in around


def test_cautions_stand_in_the_calendar_and_their_general_line_on_each_day(rows: Rows) -> None:
    for name in ("schedule", "lookahead", "inspections"):
        lines = [
            line.replace("\\,", ",").replace("\\;", ";")
            for line in unfolded(made(rows, TODAY, name, ".ics").data)
        ]
        head = lines[: lines.index("BEGIN:VEVENT")]
        (told,) = [line for line in head if line.startswith("DESCRIPTION:")]
        assert all(caution.text in told for caution in standing(name, [])) and ALWAYS in told
        days = [line for line in lines[len(head) :] if line.startswith("DESCRIPTION:")]
        assert days and all(line.endswith(ALWAYS) for line in days)


def test_names_can_not_add_lines_of_their_own(rows: Rows) -> None:
    odd = "x\r\nBEGIN:VALARM\\n; , \u202e\x1b"
    activities = tuple(dataclasses.replace(a, name=odd) for a in rows["activities"])
    lines = unfolded(made({**rows, "activities": activities}, TODAY, "schedule", ".ics").data)
    assert "BEGIN:VALARM" not in lines
    assert len({line for line in lines if line.startswith("UID:")}) == lines.count("BEGIN:VEVENT")


def test_a_meeting_keeps_its_name_when_its_cut_off_is_published_anew(rows: Rows) -> None:
    """RFC 5545, section 3.8.4.7: the identifier is persistent, so that an entry that moved takes
    the place of the old one.
    """

    def days(data: bytes) -> dict[str, str]:
        lines = unfolded(data)
        starts = [line for line in lines if line.startswith("DTSTART")]
        return dict(zip([line for line in lines if line.startswith("UID:")], starts, strict=True))

    was = days(made(rows, TODAY, "hearings", ".ics").data)
    published = CalendarDay(
        calendar="COMMISSION",
        date=dt.date(2026, 9, 8),
        works=None,
        cutoff=dt.date(2026, 8, 4),
        reason="",
        because="",
    )
    now = days(
        made(
            {**rows, "calendar_days": (*rows["calendar_days"], published)},
            TODAY,
            "hearings",
            ".ics",
        ).data
    )
    assert was.keys() == now.keys()
    moved = {uid for uid in was if was[uid] != now[uid]}
    assert moved == {"UID:file-COMMISSION-2026-09-08@tracker"}
    assert now["UID:file-COMMISSION-2026-09-08@tracker"] == "DTSTART;VALUE=DATE:20260804"


def test_the_hearing_calendar_and_the_checklist_name_the_same_meeting_alike(rows: Rows) -> None:
    uids = [
        {
            line
            for line in unfolded(made(rows, TODAY, name, ".ics").data)
            if "UID:meeting-" in line or "UID:file-" in line
        }
        for name in ("hearings", "checklist")
    ]
    assert uids[0] and uids[0] == uids[1]


def test_money_has_no_days_for_a_calendar(rows: Rows) -> None:
    with pytest.raises(ProblemError, match=r"\.pdf, \.xlsx, \.csv"):
        made(rows, TODAY, "budget", ".ics")
