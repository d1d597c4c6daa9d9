"""Field kinds: what a column of a table may hold, how it is read, written and explained.

A kind knows one column's values by themselves. What several columns or rows must obey together is a
rule of a room. Text in a project folder and the value in the program are different things: parse()
goes one way, write() the other.
"""

from __future__ import annotations

import datetime as dt
import re
from typing import Any, ClassVar

from tracker.values import money

CODE = re.compile(r"[A-Za-z0-9._-]{1,40}")
LINE_CODE = re.compile(r"[A-Za-z0-9._-]{1,40}(/[A-Za-z0-9._-]{1,40})?")
LONGEST_TEXT = 20_000
EARLIEST = dt.date(1900, 1, 1)
LATEST = dt.date(2199, 12, 31)
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


class Kind:
    """One kind of value. blank: the value of an empty cell. sql: the column's type in the file."""

    __slots__ = ()

    blank: ClassVar[Any] = ""
    sql: ClassVar[str] = "TEXT"
    json_type: ClassVar[str] = "string"
    is_text: ClassVar[bool] = False
    hint: ClassVar[str] = "text"

    def parse(self, text: str) -> Any:
        """The value of a cell that is not empty.

        ValueError says what is wrong, as the end of a sentence.
        """
        return text

    def write(self, value: Any) -> str:
        """The cell that parse() reads back as the same value; an empty one for a blank."""
        return "" if value is None else str(value)

    def stored(self, value: Any) -> Any:
        """The value as the file keeps it: str, int or None."""
        return value

    def loaded(self, stored: Any) -> Any:
        """The value of what the file keeps."""
        return self.blank if stored is None else stored

    def words(self) -> str:
        """What may stand here, for a message or a form."""
        return self.hint


class Text(Kind):
    """Words of a person, shown as they are and never acted on."""

    is_text: ClassVar[bool] = True

    def parse(self, text: str) -> str:
        if "\0" in text:
            raise ValueError("contains a NUL character")
        if len(text) > LONGEST_TEXT:
            raise ValueError(f"is longer than {LONGEST_TEXT:,} characters")
        if any(0xD800 <= ord(ch) <= 0xDFFF for ch in text):
            raise ValueError("contains half a character (a lone surrogate)")
        return text


class Code(Kind):
    """A code that people choose.

    A blank one refers to nothing and is kept as NULL, so that it can be a foreign key.
    """

    hint: ClassVar[str] = "a code of 1 to 40 letters, digits, points, underlines or dashes"

    def parse(self, text: str) -> str:
        if not CODE.fullmatch(text):
            raise ValueError(f"is not {self.hint}")
        return text

    def stored(self, value: str) -> str | None:
        return value or None


class LineCode(Code):
    """A line of a contract, or of a change to it: LINE or CHANGE/LINE."""

    hint: ClassVar[str] = "the code of a contract's line, or CHANGE/LINE for a line of a change"

    def parse(self, text: str) -> str:
        if not LINE_CODE.fullmatch(text):
            raise ValueError(f"is not {self.hint}")
        return text


class Choice(Kind):
    """One of a few words, written exactly so."""

    __slots__ = ("options",)

    def __init__(self, options: tuple[str, ...]) -> None:
        self.options = options

    def parse(self, text: str) -> str:
        if text not in self.options:
            raise ValueError(f"is not one of: {', '.join(self.options)}")
        return text

    def stored(self, value: str) -> str | None:
        return value or None

    def words(self) -> str:
        return "one of: " + ", ".join(self.options)


class YesNo(Kind):
    """yes or no; None where nothing is said."""

    blank: ClassVar[Any] = None
    sql: ClassVar[str] = "INTEGER"
    json_type: ClassVar[str] = "boolean"
    hint: ClassVar[str] = "yes or no"

    def parse(self, text: str) -> bool:
        if text not in ("yes", "no"):
            raise ValueError("is neither yes nor no")
        return text == "yes"

    def write(self, value: bool | None) -> str:
        return "" if value is None else "yes" if value else "no"

    def stored(self, value: bool | None) -> int | None:
        return None if value is None else int(value)

    def loaded(self, stored: int | None) -> bool | None:
        return None if stored is None else bool(stored)


class Day(Kind):
    """A calendar date from 1900 to 2199; None where there is none."""

    blank: ClassVar[Any] = None
    json_type: ClassVar[str] = "date"
    hint: ClassVar[str] = "a date like 2027-03-05"

    def parse(self, text: str) -> dt.date:
        if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
            raise ValueError("is not a date written like 2027-03-05")
        try:
            day = dt.date.fromisoformat(text)
        except ValueError:
            raise ValueError("is a date that does not exist") from None
        if not EARLIEST <= day <= LATEST:
            raise ValueError("lies outside of the years 1900 to 2199")
        return day

    def write(self, value: dt.date | None) -> str:
        return "" if value is None else value.isoformat()

    def stored(self, value: dt.date | None) -> str | None:
        return None if value is None else value.isoformat()

    def loaded(self, stored: str | None) -> dt.date | None:
        return None if stored is None else dt.date.fromisoformat(stored)


