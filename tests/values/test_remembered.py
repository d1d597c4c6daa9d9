"""What was computed lately from the very same rows is given again, and nothing else is."""

import datetime as dt

from tracker.values.remembered import remembered

ROWS = {"links": (1, 2), "activities": (3,)}
DAY = dt.date(2027, 3, 5)


def counting(keep=2):
    """A function that remembers, and what it was really asked to compute."""
    asked = []

    @remembered(keep)
    def total(rows, day):
        asked.append((dict(rows), day))
        return sum(rows["links"]) + day.day

    return total, asked


def test_the_same_rows_and_the_same_day_are_computed_once():
    total, asked = counting()
    assert total(ROWS, DAY) == total(dict(ROWS), dt.date(2027, 3, 5)) == 8
    assert len(asked) == 1


def test_another_day_or_another_table_is_computed_anew():
    total, asked = counting()
    other = {**ROWS, "links": tuple(x for x in [4])}
    assert [total(ROWS, DAY), total(ROWS, dt.date(2027, 3, 6)), total(other, DAY)] == [8, 9, 9]
    assert len(asked) == 3


def test_equal_rows_that_are_not_the_same_ones_are_computed_anew():
    total, asked = counting()
    total(ROWS, DAY)
    total({**ROWS, "links": tuple(x for x in [1, 2])}, DAY)
    assert len(asked) == 2


def test_rows_in_a_list_may_change_and_are_never_held():
    total, _ = counting()
    rows = {"links": [1]}
    assert total(rows, DAY) == 6
    rows["links"].append(10)
    assert total(rows, DAY) == 16


def test_a_table_that_is_exchanged_in_the_same_mapping_is_seen():
    total, _ = counting()
    rows = dict(ROWS)
    assert total(rows, DAY) == 8
    rows["links"] = (20,)
    assert total(rows, DAY) == 25


def test_only_so_many_results_are_kept():
    total, asked = counting(keep=1)
    for day in (DAY, dt.date(2027, 3, 6), DAY):
        total(ROWS, day)
    assert len(asked) == 3
