"""The page of Morning: where the opening stands, what drives it and who moves it, and each list of
things to do.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from tracker.pages.cells import money_words
from tracker.pages.marks import ASKS, AT_RISK, BLOCKS, ROW_WORDS
from tracker.pages.opening import standing
from tracker.pages.page import CODE, NOT_ON_SCREEN, Column, Page, Part, Row
from tracker.schedule.lateness import NO_LONGER, late_words, lump_sums
from tracker.values.days import count_of_days, full_day, short_day
from tracker.values.money import not_all_entered

if TYPE_CHECKING:
    from tracker.answers.morning import MorningAnswer
    from tracker.answers.morning_rows import Blocker, Item

DRIVES = "What drives the opening now, and who moves it"
COUNTED = {
    BLOCKS: ("blocks now", "block now"),
    ASKS: ("needs an answer", "need an answer"),
    AT_RISK: ("at risk", "at risk"),
}
"""What the head counts by mark: the words for one, and for more."""
COLUMNS = (Column("word", "", CODE), Column("text", ""), Column("who", ""))


def page(answer: MorningAnswer) -> Page:
    """What must happen next, section by section."""
    drives = [
        Row(
            (ROW_WORDS.get(b.mark, ""), b.text, who_moves(b.who, b.reach)),
            b.table,
            b.key,
            mark=b.mark,
        )
        for b in answer.blockers
    ]
    found = [_list(DRIVES, tuple(drives))] if drives else []
    for section in answer.sections:
        rows = tuple(
            Row((ROW_WORDS.get(one.mark, ""), one.text, ""), one.table, one.row, mark=one.mark)
            for one in section.items
        )
        found.append(_list(section.title, rows).without("who"))
    empty = "Nothing waits. A project begins with activities, a checklist and a budget."
    nothing = [] if found else [Part("nothing", "", empty=empty)]
    first = standing(answer, first=(("today", answer.today),))
    head = (opening_line(answer), cost_line(answer), as_of_line(answer), counts_line(answer))
    lines = tuple(line for line in head if line)
    return Page("morning", lines, (replace(first, on=NOT_ON_SCREEN), *found, *nothing))


def _list(title: str, rows: tuple[Row, ...]) -> Part:
    """A list of things to do; each opens what it is about."""
    count = str(len(rows))
    return Part(title, title, COLUMNS, rows, count=count, marked=True, offers=("open",))


def who_moves(who: str, reach: str) -> str:
    """Who unblocks something, and how to reach them."""
    return ", ".join(part for part in (who, reach) if part)


def opening_line(answer: MorningAnswer, short: bool = False) -> str:
    """The opening in a sentence. short: without weekdays."""
    day = short_day if short else full_day
    if answer.forecast_opening is None:
        return "No opening to forecast yet: the plan has no activities."
    opens = f"Opens {day(answer.forecast_opening)}"
    if answer.opening_is_over:
        late = late_words(answer.days_late, over=True)
        return f"{opens}: {NO_LONGER} (p enters it){f'; {late}' if late else ''}."
    if answer.promised_opening is None:
        return f"{opens}; no opening is promised yet (p enters it)."
    return f"{opens}, promised {day(answer.promised_opening)}: {lateness(answer.days_late)}."


def lateness(days: int | None) -> str:
    """Days late or early in words."""
    if not days:
        return "on the day"
    return f"{count_of_days(abs(days))} {'late' if days > 0 else 'early'}"


def cost_line(answer: MorningAnswer, cells: int | None = None, short: bool = False) -> str:
    """What one more day costs, and what the lateness costs; what of it nobody entered where that
    fits into so many cells (None: any number). short: without the days late.
    """
    names = not_all_entered(answer.day_cost_missing)
    if not names:
        return _cost(answer, not short, "")
    tried = [_cost(answer, *how) for how in ((not short, names), (not short, ""), (False, ""))]
    return next((text for text in tried if cells is None or len(text) <= cells), tried[-1])


def _cost(answer: MorningAnswer, full: bool, names: str) -> str:
    """The same. full: with the days late; names: of the parts that nobody entered."""
    if not answer.cost_of_a_day_cents:
        return (
            "What a day costs is not known yet: p enters insurance, tax, rent a day."
            if answer.forecast_opening
            else ""
        )
    missing = answer.day_cost_missing
    day = f"{'One more' if full else 'A'} day costs {'at least ' * bool(missing)}"
    day += money_words(answer.cost_of_a_day_cents) + names
    cost = answer.cost_of_lateness_cents
    if not cost or (answer.opening_is_over and cost < 0):
        return f"{day}."
    late = f"being {count_of_days(answer.days_late or 0)} late" if full else "being late"
    lumps = lump_sums(cost, answer.days_late, answer.cost_of_a_day_cents)
    included = f", lump sums of {money_words(lumps)} included" if lumps else ""
    least = "at least " if answer.opening_is_over or (missing and cost > 0) else ""
    return f"{day}; {late} costs {least}{money_words(cost)}{included}."


def as_of_line(answer: MorningAnswer, short: bool = False) -> str:
    """That the plan is old, if it is."""
    if answer.as_of is None:
        return ""
    age = count_of_days((answer.today - answer.as_of).days)
    if short:
        return f"As of {short_day(answer.as_of)}, {age} ago: it may be over."
    return f"As of {full_day(answer.as_of)}, {age} ago: what follows may be over by now."


def things(answer: MorningAnswer) -> list[Item | Blocker]:
    """Everything that waits, in its order."""
    return [*answer.blockers, *(one for section in answer.sections for one in section.items)]


def counts_line(answer: MorningAnswer) -> str:
    """How many things block, need an answer, are at risk."""
    marks = [one.mark for one in things(answer)]
    return ", ".join(
        f"{marks.count(mark):,} {words[marks.count(mark) > 1]}"
        for mark, words in COUNTED.items()
        if mark in marks
    )
