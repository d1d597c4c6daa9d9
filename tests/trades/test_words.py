"""Words given, and what came of them."""

from __future__ import annotations

import datetime as dt

import pytest

from tracker.trades.words import WordGiven, kept, sentence, state_of

FRIDAY = dt.date(2027, 3, 5)


def word(came: dt.date | None = None, for_date: dt.date | None = FRIDAY) -> WordGiven:
    return WordGiven(
        code="w", contractor="ACME", said_on=dt.date(2027, 3, 1), for_date=for_date, came_on=came
    )


@pytest.mark.parametrize(
    ("came", "today", "state"),
    [
        (None, dt.date(2027, 3, 4), "to come"),
        (None, FRIDAY, "today"),
        (None, dt.date(2027, 3, 6), "not kept"),
        (FRIDAY, FRIDAY, "kept"),
        (dt.date(2027, 3, 4), FRIDAY, "kept"),
        (dt.date(2027, 3, 9), dt.date(2027, 3, 9), "came late"),
        (dt.date(2027, 3, 9), dt.date(2027, 3, 8), "not kept"),
    ],
)
def test_a_word_is_kept_by_coming_on_its_day_or_before(
    came: dt.date | None, today: dt.date, state: str
):
    assert state_of(word(came), today) == state


def test_came_on_the_day_counts_only_words_whose_day_is_over():
    given = [
        word(FRIDAY),
        word(dt.date(2027, 3, 9)),
        word(),
        word(None, dt.date(2027, 4, 1)),
        word(None, None),
    ]
    assert kept(given, dt.date(2027, 3, 10)).words() == "came on the day: 1 of 3"
    assert kept([], FRIDAY).words() == ""


def test_a_word_is_told_as_people_tell_it():
    assert (
        sentence(word(dt.date(2027, 3, 9)), dt.date(2027, 3, 9))
        == "said Fri 05 Mar, came Tue 09 Mar"
    )
    assert sentence(word(), dt.date(2027, 3, 9)) == "said Fri 05 Mar, did not come"
