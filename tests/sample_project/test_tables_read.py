"""A view reads the tables that it is computed from and no others; leaving one out must not change
what it says.
"""

import datetime as dt

from tracker.answers import path

DAYS = [dt.date(2026, 3, 2), dt.date(2026, 7, 18), dt.date(2026, 12, 1)]


def test_path_is_the_same_from_the_tables_that_it_reads_as_from_all(rows):
    read = {name: rows[name] for name in path.READ}
    assert [path.from_rows(read, day) for day in DAYS] == [
        path.from_rows(rows, day) for day in DAYS
    ]


def test_each_table_that_path_reads_has_rows_in_the_sample(rows):
    assert [name for name in path.READ if not rows[name]] == []
