"""Protest of the neighbors, and the votes that it asks for.

Standard State Zoning Enabling Act (1926), section 5: if the owners of 20 % or more of a class
protest, the change needs the favorable vote of three fourths of all the members. Each class is held
on its own: the area changed, the land behind or beside it, the land across the street. States
changed share, vote, rounding and classes; these are answers, not constants. "All the members"
counts vacancies and absences against the change.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from tracker.approvals.questions import Given, given
from tracker.approvals.records import Answer, Protest
from tracker.values.money import basis_points


@dataclass(frozen=True, slots=True)
class ProtestClass:
    """One class of owners. still_free_sf: square feet that may yet protest before the share is
    reached; 0 if it is.
    """

    class_: str
    entitled_sf: int
    protesting_sf: int
    share_bp: int | None
    triggered: bool
    still_free_sf: int


@dataclass(frozen=True, slots=True)
class ProtestAnswer:
    """The protest as it stands. share_bp: of the class with the largest share; None where no area
    is entitled.

    votes_needed: of the deciding body if the protest counts; None if its members aren't known or no
    protest is known to the law. members: those of whom the share is taken. unchecked: figures that
    are a default, or whose day of checking is over a year ago or not on record. text: all of it in
    words.
    """

    share_bp: int | None
    triggered: bool
    votes_needed: int | None
    members: int | None
    threshold_bp: int | None
    classes: tuple[ProtestClass, ...]
    unchecked: tuple[str, ...]
    text: str


FIGURES = ("protest_share", "protest_rule", "protest_votes", "vote_base", "vote_rounding")
"""The answers on which votes needed hang."""


def votes(members: int, share: Fraction | None, rounding: str = "up") -> int:
    """share x all members as a whole number of votes: rounded up, or (rounding "nearest") to the
    nearest, a half up.

    Without a share a majority: the fewest votes that are more than half.
    """
    if share is None:
        return members // 2 + 1
    exact = members * share
    if rounding == "nearest":
        return int(exact + Fraction(1, 2))
    return -int(-exact // 1)


def is_triggered(protesting: int, entitled: int, threshold: Fraction) -> bool:
    """Whether a class reaches the share, "at least", compared as exact fractions.

    Nobody entitled: no.
    """
    return entitled > 0 and Fraction(protesting, entitled) >= threshold


def of_class(row: Protest, threshold: Fraction | None) -> ProtestClass:
    """How one class stands against the share (None: the law knows no protest)."""
    reached = threshold is not None and is_triggered(row.protesting_sf, row.entitled_sf, threshold)
    free = 0
    if threshold is not None and not reached:
        free = max(0, -int(-(row.entitled_sf * threshold) // 1) - row.protesting_sf)
    return ProtestClass(
        class_=row.class_,
        entitled_sf=row.entitled_sf,
        protesting_sf=row.protesting_sf,
        share_bp=basis_points(row.protesting_sf, row.entitled_sf),
        triggered=reached,
        still_free_sf=free,
    )


def protest(
    rows: Iterable[Protest],
    answers: Iterable[Answer],
    members: int | None,
    today: dt.date | None = None,
) -> ProtestAnswer:
    """The protest of all classes, each on its own, and the votes of the deciding body. members: all
    of its seats.
    """
    known = tuple(answers)
    threshold: Fraction | None = given(known, "protest_share").value
    need: Fraction | None = given(known, "protest_votes").value
    if members and given(known, "vote_base").value == "holding office":
        members = max(0, members - given(known, "vacant_seats").value)
    rounding: str = given(known, "vote_rounding").value
    classes = tuple(of_class(row, threshold) for row in rows)
    entitled = [c for c in classes if c.entitled_sf]
    largest = max(entitled, key=lambda c: Fraction(c.protesting_sf, c.entitled_sf), default=None)
    needed = votes(members, need, rounding) if members and threshold is not None else None
    every = given(known, "protest_rule").value == "all"
    triggered = (
        bool(entitled) and all(c.triggered for c in entitled)
        if every
        else any(c.triggered for c in classes)
    )
    figures = {code: given(known, code, today) for code in FIGURES}
    unchecked = tuple(
        code
        for code, figure in figures.items()
        if (figure.default or figure.old or figure.text_old)
        and (threshold is not None or code == "protest_share")
    )
    said = Words(threshold, need, needed, members, given(known, "vote_base").value, every)
    return ProtestAnswer(
        share_bp=largest.share_bp if largest else None,
        triggered=triggered,
        votes_needed=needed,
        members=members,
        threshold_bp=(
            None if threshold is None else basis_points(threshold.numerator, threshold.denominator)
        ),
        classes=classes,
        unchecked=unchecked if classes else (),
        text=_text(triggered, said) + _unchecked(figures, unchecked if classes else ()),
    )


@dataclass(frozen=True, slots=True)
class Words:
    """What the sentence on a protest is made of."""

    threshold: Fraction | None
    need: Fraction | None
    needed: int | None
    members: int | None
    base: str
    every: bool


def _text(triggered: bool, said: Words) -> str:
    """The protest in words."""
    if said.threshold is None:
        return (
            "no protest that raises the vote is on record for this jurisdiction; ask its attorney"
        )
    share = f"{said.need}" if said.need is not None else "a majority"
    of = "all members" if said.base == "all members" else "the members holding office"
    vote = f"{share} of {of}" + (
        f": {said.needed} of {said.members}"
        if said.needed is not None
        else " (members not on record)"
    )
    if triggered:
        return f"a protest counts: the change needs {vote}, and whoever is absent counts against it"
    if said.every:
        return f"not every class reaches the share; if all did, the change would need {vote}"
    return f"no class reaches the share; if one did, the change would need {vote}"


def _unchecked(figures: Mapping[str, Given], codes: Iterable[str]) -> str:
    """The figures that nobody checked for this place, or long ago, as the end of the text."""
    old = [f"{code} ({_since(figures[code])})" for code in codes if not figures[code].default]
    model = [code for code in codes if figures[code].default]
    parts = [f"old, or no day on record: {', '.join(old)}"] if old else []
    if model:
        parts.append(f"by the model act, not checked here: {', '.join(model)}")
    return f" ({'; '.join(parts)}: ask the clerk)" if parts else ""


def _since(figure: Given) -> str:
    """The age of a figure's text, where that isn't fresh, else the day on which it was checked."""
    if figure.text_old and figure.text_as_of:
        return f"text of {figure.text_as_of.isoformat()}"
    if figure.checked_on is None or figure.old:
        return figure.checked_on.isoformat() if figure.checked_on else "no day"
    return "day of its text not known"
