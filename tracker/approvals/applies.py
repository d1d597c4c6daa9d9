"""Which items of the checklist apply: a condition on the answers to the project's questions.

QUESTION = VALUE, QUESTION != VALUE, or QUESTION < NUMBER (also >, <=, >=); several with " or "
between them. Where a question isn't answered, or its answer can't be compared, nobody knows yet,
and the item stays.
"""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from tracker.approvals.records import Answer, ChecklistItem
from tracker.values.problems import shorten
from tracker.values.records import Rows

CLAUSE = re.compile(r"([A-Za-z0-9._-]{1,40})\s*(!=|<=|>=|=|<|>)\s*([^=<>!\s].*)")
WORD = re.compile(r"\S+")
NUMBER = re.compile(r"[0-9][0-9,]*(\.[0-9]+)?")

LONGEST = 2_000
"""Characters of a condition: some fifty comparisons, more than anybody reads."""

WAITING = ("open",)
"""States in which an item that does not apply counts as not needed.

Whatever the owner has begun or settled stays as it is.
"""


@dataclass(frozen=True, slots=True)
class Clause:
    """One comparison of an answer."""

    question: str
    how: str
    value: str


def clauses(text: str) -> tuple[Clause, ...]:
    """The clauses of a condition; none for a blank one.

    ValueError says what is wrong, as the end of a sentence.
    """
    if len(text) > LONGEST:
        raise ValueError(f"is longer than a condition of {LONGEST:,} characters")
    found = []
    for part in _parts(text) if text.strip() else ():
        match = CLAUSE.fullmatch(part)
        if not match:
            raise ValueError(f"is no condition like state_road = yes ({shorten(part)!r})")
        clause = Clause(*match.groups())
        if clause.how not in ("=", "!=") and not NUMBER.fullmatch(clause.value):
            raise ValueError(f"compares with {shorten(clause.value)!r}, which is no number")
        found.append(clause)
    return tuple(found)


def _parts(text: str) -> list[str]:
    """What stands between the words "or", as typed; a part's own first word is none of them."""
    found, begin, first = [], 0, True
    for word in WORD.finditer(text):
        divides = word.group() == "or" and not first
        if divides:
            found.append(text[begin : word.start()].strip())
            begin = word.end()
        first = divides
    return [*found, text[begin:].strip()]


def holds(clause: Clause, answers: Mapping[str, str]) -> bool | None:
    """Whether an answer meets a clause; None where there is no answer to compare."""
    said = answers.get(clause.question, "").strip().lower()
    if not said or said in ("ask", "unknown"):
        return None
    if clause.how in ("=", "!="):
        return (said == clause.value.lower()) == (clause.how == "=")
    number = NUMBER.match(said)
    if not number:
        return None
    one, other = (Fraction(text.replace(",", "")) for text in (number.group(), clause.value))
    return {"<": one < other, ">": one > other, "<=": one <= other, ">=": one >= other}[clause.how]


def applies(item: ChecklistItem, answers: Mapping[str, str]) -> bool | None:
    """Whether an item applies: yes, no, or None where nobody knows yet.

    One without a condition always does.
    """
    try:
        found = [holds(clause, answers) for clause in clauses(item.applies_when)]
    except ValueError:
        return None
    if not found or True in found:
        return True
    return None if None in found else False


def why_not(item: ChecklistItem, answers: Mapping[str, str]) -> str:
    """Why an item does not apply: the answers that say so."""
    asked = dict.fromkeys(clause.question for clause in clauses(item.applies_when))
    return "by the answers: " + ", ".join(
        f"{question} is {answers[question].strip()}" for question in asked
    )


def considered(rows: Rows) -> tuple[ChecklistItem, ...]:
    """The checklist in row order, as the answers leave it: an open item that does not apply is not
    needed, and says why.
    """
    answers = by_question(rows.get("answers", ()))
    return tuple(_considered(item, answers) for item in rows.get("checklist", ()))


def by_question(answers: Iterable[Answer]) -> dict[str, str]:
    """The answers by their question."""
    return {answer.question: answer.answer for answer in answers}


def _considered(item: ChecklistItem, answers: Mapping[str, str]) -> ChecklistItem:
    """One item."""
    if not item.applies_when or item.state not in WAITING or applies(item, answers) is not False:
        return item
    return dataclasses.replace(item, state="not needed", reason=why_not(item, answers))
