"""The parts of the answer to Slip.

Days are calendar days, negative where they were made up; costs are cents.
"""

from __future__ import annotations

import datetime as dt
from typing import Protocol

from tracker.values.frozen import value


class Named(Protocol):
    """Anything with a code and a name."""

    @property
    def code(self) -> str:
        """Its code."""

    @property
    def name(self) -> str:
        """Its name; the code where it has none."""


def titled(one: Named) -> str:
    """Code and name as people read them; the code alone where it has no other name."""
    return one.code if one.name in ("", one.code) else f"{one.code} {one.name}"


@value
class ReasonRow:
    """Some of the days of an activity or a revision, with cause, party and what says so; made up
    and not explained have none.
    """

    cause: str
    party: str
    event: str
    days: int


@value
class StepRow:
    """An activity in a window. own_lateness: working days. days_alone: what it alone would have
    moved the opening by.
    """

    code: str
    name: str
    days: int
    days_alone: int
    own_lateness: int
    reasons: tuple[ReasonRow, ...]


@value
class RevisionRow:
    """A revision that moved the opening. what: the difference in words."""

    kind: str
    code: str
    name: str
    days: int
    what: str
    cause: str
    party: str
    event: str


@value
class WindowRow:
    """A window: after the status date from_ through `to`. cost: its days at the cost of a day of
    its end.
    """

    from_: dt.date
    to: dt.date
    opening_before: dt.date
    half_step_opening: dt.date
    opening_after: dt.date
    days: int
    progress_days: int
    revision_days: int
    concurrent: bool
    cost_of_a_day_cents: int
    cost_cents: int
    not_explained_days: int
    note: str
    activities: tuple[StepRow, ...]
    revisions: tuple[RevisionRow, ...]
    revisions_without_effect: int


@value
class CauseRow:
    """A cause with its days and their cost."""

    cause: str
    days: int
    cost_cents: int


@value
class PartyRow:
    """A party. concurrent_days: of its days, progress in windows in which delays ran at the same
    time.

    words_given and words_kept: of its words whose day is over.
    """

    party: str
    name: str
    days: int
    cost_cents: int
    concurrent_days: int
    words_given: int
    words_kept: int


@value
class Sum:
    """Days and their cost. concurrent_days: as for a party."""

    days: int
    cost_cents: int
    concurrent_days: int


@value
class ActivityRow:
    """An activity, a calendar, or the project ("-") over all windows."""

    code: str
    name: str
    days: int
    progress_days: int
    revision_days: int
    not_explained_days: int
    cost_cents: int


@value
class StepCostRow:
    """A lump sum whose date the opening passed in a window; negative where it moved back
    over it.
    """

    date: dt.date
    amount_cents: int
    reason: str
    code: str
    window: dt.date


@value
class DirectCostRow:
    """What a delay event cost by itself, as the site log has it."""

    code: str
    date: dt.date
    amount_cents: int
    cause: str
    party: str
    note: str


@value
class EvidenceRow:
    """A delay event with what it explained: days of the opening, working days lost and of these
    used up.

    who: the name of its party.
    """

    code: str
    activity: str
    name: str
    first: dt.date
    last: dt.date | None
    cause: str
    party: str
    who: str
    days_lost: int
    used_up: int
    days_explained: int
    note: str
    evidence: str


@value
class OpeningRow:
    """The forecast opening at a status date."""

    date: dt.date
    opening: dt.date
