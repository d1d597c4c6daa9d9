"""What an entry does to the opening and to the money, in words, and the delay event that it
offers.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tracker.pages.opening import opening_moves as opening_moves
from tracker.screens.entry.preview_dialog import Choice
from tracker.screens.entry.typed_text import FULL_DAY, days_words, money_words
from tracker.screens.table.sections import Line, Section

LOGGED = "logged"
"""The answer that keeps an entry with its delay event in the site log."""


def opening_line(effect: Any) -> str:
    """Where the opening goes, and what that costs."""
    now = effect.new_opening
    if now is None:
        return "The plan has no opening to move."
    if not effect.days:
        return f"The opening stays on {now.strftime(FULL_DAY)}."
    way = "later" if effect.days > 0 else "earlier"
    before = effect.old_opening.strftime(FULL_DAY) if effect.old_opening else "no day"
    if effect.days < 0 and effect.unearned:
        shown = f"The plan would show the opening on {now.strftime(FULL_DAY)} instead of {before}"
        return f"{shown}, {days_words(-effect.days)} earlier: {effect.unearned}."
    line = (
        f"The opening moves from {before} to {now.strftime(FULL_DAY)}:"
        f" {days_words(abs(effect.days))} {way}"
    )
    if not effect.cost_of_a_day_cents and not effect.cost_cents:
        return f"{line}; what a day costs is not known."
    word = "costs" if effect.cost_cents > 0 else "saves"
    return (
        f"{line}; that {word} {money_words(abs(effect.cost_cents))}, at"
        f" {money_words(effect.cost_of_a_day_cents)} a day."
    )


def result_sections(found: Any) -> list[Section]:
    """What an entry does to the opening, what it would write, the delay that it offers, what to
    look at.
    """
    later = found.effect.days > 0
    first = getattr(found.effect, "ask_first", ())
    sections = (
        [Section("Clear this up first", [Line(words, "warn") for words in first])] if first else []
    )
    sections += [
        Section("The opening", [Line(opening_line(found.effect), "warn" if later else "strong")]),
        Section("What it does", [f"· {words}" for words in found.changed]),
    ]
    if found.offered is not None:
        sections.append(
            Section("Delay event offered for the site log", [delay_words(found.offered.delay)])
        )
    if found.notes:
        sections.append(Section("Look at", [f"· {note}" for note in found.notes]))
    return sections


def delay_words(delay: Any) -> str:
    """A delay event in a line."""
    last = (
        f" to {delay.last.strftime(FULL_DAY)}" if delay.last and delay.last != delay.first else ""
    )
    cost = f", direct cost {money_words(delay.direct_cost)}" if delay.direct_cost else ""
    party = (
        "nobody" if delay.party == "nobody" else delay.party.replace("contractor:", "contractor ")
    )
    lost = f"{delay.days:,} working day{'' if delay.days == 1 else 's'} lost"
    return (
        f"{delay.code} at {delay.activity}, {delay.first.strftime(FULL_DAY)}{last}: {delay.cause},"
        f" {lost}, through {party}{cost}"
    )


def result_choices(found: Any) -> Sequence[Choice]:
    """Keep it with the delay event or without; without an offer there is one way."""
    if found.offered is None:
        return (Choice("k", "keep it", "keep"),)
    return (
        Choice("y", "keep, delay into the site log", LOGGED),
        Choice("k", "keep, without the delay", "keep"),
    )


def kept_words(found: Any) -> tuple[str, Sequence[str]]:
    """What is said once it is kept."""
    return f"{found.changed[0]}. u takes all of it back.", (opening_line(found.effect),)
