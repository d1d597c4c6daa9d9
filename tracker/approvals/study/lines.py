"""One line of the code study: what is planned, the figure, and whether it lies under, close or
over. Never more than that.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from tracker.approvals.study.figures import Basis
from tracker.approvals.study.inputs import enter

CLOSE_SHARE = Fraction(9, 10)
"""From nine tenths of a figure on, a value is close to it: a survey, a wall or a count may put it
over.
"""

MARKS = {"over": "!", "close": "~", "ask": "?", "under": " "}


@dataclass(frozen=True, slots=True)
class StudyLine:
    """One line.

    value: what is planned, figure: of the code, both in `unit`; None where unknown, or where
    nothing is counted. verdict: "under", "close", "over", or "ask" where something is missing.
    text: the same in words, with whom to ask about what. doubt: why the figure may not hold here,
    blank where it does. section, edition, how_we_know, source, checked_on: what the figure rests
    on; old: checked over a year ago. local: the figure was entered for this project.
    adopted_edition: the one in force; other_edition: the figure is of another. question: the answer
    that the line hangs on, blank where the spaces give it. mark: "!" over, "~" close, "?" to be
    asked, " " under.
    """

    code: str
    topic: str
    subject: str
    value: int | None
    figure: int | None
    unit: str
    verdict: str
    text: str
    doubt: str
    section: str
    edition: str
    adopted_edition: str
    other_edition: bool
    local: bool
    how_we_know: str
    source: str
    checked_on: dt.date | None
    old: bool
    mark: str
    note: str
    question: str


NOTHING = Basis("", "", "", False, False, "", "", None, False, "")
"""What a line rests on that has no figure."""


def against(
    code: str,
    topic: str,
    subject: str,
    value: int | None,
    figure: int | None,
    unit: str,
    basis: Basis,
    *,
    ask: str,
    question: str = "",
    from_spaces: str = "",
    from_it_on: bool = False,
    of: str = "the threshold of",
) -> StudyLine:
    """A value held against a figure.

    Over is more than the figure; from_it_on: the figure itself is over already.

    ask: whom to ask about what. question: the answer that holds the value; from_spaces: what of the
    spaces gives it.
    """
    if figure is None:
        return to_ask(
            code,
            topic,
            subject,
            value,
            unit,
            basis,
            f"{ask}: no figure on record",
            question=question,
        )
    if value is None:
        text = f"{from_spaces or enter(question)}, to hold it against {of} {figure:,} {unit}"
        return to_ask(code, topic, subject, None, unit, basis, text, figure, question)
    verdict = held_against(value, figure, from_it_on)
    words = {
        "over": f"over: {ask} ({counted(value, unit)}, {of} {figure:,})",
        "close": f"close: {ask} ({counted(value, unit)}, {of} {figure:,})",
        "under": f"under {of} {figure:,} {unit}",
    }
    return made(code, topic, subject, value, figure, unit, basis, verdict, words[verdict], question)


def held_against(value: int, figure: int, from_it_on: bool = False) -> str:
    """ "over" beyond a figure (from_it_on: at it too), "close" within a tenth below it, else
    "under".
    """
    if value > figure or (from_it_on and value == figure):
        return "over"
    return "close" if value and value >= figure * CLOSE_SHARE else "under"


def needed(
    code: str,
    topic: str,
    subject: str,
    need: int | None,
    there: int | None,
    unit: str,
    basis: Basis,
    *,
    ask: str,
    question: str,
) -> StudyLine:
    """What is needed held against what is planned: over if less is planned, close if a tenth or
    less is to spare.
    """
    if need is None:
        return to_ask(
            code,
            topic,
            subject,
            None,
            unit,
            basis,
            f"{ask}: no figure on record",
            question=question,
        )
    if there is None:
        text = f"{counted(need, unit)} by the table; {enter(question)}"
        return to_ask(code, topic, subject, None, unit, basis, text, need, question)
    verdict = held_against(need, there)
    words = f"{counted(need, unit)} by the table, {there:,} planned"
    text = (
        f"under what is planned: {words}" if verdict == "under" else f"{verdict}: {ask} ({words})"
    )
    return made(code, topic, subject, there, need, unit, basis, verdict, text, question)


def listed(names: Sequence[str], most: int = 4) -> str:
    """Names in a row; of many the first few."""
    return ", ".join(names[:most]) + (f" and {len(names) - most} more" if len(names) > most else "")


def counted(number: int, unit: str) -> str:
    """A number with its unit; one of it is one."""
    if number == 1 and unit.endswith("s"):
        unit = f"{unit[:-3]}y" if unit.endswith("ies") else unit[:-1]
    return f"{number:,} {unit}"


def to_ask(
    code: str,
    topic: str,
    subject: str,
    value: int | None,
    unit: str,
    basis: Basis,
    text: str,
    figure: int | None = None,
    question: str = "",
) -> StudyLine:
    """A line that can only be asked about, or for which something must be entered first."""
    return made(
        code,
        topic,
        subject,
        value,
        figure,
        unit,
        basis,
        "ask",
        f"ask: {text.removeprefix('ask ')}",
        question,
    )


def made(
    code: str,
    topic: str,
    subject: str,
    value: int | None,
    figure: int | None,
    unit: str,
    basis: Basis,
    verdict: str,
    text: str,
    question: str = "",
) -> StudyLine:
    """A line; where its figure is not sure, it is to be asked about even if the value lies under
    it.
    """
    doubt = basis.doubt()
    mark = MARKS[verdict]
    return StudyLine(
        code=code,
        topic=topic,
        subject=subject,
        value=value,
        figure=figure,
        unit=unit,
        verdict=verdict,
        text=text,
        doubt=f"{doubt}: ask" if doubt else "",
        section=basis.section,
        edition="" if basis.local else basis.edition,
        adopted_edition=basis.adopted,
        other_edition=basis.other_edition,
        local=basis.local,
        how_we_know=basis.how_we_know,
        source=basis.source,
        checked_on=basis.checked_on,
        old=basis.old,
        mark="?" if doubt and mark == " " else mark,
        note=basis.note,
        question=question,
    )
