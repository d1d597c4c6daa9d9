"""Lists of codes."""

from __future__ import annotations

import pytest

from tracker.values.kinds import LONGEST_TEXT, Codes, Weekdays


@pytest.mark.parametrize("kind", [Codes(), Weekdays()])
def test_a_list_of_a_million_letters_is_refused_by_its_length_or_its_first_word_in_a_short_sentence(
    kind: Codes,
) -> None:
    """Neither the list nor its only word is repeated."""
    for text in ("x" * 1_000_000, "a " * 500_000, "mon " * 250_000):
        with pytest.raises(
            ValueError, match=r"is (longer than 20,000 characters|not a list of)"
        ) as refused:
            kind.parse(text)
        assert len(str(refused.value)) < 200


def test_the_longest_list_is_taken() -> None:
    codes = tuple(f"c{n}" for n in range(3_000))
    text = " ".join(codes)
    assert len(text) <= LONGEST_TEXT
    assert Codes().parse(text) == codes
