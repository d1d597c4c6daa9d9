"""What an entry does to the opening and to the money, in words, and the delay event that it
offers.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Protocol, TypeVar

from tracker.pages.opening import opening_moves as opening_moves
from tracker.screens.entry.declared import Entry, EntryField, Given, Opened
from tracker.screens.entry.preview_dialog import Choice, Choices, look_at
from tracker.screens.entry.typed_text import FULL_DAY, days_words, money_words
from tracker.screens.table.sections import Line, Section

if TYPE_CHECKING:
    from tracker.actions.effects import Effect, Offer
    from tracker.schedule.records import Delay


class Effected(Protocol):
    """What an action that moves the plan returns."""

    @property
    def effect(self) -> Effect:
        """On the opening."""

    @property
    def offered(self) -> Offer | None:
        """The delay event for the site log."""

    @property
    def changed(self) -> tuple[str, ...]:
        """What was written, in words."""

    @property
    def notes(self) -> tuple[str, ...]:
        """What to look at."""


Moved = TypeVar("Moved", bound=Effected)

LOGGED = "logged"
"""The answer that keeps an entry with its delay event in the site log."""


def opening_line(effect: Effect) -> str:
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


def moving(
    title: str,
    help: str,
    cautions: Sequence[str],
    fields: Callable[[Opened], Sequence[EntryField]],
    act: Callable[[Given], Moved],
    titled: Callable[[Opened], str] | None = None,
) -> Entry[Moved]:
    """An entry whose action moves the plan and may offer a delay event with it."""
    return Entry(
        title=title,
        titled=titled,
        help=help,
        cautions=cautions,
        fields=fields,
        act=act,
        preview=moved_sections,
        keep=ways_to_keep,
        kept=lambda done: (
            f"{done.changed[0]}. u takes all of it back.",
            (opening_line(done.effect),),
        ),
    )


def moved_sections(found: Effected) -> list[Section]:
    """What an entry does to the opening, what it would write, the delay that it offers, what to
    look at.
    """
    later, offered = found.effect.days > 0, found.offered
    first = [Line(words, "warn") for words in found.effect.ask_first]
    opening = Line(opening_line(found.effect), "warn" if later else "strong")
    event = [delay_words(offered.delay)] if offered is not None else []
    return [
        Section("Clear this up first", first),
        Section("The opening", [opening]),
        look_at(found.changed, "What it does"),
        Section("Delay event offered for the site log", event),
        look_at(found.notes),
    ]


def ways_to_keep(found: Effected) -> Choices:
    """Keep it with the delay event or without; without an offer there is one way."""
    if found.offered is None:
        return (Choice("k", "keep it", "keep"),)
    return (
        Choice("y", "keep, delay into the site log", LOGGED),
        Choice("k", "keep, without the delay", "keep"),
    )


def delay_words(delay: Delay) -> str:
    """A delay event in a line."""
    first, last = delay.first, delay.last
    on = first.strftime(FULL_DAY) if first else "no day"
    if last and last != first:
        on += f" to {last.strftime(FULL_DAY)}"
    cost = f", direct cost {money_words(delay.direct_cost)}" if delay.direct_cost else ""
    party = delay.party.replace("contractor:", "contractor ")
    lost = f"{delay.days:,} working day{'' if delay.days == 1 else 's'} lost"
    return f"{delay.code} at {delay.activity}, {on}: {delay.cause}, {lost}, through {party}{cost}"
