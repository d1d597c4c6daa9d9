"""Questions whose answers the rules of approvals read: state and local figures are data, never
constants in code.

Each answer is a row of the table `answers` with its source and the day on which it was checked. A
blank or missing answer takes the default named here, and the screen says that it is a default.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from tracker.approvals.records import Answer

OLD_AFTER_DAYS = 365
"""An answer checked longer ago than this is shown as old: statutes and local codes change with each
year's session. Common practice, no source.
"""


@dataclass(frozen=True, slots=True)
class Question:
    """A question that a rule reads. default: what holds without an answer. meaning: with unit and
    source of the default.
    """

    code: str
    default: str
    meaning: str
    read: Callable[[str], Any]


def yes_no(text: str) -> bool | None:
    """yes, no, or None for "ask" (nobody has answered yet)."""
    known = {"yes": True, "no": False, "ask": None, "unknown": None}
    if text.strip().lower() not in known:
        raise ValueError("is neither yes, no nor ask")
    return known[text.strip().lower()]


def fraction(text: str) -> Fraction:
    """An exact share from 0 to 1: "3/4", "20 %" or "20" (percent, as everywhere in a project
    folder).
    """
    plain = text.strip().removesuffix("%").strip()
    if re.fullmatch(r"[0-9]{1,6}/[0-9]{1,6}", plain) and int(plain.split("/")[1]) > 0:
        share = Fraction(plain)
    elif re.fullmatch(r"[0-9]{1,3}(\.[0-9]{1,6})?", plain):
        share = Fraction(plain) / 100
    else:
        raise ValueError("is neither a fraction like 3/4 nor a percentage like 20")
    if not 0 < share <= 1:
        raise ValueError("is not above 0 and at most the whole")
    return share


def share_or_none(text: str) -> Fraction | None:
    """An exact share, or None for "none": the law knows no protest."""
    return None if text.strip().lower() == "none" else fraction(text)


def votes_share(text: str) -> Fraction | None:
    """An exact share of votes, or None for "majority": more than half."""
    return None if text.strip().lower() == "majority" else fraction(text)


def one_of(*words_: str) -> Callable[[str], str]:
    """A reader of one of a few words."""

    def read_one(text: str) -> str:
        said = text.strip().lower()
        if said not in words_:
            raise ValueError(f"is none of: {', '.join(words_)}")
        return said

    return read_one


def hour(text: str) -> str:
    """An hour of the day like 16:00."""
    if not re.fullmatch(r"([01]?[0-9]|2[0-3]):[0-5][0-9]", text.strip()):
        raise ValueError("is not an hour like 16:00")
    return text.strip().zfill(5)


def rounding(text: str) -> str:
    """up or nearest."""
    if text.strip().lower() not in ("up", "nearest"):
        raise ValueError("is neither up nor nearest")
    return text.strip().lower()


def days(text: str) -> int:
    """A whole number of days, months or readings, 0 to 9,999."""
    if not re.fullmatch(r"[0-9]{1,4}", text.strip()):
        raise ValueError("is not a whole number from 0 to 9,999")
    return int(text)


def signed_days(text: str) -> int:
    """A whole number of days after (plain) or before (minus sign) a day."""
    if not re.fullmatch(r"[+-]?[0-9]{1,4}", text.strip()):
        raise ValueError("is not a whole number of days like 14, 0 or -6")
    return int(text)


def readings(text: str) -> int:
    """How often the body reads the change: 1 to 9."""
    if not re.fullmatch(r"[1-9]", text.strip()):
        raise ValueError("is not a number of readings from 1 to 9")
    return int(text)


def day(text: str) -> dt.date:
    """A date like 2027-03-05."""
    try:
        return dt.date.fromisoformat(text.strip())
    except ValueError:
        raise ValueError("is not a date like 2027-03-05") from None


def words(text: str) -> str:
    """Any words."""
    return text.strip()


ACT = "Standard State Zoning Enabling Act, 1926, section 5"
CODE_SECTION_105 = "International Building Code, section 105, before local amendments"

QUESTIONS: tuple[Question, ...] = (
    Question(
        "owner_contractor",
        "ask",
        "may an owner be their own general contractor for this building: yes, no or ask",
        yes_no,
    ),
    Question(
        "owner_rule",
        "",
        "what the state's law says of an owner as contractor, as it stands on record",
        words,
    ),
    Question(
        "building_let",
        "ask",
        "will the building, or a part of it, be let or opened to the public: yes, no or ask",
        yes_no,
    ),
    Question(
        "protest_share",
        "20",
        f"percent of a class that raises the vote, at least; none: no protest here ({ACT})",
        share_or_none,
    ),
    Question(
        "protest_rule",
        "any",
        f"any: a class that reaches the share counts by itself ({ACT}); all: only if every class"
        " does, as by area and by lots",
        one_of("any", "all"),
    ),
    Question(
        "protest_votes",
        "3/4",
        f"share of all members that must then vote for it, or majority ({ACT})",
        votes_share,
    ),
    Question(
        "vote_base",
        "all members",
        f"of whom the share is taken: all members, vacant seats with them ({ACT}), or those holding"
        " office",
        one_of("all members", "holding office"),
    ),
    Question("vacant_seats", "0", "seats of the deciding body that nobody holds today", days),
    *(
        Question(f"law_{kind}_{what}", "", f"{kind} notice by the state's law: {meaning}", days)
        for kind in ("published", "mailed", "posted")
        for what, meaning in (
            ("days", "days before the hearing, at the latest"),
            (
                "advising_days",
                (
                    "the same before the hearing of a body that advises, where the law asks for"
                    " others there"
                ),
            ),
            ("earliest_days", "days before the hearing, at the earliest; blank: no limit"),
            ("ft", "feet within which owners are told"),
        )
    ),
    Question(
        "law_published_twice_days",
        "",
        "days between two advertisements at least; blank: one is enough",
        days,
    ),
    Question(
        "law_notice_bodies",
        "deciding",
        "whose hearings these days are for: deciding, advising or all",
        one_of("deciding", "advising", "all"),
    ),
    Question(
        "hear_from_days", "", "days after filing before which the law allows no hearing", days
    ),
    Question("hear_by_days", "", "days after filing until which the law wants it heard", days),
    Question(
        "decide_days", "", "days after a complete filing in which the law wants a decision", days
    ),
    Question("decide_more_days", "", "days by which the body may extend that by letter", days),
    Question(
        "silent_days",
        "",
        "days after the first meeting of the advising body from which its silence counts",
        days,
    ),
    Question(
        "hearing_law",
        "",
        "what else the state's law says of the hearings, as it stands on record",
        words,
    ),
    Question(
        "cutoff_hour", "", "hour until which filings are taken on their last day, like 16:00", hour
    ),
    Question(
        "vote_rounding", "up", "how a broken number of votes is rounded: up or nearest", rounding
    ),
    Question(
        "deciding_body",
        "",
        "meeting calendar of the body that decides; blank: the last one that has members",
        words,
    ),
    Question(
        "protest_deadline_days",
        "0",
        "days after the hearing (minus: before it) until which a protest may be filed",
        signed_days,
    ),
    Question("readings", "1", "how many readings the deciding body gives the change", readings),
    Question("publication_days", "0", "days from adoption until it is published", days),
    Question(
        "windows_from",
        "adoption",
        "from what the days to effect, appeal and referendum are counted: adoption or publication",
        one_of("adoption", "publication"),
    ),
    Question("effective_days", "0", "days from there to the day on which the change holds", days),
    Question(
        "appeal_days",
        "30",
        "days from there in which the change may be taken to court (30 is common; ask)",
        days,
    ),
    Question(
        "referendum_days",
        "0",
        "days from there in which a vote of the people may be asked for; 0: none",
        days,
    ),
    Question(
        "refile_months", "0", "months after a refusal before the same may be filed again", days
    ),
    Question(
        "application_lapses_days",
        "180",
        f"days after filing at which a permit application lapses ({CODE_SECTION_105}.3.2)",
        days,
    ),
    Question(
        "permit_lapses_days",
        "180",
        f"days without begun or inspected work at which a permit lapses ({CODE_SECTION_105}.5)",
        days,
    ),
    Question(
        "due_diligence_ends", "", "the last day on which the buyer may leave the contract", words
    ),
    Question(
        "deposit_at_risk_from",
        "",
        "the day from which the earnest money is lost if the buyer leaves",
        words,
    ),
    Question("closing_day", "", "the day on which the purchase closes", words),
    Question(
        "way_out_if_continued",
        "ask",
        "may the buyer leave if the hearing is continued: yes, no or ask",
        yes_no,
    ),
)
"""Every question that a rule of approvals reads."""

BY_CODE: Mapping[str, Question] = {question.code: question for question in QUESTIONS}

DATE_QUESTIONS = ("due_diligence_ends", "deposit_at_risk_from", "closing_day")
"""Questions whose answer, where there is one, is a date."""


@dataclass(frozen=True, slots=True)
class Given:
    """An answer as a rule uses it. default: nobody answered. old: checked long ago, or nobody said
    when, or by a text that old.

    text_old: as the text of a law it is old, or nobody said of what day it is; such a text is never
    taken as fresh.
    """

    value: Any
    text: str
    default: bool
    source: str
    checked_on: dt.date | None
    old: bool
    text_as_of: dt.date | None = None
    text_old: bool = False

    @property
    def sure(self) -> bool:
        """Whether somebody looked it up on a day that is known: neither a default, nor assumed, nor
        from memory.
        """
        return not self.default and self.checked_on is not None and "from memory" not in self.source

    def age(self) -> str:
        """How old the text of a law is, in words, where it isn't fresh; blank where it is."""
        if not self.text_old:
            return ""
        return (
            f"text of {self.text_as_of.isoformat()}: old, ask"
            if self.text_as_of
            else "day of its text not known: ask"
        )


def given(answers: Iterable[Answer], code: str, today: dt.date | None = None) -> Given:
    """The answer to a question, or its default.

    An answer that can't be read counts as none (faults tell it).
    """
    question = BY_CODE[code]
    row = next((a for a in answers if a.question == code and a.answer.strip()), None)
    if row is not None:
        try:
            value = read(code, row.answer)
        except ValueError:
            row = None
    if row is None:
        value = question.read(question.default) if question.default else ""
        return Given(value, question.default, True, "", None, False)
    text_old = is_old(row.text_as_of, today)
    old = is_old(row.checked_on, today) or (row.text_as_of is not None and text_old)
    return Given(
        value, row.answer.strip(), False, row.source, row.checked_on, old, row.text_as_of, text_old
    )


def read(code: str, text: str) -> Any:
    """The value of an answer's text. ValueError says what is wrong, as the end of a sentence."""
    return day(text) if code in DATE_QUESTIONS else BY_CODE[code].read(text)


def is_old(checked_on: dt.date | None, today: dt.date | None) -> bool:
    """Whether an answer was checked so long ago, or never, that it must be asked anew."""
    if today is None:
        return False
    return checked_on is None or (today - checked_on).days > OLD_AFTER_DAYS
