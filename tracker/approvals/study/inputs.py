"""What the code study reads from the answers: each question with what it means, and the answer as a
value.

An answer that can't be read counts as none; the study shows it with what is wrong.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from tracker.approvals.questions import is_old
from tracker.approvals.records import Answer
from tracker.values.records import new


def whole(text: str) -> int:
    """A whole number."""
    plain = text.replace(",", "").strip()
    if not re.fullmatch(r"[0-9]{1,9}", plain):
        raise ValueError("is not a whole number")
    return int(plain)


def decimal(text: str) -> Fraction:
    """A number with decimals, such as 31.375."""
    plain = text.replace(",", "").strip()
    if not re.fullmatch(r"[0-9]{1,9}(\.[0-9]{1,4})?", plain):
        raise ValueError("is not a number")
    return Fraction(plain)


def dollars(text: str) -> int:
    """Dollars, as cents."""
    plain = text.replace(",", "").replace("$", "").strip()
    if not re.fullmatch(r"[0-9]{1,12}(\.[0-9]{1,2})?", plain):
        raise ValueError("is not an amount in dollars")
    return int(Fraction(plain) * 100)


def yes_or_no(text: str) -> bool:
    """yes or no."""
    if text.strip().lower() not in ("yes", "no"):
        raise ValueError("is neither yes nor no")
    return text.strip().lower() == "yes"


def groups(text: str) -> tuple[str, ...]:
    """Occupancy groups, such as "F-1 S-1"."""
    found = tuple(part.upper() for part in re.split(r"[ ,;/]+", text.strip()) if part)
    if not all(re.fullmatch(r"[ABEFHIMRSU](-[1-5])?", part) for part in found):
        raise ValueError("is not a list of occupancy groups like F-1 S-1")
    return found


def areas(text: str) -> tuple[int, ...]:
    """Square feet of each area, such as "9200 9200"."""
    return tuple(whole(part) for part in text.split())


def building_type(text: str) -> str:
    """A construction type, such as II-B; IV, also called IV-HT, is heavy timber."""
    plain = re.sub(r"[ -]", "", text.strip().upper())
    if not re.fullmatch(r"(I|II|III|V)[AB]|IV[ABC]?|IVHT", plain):
        raise ValueError("is not a construction type like II-B")
    if plain == "IVHT":
        return "IV"
    letter = plain[-1] if plain[-1] in "ABC" else ""
    return f"{plain[:-1]}-{letter}" if letter else plain


def edition(text: str) -> str:
    """The year of an edition."""
    found = re.search(r"\b(19|20)[0-9]{2}\b", text)
    if not found:
        raise ValueError("names no year of an edition")
    return found.group()


@dataclass(frozen=True, slots=True)
class StudyQuestion:
    """A question of the study. read: its answer as a value; ValueError says what is wrong, as the
    end of a sentence.
    """

    code: str
    meaning: str
    read: Any


def _questions(read: Any, *pairs: tuple[str, str]) -> list[StudyQuestion]:
    return [StudyQuestion(code, meaning, read) for code, meaning in pairs]


QUESTIONS: tuple[StudyQuestion, ...] = (
    *_questions(edition, ("code_edition", "year of the building code that the town has adopted")),
    *_questions(
        groups,
        ("existing_group", "occupancy group today"),
        ("proposed_group", "occupancy group planned; several with a space between"),
    ),
    *_questions(
        building_type, ("construction_type", "construction type by the building code, like II-B")
    ),
    *_questions(
        yes_or_no,
        ("sprinklered", "sprinklers throughout today"),
        ("sprinklers_planned", "sprinklers throughout once it opens"),
        ("voice_alarm", "alarm with voice once it opens"),
        ("upper_floor", "is there a fire area on a floor without its exit to the outside"),
        ("garage_below", "is there an enclosed garage under other uses"),
        ("units_open_outside", "does every storage unit open straight to the outside"),
        ("shopping_or_medical", "is it a shopping center, a health care office or a terminal"),
        ("door_is_altered", "is the door part of an alteration"),
        ("upholstered_goods", "upholstered furniture or mattresses made, sold or stored"),
        ("vehicles", "vehicles parked or repaired inside"),
    ),
    *_questions(
        areas,
        ("fire_areas_sf", "square feet of each fire area, where the spaces do not name theirs"),
    ),
    *_questions(
        whole,
        ("gross_area_sf", "gross square feet"),
        ("stories", "stories above grade"),
        ("largest_story_sf", "square feet of the largest story"),
        ("height_ft", "feet from grade to the roof"),
        ("fire_area_story", "the highest story with a fire area of the planned group"),
        ("perimeter_ft", "feet around the building"),
        ("open_perimeter_ft", "feet of it along a street or open yard"),
        ("open_width_ft", "least width of that street or yard in feet"),
        ("foam_sf", "square feet for upholstered goods or mattresses"),
        ("wood_sf", "square feet of woodworking with fine dust"),
        ("trucks_sf", "square feet of the fire area with commercial vehicles"),
        ("repair_sf", "square feet of the fire area with a repair garage"),
        ("garage_sf", "square feet of an enclosed parking garage"),
        ("windowless_sf", "square feet of a story without enough openings; 0: none"),
        ("high_floor_ft", "feet from the fire lane up to the highest floor with 30 people or more"),
        ("undivided_sf", "largest area that no wall divides, square feet"),
        ("occupants", "people in all, where an architect has counted them"),
        ("exits", "exits from the story with the most people"),
        ("common_path_ft", "longest way until there are two ways, feet"),
        ("travel_distance_ft", "longest way to an exit, feet"),
        ("exit_width_in", "clear width of all exit doors together, inches"),
        ("stair_in", "clear width of all exit stairs together, inches"),
        ("stair_narrow_in", "narrowest exit stair, inches"),
        ("corridor_in", "narrowest corridor, inches"),
        ("dead_end_ft", "longest corridor that ends without an exit, feet"),
        ("corridor_hours", "hours of the corridor walls"),
        ("barrier_hours", "hours of the walls between fire areas"),
        ("separation_hours", "hours of the walls between different groups"),
        ("toilets_men", "toilets for men planned"),
        ("toilets_women", "toilets for women planned"),
        ("lavatories", "lavatories for men, and as many for women, planned"),
        ("drinking_fountains", "drinking fountains planned"),
        ("service_sinks", "service sinks planned"),
        ("parking_spaces", "parking spaces on the lot"),
        ("accessible_parking", "accessible parking spaces planned, vans with them"),
        ("van_parking", "van spaces among them"),
        ("storage_units", "self-storage units let"),
        ("accessible_units", "accessible units among them"),
        ("entrances", "public entrances"),
        ("accessible_entrances", "accessible ones among them"),
        ("toilet_rooms", "single-user toilet rooms in one place"),
        ("accessible_toilet_rooms", "accessible ones among them"),
        ("urinals", "urinals in one toilet room"),
        ("accessible_urinals", "accessible ones among them"),
        ("employee_area_sf", "largest area for employees alone, square feet"),
    ),
    *_questions(
        decimal,
        ("door_clear_in", "narrowest clear width of a door, inches"),
        (
            "door_pull_depth_in",
            "least clear depth before a door on the pull side, straight on, inches",
        ),
        ("door_pull_latch_in", "least clear width beside its latch there, inches"),
        ("door_push_depth_in", "the same depth on the push side of a door with closer and latch"),
        ("door_push_latch_in", "the same width beside its latch there, inches"),
    ),
    *_questions(
        dollars,
        ("altered_area_cost", "dollars for altering the areas of primary function"),
        (
            "path_of_travel_cost",
            "dollars for a wholly accessible entrance, route, toilets, telephones, fountains",
        ),
    ),
)
"""Every question that the study reads."""

BY_CODE: Mapping[str, StudyQuestion] = {question.code: question for question in QUESTIONS}


def enter(code: str) -> str:
    """What to enter, for a line that misses it."""
    return f"enter {code} ({BY_CODE[code].meaning})"


FOLLOWS: Mapping[str, tuple[str, ...]] = {
    "upholstered_goods": ("foam_sf",),
    "vehicles": ("trucks_sf", "repair_sf", "garage_sf"),
}
"""Areas that are nothing where this question is answered with no."""


@dataclass(frozen=True, slots=True)
class InputLine:
    """One question with its answer.

    problem: why the answer can't be read. on_record: there is a row for it. old: checked over a
    year ago, or nobody said when.
    """

    question: str
    meaning: str
    answer: str
    source: str
    checked_on: dt.date | None
    old: bool
    problem: str
    on_record: bool


@dataclass(frozen=True, slots=True)
class Inputs:
    """The answers as values; a question without a readable answer has none."""

    values: Mapping[str, Any]
    lines: tuple[InputLine, ...]
    use: str

    def get(self, code: str) -> Any:
        """The value of an answer; None where there is none."""
        return self.values.get(code)


def inputs_of(answers: Iterable[Answer], today: dt.date) -> Inputs:
    """What the study knows on a day."""
    known = {a.question: a for a in answers}
    values: dict[str, Any] = {}
    lines = []
    for question in QUESTIONS:
        answer = known.get(question.code) or new(Answer, question=question.code)
        problem = ""
        if answer.answer.strip():
            try:
                values[question.code] = question.read(answer.answer)
            except ValueError as reason:
                problem = str(reason)
        given = bool(answer.answer.strip())
        lines.append(
            InputLine(
                question=question.code,
                meaning=question.meaning,
                answer=answer.answer.strip(),
                source=answer.source,
                checked_on=answer.checked_on,
                old=given and is_old(answer.checked_on, today),
                problem=problem,
                on_record=question.code in known,
            )
        )
    for question_code, codes in FOLLOWS.items():
        if values.get(question_code) is False:
            for code in codes:
                values.setdefault(code, 0)
    use = known["proposed_use"].answer if "proposed_use" in known else ""
    return Inputs(values=values, lines=tuple(lines), use=use)
