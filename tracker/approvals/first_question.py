"""The first question: may an owner be their own general contractor here, for this building?

Asked before anything else.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from tracker.approvals.questions import Given, given
from tracker.approvals.records import Answer

QUESTION = (
    "May an owner be their own general contractor here, for a commercial building, and if it is to"
    " be let?"
)

SEND_TO = (
    "Ask the state's licensing board, the lender and an attorney, and keep the written answers."
)

WHY = (
    "Several states limit the exemption for owners by cost, by own use, or to dwellings, and a"
    " lender may refuse it too. An owner's exemption never licenses the trades."
)


@dataclass(frozen=True, slots=True)
class FirstQuestion:
    """The question, what is on record, and whom to ask. mark: "!" no, "?" unanswered or old, "="
    yes and fresh.

    rule: what the state's law says, as far as it is on record; rule_source, rule_checked_on,
    rule_text_as_of and rule_old tell how well.
    """

    question: str
    answer: str
    source: str
    checked_on: dt.date | None
    old: bool
    mark: str
    text: str
    send_to: str
    why: str
    rule: str
    rule_source: str
    rule_checked_on: dt.date | None
    rule_text_as_of: dt.date | None
    rule_old: bool


def first_question(answers: Iterable[Answer], today: dt.date) -> FirstQuestion:
    """How the first question stands on a day."""
    known = tuple(answers)
    may = given(known, "owner_contractor", today)
    let = given(known, "building_let", today)
    rule = given(known, "owner_rule", today)
    return FirstQuestion(
        question=QUESTION,
        answer="" if may.value is None else "yes" if may.value else "no",
        source=may.source,
        checked_on=may.checked_on,
        old=may.old,
        mark="!" if may.value is False else "?" if may.value is None or may.old else "=",
        text=_text(may.value, may.old, may.checked_on, let.value) + _rule_text(rule),
        send_to=SEND_TO,
        why=WHY,
        rule=rule.value,
        rule_source=rule.source,
        rule_checked_on=rule.checked_on,
        rule_text_as_of=rule.text_as_of,
        rule_old=rule.old or rule.text_old,
    )


def _rule_text(rule: Given) -> str:
    """What the state's law says, with the day on which that was checked."""
    if not rule.value:
        return ""
    when = f"checked on {rule.checked_on.isoformat()}" if rule.checked_on else "no day of checking"
    sure = ", from memory" if "from memory" in rule.source else ""
    age = "".join(
        f", {words}" for words in ("old: read it again" if rule.old else "", rule.age()) if words
    )
    return f" The state's law on record ({when}{sure}{age}): {rule.value}."


def _text(may: bool | None, old: bool, checked_on: dt.date | None, let: bool | None) -> str:
    """What is on record, in one or two sentences."""
    if may is None:
        return "Not answered yet: ask this before anything else."
    when = f"checked on {checked_on.isoformat()}" if checked_on else "no date of checking on record"
    said = "On record: yes" if may else "On record: no, a licensed general contractor is needed"
    text = f"{said} ({when})."
    if old:
        text += " The record is old: ask again." if checked_on else " Ask again and note the day."
    if may and let is not False:
        text += (
            " A building that is let or open to the public often does not qualify: make sure that"
            " the answer covers it."
        )
    return text