class Number(Kind):
    """A whole number within bounds; None where there is none."""

    __slots__ = ("least", "most")

    blank: ClassVar[Any] = None
    sql: ClassVar[str] = "INTEGER"
    json_type: ClassVar[str] = "integer"
    LEAST: ClassVar[int] = 0
    MOST: ClassVar[int] = 999_999_999

    def __init__(self, least: int | None = None, most: int | None = None) -> None:
        self.least = self.LEAST if least is None else least
        self.most = self.MOST if most is None else most

    def parse(self, text: str) -> int:
        if not re.fullmatch(r"-?[0-9]{1,15}", text) or not text.isascii():
            raise ValueError("is not a whole number")
        return self.within(int(text))

    def within(self, number: int) -> int:
        """The number, if the bounds allow it."""
        if not self.least <= number <= self.most:
            raise ValueError(f"lies outside of {self.shown(self.least)} to {self.shown(self.most)}")
        return number

    def shown(self, number: int) -> str:
        """A bound as people read it."""
        return f"{number:,}"

    def words(self) -> str:
        return f"a whole number from {self.shown(self.least)} to {self.shown(self.most)}"


class Cents(Number):
    """An amount of money, kept in whole cents; written as decimal dollars with at most two
    decimals.
    """

    json_type: ClassVar[str] = "number"
    MOST: ClassVar[int] = money.MOST_CENTS

    def parse(self, text: str) -> int:
        return self.within(money.cents_of(text))

    def write(self, value: int | None) -> str:
        return "" if value is None else money.plain_dollars(value)

    def shown(self, number: int) -> str:
        return money.dollars(number)

    def words(self) -> str:
        return "an amount in dollars with at most two decimals" + (
            "" if self.least else ", not negative"
        )


class Rate(Number):
    """A rate or share in percent with at most three decimals, kept in thousandths of a percent."""

    json_type: ClassVar[str] = "number"
    MOST: ClassVar[int] = money.WHOLE_RATE

    def parse(self, text: str) -> int:
        thousandths = money.decimal_of(text) * 1000
        if thousandths != thousandths.to_integral_value():
            raise ValueError("has more than three decimals")
        return self.within(int(thousandths))

    def write(self, value: int | None) -> str:
        return "" if value is None else money.plain_rate(value)

    def shown(self, number: int) -> str:
        return f"{money.plain_rate(number)} %"

    def words(self) -> str:
        return (
            f"percent from {self.shown(self.least)} to {self.shown(self.most)}, at most three"
            " decimals"
        )


class Correlation(Number):
    """A number from 0 to 1 with at most three decimals, kept in thousandths."""

    json_type: ClassVar[str] = "number"
    MOST: ClassVar[int] = 1000

    def parse(self, text: str) -> int:
        thousandths = money.decimal_of(text) * 1000
        if thousandths != thousandths.to_integral_value():
            raise ValueError("has more than three decimals")
        if not 0 <= thousandths <= 1000:
            raise ValueError("lies outside of 0 to 1")
        return int(thousandths)

    def write(self, value: int | None) -> str:
        return (
            "" if value is None else f"{value // 1000}.{value % 1000:03d}".rstrip("0").rstrip(".")
        )

    def words(self) -> str:
        return "a number from 0 to 1"


class Codes(Kind):
    """Codes separated by a space; an empty tuple where there are none. None of them twice."""

    blank: ClassVar[Any] = ()
    hint: ClassVar[str] = "codes separated by a space"
    pattern: ClassVar[re.Pattern[str]] = CODE

    def parse(self, text: str) -> tuple[str, ...]:
        if len(text) > LONGEST_TEXT:
            raise ValueError(f"is longer than {LONGEST_TEXT:,} characters")
        codes = tuple(text.split(" "))
        for code in codes:
            if not self.pattern.fullmatch(code):
                raise ValueError(
                    f"is not a list of codes with one space between them ({code[:41]!r} is no code)"
                )
        if len(set(codes)) < len(codes):
            raise ValueError("names a code twice")
        return codes

    def write(self, value: tuple[str, ...]) -> str:
        return " ".join(value)

    def stored(self, value: tuple[str, ...]) -> str:
        return " ".join(value)

    def loaded(self, stored: str | None) -> tuple[str, ...]:
        return tuple(stored.split(" ")) if stored else ()


class Weekdays(Codes):
    """Days of the week that work, in their order: mon tue wed thu fri sat sun."""

    hint: ClassVar[str] = "weekdays like mon tue wed thu fri"

    def parse(self, text: str) -> tuple[str, ...]:
        days = tuple(text[:LONGEST_TEXT].split(" "))
        if any(day not in WEEKDAYS for day in days) or len(set(days)) < len(days):
            raise ValueError(f"is not a list of: {' '.join(WEEKDAYS)}")
        return tuple(day for day in WEEKDAYS if day in days)


class Party(Text):
    """Who is behind a delay: contractor:CODE, owner, authority, lender, supplier, utility,
    nobody.
    """

    hint: ClassVar[str] = "contractor:CODE, owner, authority, lender, supplier, utility or nobody"

    def parse(self, text: str) -> str:
        kind, _, code = text.partition(":")
        if text in PARTIES or (kind == "contractor" and CODE.fullmatch(code)):
            return text
        raise ValueError(f"is not {self.hint}")


PARTIES = ("owner", "authority", "lender", "supplier", "utility", "nobody")
