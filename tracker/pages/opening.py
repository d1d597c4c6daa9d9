"""The opening and what moves it, in words that several pages and entries share."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

from tracker.pages.cells import amount, money_words
from tracker.pages.page import Cell, Part, facts
from tracker.schedule.lateness import NO_LONGER, late_words, lump_sums
from tracker.values.days import count_of_days, full_day
from tracker.values.money import not_all_entered

if TYPE_CHECKING:
    from tracker.answers.morning import MorningAnswer
    from tracker.answers.path import PathAnswer


def opening_moves(old: dt.date | None, new: dt.date | None, days: int, cost: int) -> str:
    """Where the opening goes and what that costs, step costs included. days: calendar days; cost:
    cents.
    """
    if new is None:
        return "The plan has no opening to move."
    if not days:
        return f"The opening stays on {full_day(new)}."
    way, word = ("later", "costs") if days > 0 else ("earlier", "saves")
    before = full_day(old) if old else "no day"
    money = f"; that {word} {money_words(abs(cost))}, lump sums included" if cost else ""
    return (
        f"The opening moves from {before} to {full_day(new)}: {count_of_days(abs(days))}"
        f" {way}{money}."
    )


def standing(
    answer: PathAnswer | MorningAnswer, note: str = "", first: tuple[tuple[str, Cell], ...] = ()
) -> Part:
    """Forecast against promise, what a day costs and what the lateness does. note: below it.
    first: facts in front.
    """
    opening, over = answer.forecast_opening, answer.opening_is_over
    gone = f"{full_day(opening)}, {NO_LONGER}" if opening and over else ""
    if answer.as_of:
        old = f"As of {full_day(answer.as_of)}: what happened in more than a week since is not"
        note = f"{old} entered. {note}".rstrip()
    return facts(
        "opening",
        "opening",
        (
            *first,
            ("status date", answer.status_date),
            ("forecast opening", gone or opening),
            ("promised opening", answer.promised_opening),
            ("against the promise", late_words(answer.days_late, over)),
            ("cost of a day", day_costs(answer)),
            ("lateness costs", lateness_costs(answer)),
        ),
        note=note,
        empty="There is no activity yet.",
        wide=True,
    )


def day_costs(answer: PathAnswer | MorningAnswer) -> str:
    """What a day costs, gross; "at least" where a part of it was not entered, with its name."""
    cents, missing = answer.cost_of_a_day_cents, answer.day_cost_missing
    least = "at least " * bool(missing)
    return f"{least}{amount(cents)} (gross){not_all_entered(missing)}" if cents else ""


def lateness_costs(answer: PathAnswer | MorningAnswer) -> str:
    """What being late costs, and what of it are lump sums; negative where being early saves it."""
    cost, over = answer.cost_of_lateness_cents, answer.opening_is_over
    if not cost or (over and cost < 0):
        return ""
    lumps = lump_sums(cost, answer.days_late, answer.cost_of_a_day_cents)
    least = "at least " * (over or bool(answer.day_cost_missing and cost > 0))
    return f"{least}{amount(cost)}" + (f", lump sums of {amount(lumps)} included" if lumps else "")
