"""A what-if of Path in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tracker.pages.cells import day, money_words
from tracker.pages.health import some
from tracker.pages.marks import BASELINE
from tracker.schedule.lateness import late_words
from tracker.values.days import count_of_days
from tracker.values.money import NO_DAY_COST

if TYPE_CHECKING:
    from tracker.answers.what_if import WhatIfAnswer


def what_if_words(effect: WhatIfAnswer, changes: int) -> list[str]:
    """What the changes would do, in two lines."""
    if effect.new_opening is None or effect.old_opening is None:
        return ["What if: no opening can be told."]
    times = "1 change" if changes == 1 else f"{changes} changes"
    head = f"WHAT IF ({times}, not kept): opens {day(effect.new_opening)}"
    was = f" than {day(effect.old_opening)}" if effect.days else ""
    return [f"{head}, {effect_words(effect, was)}", path_words(effect)]


def effect_words(effect: WhatIfAnswer, was: str = "") -> str:
    """Days and cost of a what-if; was: what the days are counted from, where that is to be said."""
    if not effect.days:
        return "as now"
    sooner = effect.days < 0
    words = f"{count_of_days(abs(effect.days))} {'earlier' if sooner else 'later'}{was}"
    if effect.cost_cents:
        words += (
            f", {money_words(abs(effect.cost_cents))}"
            f" {'saved' if effect.cost_cents < 0 else 'more'} (gross)"
        )
    if not effect.path.day_cost_known:
        words += f", {NO_DAY_COST}"
    return words


def path_words(effect: WhatIfAnswer) -> str:
    """Who moves, and who joins or leaves the longest path."""
    number = len(effect.moved)
    parts = [
        (
            "nothing moves"
            if not number
            else f"{number:,} {'activity moves' if number == 1 else 'activities move'}"
        )
    ]
    if effect.joins:
        parts.append(f"drive then: {some(effect.joins, between=' ')}")
    if effect.leaves:
        parts.append(f"no longer: {some(effect.leaves, between=' ')}")
    if late_words(effect.days_late, effect.path.opening_is_over):
        parts.append(f"{late_words(effect.days_late, effect.path.opening_is_over)} then")
    if number:
        parts.append(f"{BASELINE} finish as it is")
    return " · ".join(parts)
