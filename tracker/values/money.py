"""Money and rates: whole numbers only.

Cents; rates in thousandths of a percent; shares in basis points.

Rounding is half away from zero, once, at the end of each line that people see.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal, InvalidOperation

WHOLE_RATE = 100_000
"""A rate of 100 %, in thousandths of a percent."""

MOST_CENTS = 99_999_999_999_99
"""The largest amount kept: just under a hundred billion dollars, in cents."""


def divide(numerator: int, denominator: int) -> int:
    """numerator / denominator, rounded half away from zero to a whole number.

    The denominator is not zero.
    """
    if denominator < 0:
        numerator, denominator = -numerator, -denominator
    if numerator >= 0:
        return (2 * numerator + denominator) // (2 * denominator)
    return -((-2 * numerator + denominator) // (2 * denominator))


def at_rate(cents: int, rate: int) -> int:
    """cents x rate (thousandths of a percent), rounded half away from zero to the cent."""
    return divide(cents * rate, WHOLE_RATE)


def basis_points(part: int, whole: int) -> int | None:
    """part / whole in basis points, rounded half away from zero; None where the whole is zero."""
    return divide(part * 10_000, whole) if whole else None


def split(total: int, weights: Sequence[int]) -> list[int]:
    """Split a total over weights (not negative) so that the parts add up to it: largest remainder,
    ties by order.

    Weights that are all zero give the whole to the first part. A negative total is split like its
    opposite.
    """
    if not weights:
        return []
    whole = sum(weights)
    if whole == 0:
        return [total] + [0] * (len(weights) - 1)
    sign, size = (-1, -total) if total < 0 else (1, total)
    parts = [size * weight // whole for weight in weights]
    rest = [(-(size * weight % whole), place) for place, weight in enumerate(weights)]
    for _, place in sorted(rest)[: size - sum(parts)]:
        parts[place] += 1
    return [sign * part for part in parts]


def cents_of(text: str) -> int:
    """Cents of decimal dollars as a project folder writes them ("1234.5").

    ValueError says what is wrong.
    """
    number = decimal_of(text)
    cents = number * 100
    if cents != cents.to_integral_value():
        raise ValueError("has more than two decimals")
    if abs(cents) > MOST_CENTS:
        raise ValueError("is larger than 99,999,999,999.99")
    return int(cents)


def decimal_of(text: str) -> Decimal:
    """A plain decimal number: digits, one point, one minus sign.

    ValueError otherwise (no exponent, no NaN).
    """
    stripped = text[1:] if text[:1] == "-" else text
    head, _, tail = stripped.partition(".")
    if (
        not stripped.isascii()
        or not (head or tail)
        or not (head + tail).isdigit()
        or len(stripped) > 30
    ):
        raise ValueError("is no number written with digits and one decimal point")
    try:
        return Decimal(text)
    except InvalidOperation:
        raise ValueError("is no number written with digits and one decimal point") from None


def plain_dollars(cents: int) -> str:
    """Decimal dollars for a project folder: no separators, two decimals ("-1234.50")."""
    sign = "-" if cents < 0 else ""
    return f"{sign}{abs(cents) // 100}.{abs(cents) % 100:02d}"


def dollars(cents: int, cents_too: bool = True) -> str:
    """Dollars as people read them: separators, a minus sign in front ("-1,234.50"); whole dollars
    rounded if asked.
    """
    if not cents_too:
        whole = divide(cents, 100)
        return f"{whole:,}"
    sign = "-" if cents < 0 else ""
    return f"{sign}{abs(cents) // 100:,}.{abs(cents) % 100:02d}"


NO_DAY_COST = "no cost of a day entered"


def cost_of_days(cents: int, days: int, known: bool, sign: str = "") -> str:
    """What a number of days costs, in words. known: whether anything of the cost of a day is; what
    is not known is no 0.00.

    cents: of the days with the lump sums that they pass. sign: before an amount.
    """
    if known or not days:
        return f"{sign}{dollars(cents)}"
    return f"{sign}{dollars(cents)} in lump sums, {NO_DAY_COST}" if cents else NO_DAY_COST


def day_cost_words(cents: int, known: bool, included: str = "step costs included") -> str:
    """What a day costs, in words: "678.91 a day; gross, ...", or that nobody has entered it.
    included: what the costs beside it hold besides the days.
    """
    return f"{dollars(cents)} a day; gross, {included}" if known else NO_DAY_COST


def not_all_entered(missing: Sequence[str]) -> str:
    """Which parts of the cost of a day nobody entered, in brackets after the amount; "" where none
    is missing.
    """
    return f" (not entered: {', '.join(missing)})" if missing else ""


def plain_rate(rate: int) -> str:
    """A rate in thousandths of a percent as percent without needless zeros (8125 -> "8.125", 10000
    -> "10").
    """
    sign = "-" if rate < 0 else ""
    text = f"{sign}{abs(rate) // 1000}.{abs(rate) % 1000:03d}"
    return text.rstrip("0").rstrip(".")
