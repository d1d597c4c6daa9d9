"""Snapshots read one after the other have the rows that each has by itself."""

import pytest
from hypothesis import given, settings

from tests.schedule.test_slip_windows import histories
from tracker.answers import slip_texts
from tracker.answers.slip_texts import NEEDED, Texts
from tracker.project_folder.places import folder
from tracker.project_folder.reading import read
from tracker.project_folder.snapshot_text import rows_of, texts_of
from tracker.schedule.records import Activity
from tracker.values.problems import ProblemError


def alone(texts):
    return {name: rows for name, rows in rows_of(texts).items() if name in NEEDED and rows}


def needed(rows):
    return {name: tuple(those) for name, those in rows.items() if name in NEEDED and those}


@settings(max_examples=40, deadline=None)
@given(histories())
def test_any_history_reads_as_each_snapshot_alone(snaps):
    reading = Texts()
    for snap in snaps:
        texts = texts_of({name: tuple(rows) for name, rows in snap.rows().items()})
        assert needed(reading.rows(texts)) == alone(texts)


def test_the_sample_reads_as_each_snapshot_alone_and_later_ones_read_only_what_is_new(monkeypatch):
    snapshots = read(folder("sample_project")).snapshots
    seen = []
    monkeypatch.setattr(
        slip_texts,
        "rows_of",
        lambda texts: seen.append(texts["activities.csv"].count("\n")) or rows_of(texts),
    )
    reading = Texts()
    for day in sorted(snapshots):
        texts = snapshots[day][1]
        assert needed(reading.rows(texts)) == alone(texts)
    assert seen[0] > 70 and all(lines < 40 for lines in seen[1:])


def test_a_name_over_two_lines_and_quotes_are_read_as_they_are():
    rows = {
        "activities": (
            Activity(code="A", name='two\nlines, "quoted"', duration=1, kind="work"),
            Activity(code="B", name="=1", duration=2, kind="work"),
        )
    }
    reading = Texts()
    for _ in range(2):
        assert needed(reading.rows(texts_of(rows))) == rows


def test_line_ends_of_another_system_are_read():
    reading = Texts()
    text = "code,duration\r\nA,1\r\nB,2\r\n"
    for _ in range(2):
        assert [a.code for a in reading.rows({"activities.csv": text})["activities"]] == ["A", "B"]


def test_other_columns_are_another_reading_of_the_same_line():
    reading = Texts()
    (one,) = reading.rows({"activities.csv": "code,duration\nA,1\n"})["activities"]
    (other,) = reading.rows({"activities.csv": "code,remaining\nA,1\n"})["activities"]
    assert (one.duration, one.remaining, other.remaining) == (1, None, 1)


def test_a_fault_names_its_row_also_where_rows_before_it_were_known():
    reading = Texts()
    reading.rows({"activities.csv": "code,duration\nA,1\nB,2\n"})
    with pytest.raises(ProblemError, match="row 4"):
        reading.rows({"activities.csv": "code,duration\nA,1\nB,2\nC,soon\n"})
    with pytest.raises(ProblemError, match="same key"):
        reading.rows({"activities.csv": "code,duration\nA,1\nA,1\n"})
    with pytest.raises(ProblemError, match="same key"):
        reading.rows({"activities.csv": "code,duration\nA,1\nA,2\n"})
