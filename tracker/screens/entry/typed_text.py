"""What people type, turned into the cell that a column keeps.

Pure functions: from typed text to the text of a cell, or ValueError whose message is the end of a
sentence. A cell is then read by the column's own kind, so that a form accepts nothing that a
project folder would not.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal

from tracker.pages.cells import money_words as money_words
from tracker.values.days import FULL_DAY as FULL_DAY
from tracker.values.days import count_of_days
from tracker.values.kinds import (
    WEEKDAYS,
    Cents,
    Choice,
    Codes,
    Correlation,
    Day,
    Kind,
    Number,
    Rate,
    Text,
    YesNo,
)
from tracker.values.money import decimal_of, plain_rate

GROUPED = re.compile(r"-?[0-9]{1,3}(,[0-9]{3})+(\.[0-9]*)?")
SHORT = {"k": 1_000, "m": 1_000_000}


@dataclass(frozen=True)
class Near:
    """The days from which typed dates are counted.

    today: the day on which one types. status: the status date, None where there is none. working:
    the day that lies a number of working days after (or before) a day, on the project's first
    working calendar.
    """

    today: dt.date
    status: dt.date | None
    working: Callable[[dt.date, int], dt.date]

    def base(self) -> dt.date:
        """The day near which a date without a year lies: today, or the status date where that is
        later.
        """
        return max(self.today, self.status) if self.status else self.today


def to_cell(kind: Kind, typed: str, near: Near) -> str:
    """The cell that a column of this kind keeps for what was typed; an empty one for
    nothing typed.
    """
    text = typed.strip()
    if isinstance(kind, Text) and kind.is_text and type(kind) is Text:
        return typed.strip("\r\n")
    if not text:
        return ""
    if isinstance(kind, Day):
        return read_day(text, near).isoformat()
    if isinstance(kind, Cents):
        return read_money(text)
    if isinstance(kind, (Rate, Correlation)):
        return text.removesuffix("%").rstrip()
    if isinstance(kind, Number):
        return read_number(text)
    if isinstance(kind, Codes):
        return " ".join(re.split(r"[\s,;]+", text.strip(" ,;")))
    if isinstance(kind, YesNo):
        return {"y": "yes", "n": "no"}.get(text.lower(), text.lower())
    if isinstance(kind, Choice):
        return text
    return text


def read_day(text: str, near: Near) -> dt.date:
    """A day as people write it.

    2027-03-05 · 3/5 (month and day, in the year that brings it nearest) · 3/5/27 · +10 and -3
    (working days from the status date, or from today where there is none) · fri (the next one),
    last fri · today, tomorrow, yesterday.
    """
    word = " ".join(text.lower().split())
    base = near.base()
    if word in ("today", "tomorrow", "yesterday"):
        return near.today + dt.timedelta(days={"today": 0, "tomorrow": 1, "yesterday": -1}[word])
    if re.fullmatch(r"[+-][0-9]{1,4}", word):
        return near.working(near.status or near.today, int(word))
    if found := re.fullmatch(r"(last )?([a-z]{3,9})", word):
        return _weekday(found[2], bool(found[1]), base)
    if found := re.fullmatch(r"([0-9]{1,2})/([0-9]{1,2})(?:/([0-9]{2}|[0-9]{4}))?", word):
        month, day = int(found[1]), int(found[2])
        return _in_year(month, day, found[3]) if found[3] else _nearest(month, day, base)
    if re.fullmatch(r"[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}", word):
        year, month, day = (int(part) for part in word.split("-"))
        return _real(year, month, day)
    raise ValueError("is no date: write 2027-03-05, 3/5, +10 (working days), fri or today")


def _weekday(word: str, last: bool, base: dt.date) -> dt.date:
    """The first such weekday after the base, or the last one before it."""
    if word[
        :3
    ] not in WEEKDAYS or not "monday tuesday wednesday thursday friday saturday sunday".count(word):
        raise ValueError("is no date: write 2027-03-05, 3/5, +10 (working days), fri or today")
    wanted = WEEKDAYS.index(word[:3])
    if last:
        return base - dt.timedelta(days=(base.weekday() - wanted - 1) % 7 + 1)
    return base + dt.timedelta(days=(wanted - base.weekday() - 1) % 7 + 1)


def _in_year(month: int, day: int, year: str) -> dt.date:
    """The day in the year that was typed; two digits count from 2000."""
    return _real(int(year) + (2000 if len(year) == 2 else 0), month, day)


def _nearest(month: int, day: int, base: dt.date) -> dt.date:
    """The day without a year that lies nearest to the base; the later one where two are as near."""
    found = []
    for year in (base.year - 1, base.year, base.year + 1):
        try:
            found.append(dt.date(year, month, day))
        except ValueError:
            continue
    if not found:
        leap = (month, day) == (2, 29)
        raise ValueError(
            "is a date that does not exist" + (" in these years: write its year" if leap else "")
        )
    return min(found, key=lambda one: (abs((one - base).days), one < base))


def _real(year: int, month: int, day: int) -> dt.date:
    """The date, if there is such a one."""
    try:
        return dt.date(year, month, day)
    except ValueError:
        raise ValueError("is a date that does not exist") from None


def read_money(text: str) -> str:
    """Decimal dollars of an amount as people write it: 12,500 · $12,500.00 · 12.5k · 1.2m ·
    -300.
    """
    word = text.lower().replace(" ", "").replace("$", "", 1)
    times = SHORT.get(word[-1:], 1)
    number = ungrouped(word[:-1] if times > 1 else word)
    amount = decimal_of(number) * times
    return format(
        amount.normalize() if amount == amount.to_integral_value() and times > 1 else amount, "f"
    )


def read_number(text: str) -> str:
    """A whole number as people write it: 18,400 · 25."""
    return ungrouped(text.replace(" ", ""))


def ungrouped(number: str) -> str:
    """The number without the commas between groups of three; ValueError where they stand wrong."""
    if "," not in number:
        return number
    if not GROUPED.fullmatch(number):
        raise ValueError("has a comma that does not separate thousands")
    return number.replace(",", "")


def in_full(kind: Kind, value: object) -> str:
    """A value as it is shown back before it is kept: Fri 05 Mar 2027, $12,500.00, 8.125 %."""
    if value is None or value == "" or value == ():
        return ""
    if isinstance(value, dt.date):
        return value.strftime(FULL_DAY)
    if isinstance(kind, Cents) and isinstance(value, int):
        return money_words(value)
    if isinstance(kind, Rate) and isinstance(value, int):
        return f"{plain_rate(value)} %"
    if isinstance(kind, Number) and isinstance(value, int) and not isinstance(kind, Correlation):
        return kind.shown(value)
    return kind.write(value)


def days_words(days: int) -> str:
    """A number of days with its word."""
    return count_of_days(days)


def percent(basis_points: int | None) -> str:
    """A share in basis points as percent; a dash where there is none."""
    return "–" if basis_points is None else f"{Decimal(basis_points) / 100:.1f} %"
