"""Risk in words: a chance as people say it, and the answer in three sentences."""

from __future__ import annotations

import datetime as dt

NEARLY = 9_800
"""Basis points from which a chance is called nearly certain."""


def chance_words(basis_points: int) -> str:
    """A chance as people say it: 1 chance in 6, 3 chances in 4."""
    if basis_points <= 0:
        return "met in no trial"
    if basis_points >= 10_000:
        return "met in every trial"
    if basis_points >= NEARLY:
        return "nearly certain"
    if basis_points > 5_000:
        of = min(round(10_000 / (10_000 - basis_points)), 20)
        if of > 2:
            return f"{of - 1} chances in {of}"
        return "a little better than 1 chance in 2"
    of = round(10_000 / basis_points)
    return f"1 chance in {of}" if of <= 20 else "less than 1 chance in 20"


def promise_words(basis_points: int | None, is_over: bool) -> str:
    """The chance to keep the promise in words; blank where there is none. is_over: its day went by
    without the opening.
    """
    if is_over:
        return "missed: that day is over, and it has not opened"
    return "" if basis_points is None else chance_words(basis_points)


def day_words(date: dt.date, beside: dt.date | None = None) -> str:
    """A date in a sentence: 12 June, with the year where it is another one than that of the date
    beside it.
    """
    words = f"{date.day} {date:%B}"
    return words if beside is not None and beside.year == date.year else f"{words} {date.year}"


def sentence(
    promised: dt.date | None,
    chance_bp: int | None,
    safe: dt.date,
    forecast: dt.date,
    largest: tuple[str, int] | None,
) -> str:
    """The answer in words.

    safe: the day for 4 in 5. forecast: the opening if all goes as likely. largest: what would win
    most of the safe day if it were certain, in words, and how many calendar days.
    """
    said = []
    if promised is not None and chance_bp is not None:
        said.append(f"Promise {day_words(promised)}: {chance_words(chance_bp)}.")
        if safe <= promised:
            return " ".join([*said, f"Even 4 in 5 is {day_words(safe, promised)}."])
    said.append(f"For 4 in 5, say {day_words(safe, promised)}.")
    gap = (safe - (promised or forecast)).days
    planned = (forecast - promised).days if promised is not None else 0
    if gap > 0 and planned * 2 >= gap:
        said.append(
            "Most of that is in the plan already: if all goes as likely, it opens"
            f" {day_words(forecast, promised or safe)}."
        )
    if largest is not None and largest[1] > 0:
        name, days = largest
        more = f"{name}, {days} calendar {'day' if days == 1 else 'days'}"
        if planned * 2 >= gap:
            said.append(f"The largest part of what is uncertain: {more}.")
        else:
            said.append(
                f"Most of that is {name}."
                if days * 2 >= gap
                else f"The largest part of that: {more}."
            )
    return " ".join(said)
