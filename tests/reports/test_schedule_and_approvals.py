"""Schedule, look-ahead, checklist and inspections on paper show their answers' rows."""

from __future__ import annotations

import csv
import datetime as dt
import io
from typing import Any

import pytest

from tests.reports.reading import TODAY, text, workbook
from tracker.answers import path, permits, rezoning
from tracker.reports.printing import made
from tracker.values.money import dollars

Rows = dict[str, tuple[Any, ...]]


def table(rows: Rows, name: str) -> list[list[str]]:
    """The main table of a document, without its headings."""
    return list(csv.reader(io.StringIO(made(rows, TODAY, name, ".csv").data.decode("utf-8"))))[1:]


def test_the_schedule_lists_each_activity_with_its_days_and_what_drives_the_opening(rows: Rows) -> None:
    answer = path.from_rows(rows, TODAY)
    found = {row[2]: row for row in table(rows, "schedule")}
    assert list(found) == [one.code for one in answer.activities]
    for one in answer.activities:
        assert found[one.code][4:6] == [one.early_start.isoformat(), one.early_finish.isoformat()]
        assert (found[one.code][8] == "drives the opening") == (one.on_longest_path and one.state != "done")
    said = text(made(rows, TODAY, "schedule", ".pdf").data)
    assert f"Forecast opening {answer.forecast_opening:%a %d %b %Y}" in said
    assert dollars(answer.cost_of_a_day_cents) in said


def test_the_look_ahead_holds_what_is_not_done_and_begins_within_three_weeks(rows: Rows) -> None:
    until = TODAY + dt.timedelta(days=21)
    wanted = [a for a in path.from_rows(rows, TODAY).activities if a.state != "done" and a.early_start <= until]
    found = table(rows, "lookahead")
    assert sorted(row[2] for row in found) == sorted(one.name for one in wanted)
    assert [row[0] for row in found] == sorted(row[0] for row in found)
    assert any(row[4].startswith("555-") for row in found)


def test_the_checklist_holds_every_item_with_its_state(rows: Rows) -> None:
    assert [(row[1], row[2]) for row in table(rows, "checklist")] == [
        (i.title, i.state) for i in rezoning.from_rows(rows, TODAY).items
    ]
    assert "no legal, engineering or code advice" in text(made(rows, TODAY, "checklist", ".pdf").data)


def test_inspections_stand_in_their_order_with_what_may_not_be_covered(rows: Rows) -> None:
    answer = permits.from_rows(rows, TODAY)
    names = {a.code: a.name for a in rows["activities"]}
    found = table(rows, "inspections")
    assert [(row[1], row[3]) for row in found] == [(i.code, i.state) for i in answer.inspections]
    assert [row[8] for row in found] == [", ".join(names[c] for c in i.may_not_cover) for i in answer.inspections]
    said = text(made(rows, TODAY, "inspections", ".pdf").data)
    assert all(item.text in said for i in answer.inspections for item in i.items if item.open)
    assert "Cover nothing before its inspection has passed" in said


@pytest.mark.parametrize("name", ["schedule", "lookahead", "checklist", "inspections"])
def test_the_spreadsheet_has_the_rows_of_the_csv_file_and_the_same_day_gives_the_same_bytes(rows: Rows, name: str) -> None:
    data = made(rows, TODAY, name, ".xlsx").data
    assert data == made(rows, TODAY, name, ".xlsx").data
    assert made(rows, TODAY, name, ".pdf").data == made(rows, TODAY, name, ".pdf").data
    most = max(sheet.max_row for sheet in workbook(data).worksheets)
    assert most > len(table(rows, name))
