"""Morning as sheets."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from tracker.answers.morning import MorningAnswer
from tracker.command_line.sheets import Col, Sheet, day, dollars, facts
from tracker.schedule.lateness import NO_LONGER, late_words, lump_sums
from tracker.values.money import not_all_entered

WORDS = {"!": "now", "?": "ask", "~": "soon", "=": "done"}
"""The word beside each mark."""


def sheets(answer: MorningAnswer) -> list[Sheet]:
    """Where the opening stands, what blocks it, and each list of things to do."""
    found = [standing(answer)]
    if answer.blockers:
        rows = tuple(
            (marked(b.mark), b.text, " ".join((b.who, b.reach)).strip()) for b in answer.blockers
        )
        found.append(
            Sheet(
                "What drives the opening now, and who moves it",
                (Col("", keep=True), Col(""), Col("")),
                rows,
            )
        )
    for section in answer.sections:
        items = tuple((marked(i.mark), i.text) for i in section.items)
        found.append(Sheet(section.title, (Col("", keep=True), Col("")), items))
    if not answer.blockers and not answer.sections:
        found.append(
            Sheet(
                "",
                empty="Nothing waits. A project begins with activities, a checklist and a budget.",
            )
        )
    return found


def marked(mark: str) -> str:
    """A mark with its word."""
    return f"{mark} {WORDS.get(mark, '')}".strip()


def standing(answer: MorningAnswer) -> Sheet:
    """Forecast against promise, and what a day costs."""
    note = (
        f"As of {day(answer.as_of)}: what happened in more than a week since is not entered."
        if answer.as_of
        else ""
    )
    return facts(
        "",
        [
            ("today", day(answer.today)),
            ("status date", day(answer.status_date)),
            ("forecast opening", forecast(answer.forecast_opening, answer.opening_is_over)),
            ("promised opening", day(answer.promised_opening)),
            ("against the promise", late_words(answer.days_late, answer.opening_is_over)),
            ("cost of a day", day_costs(answer.cost_of_a_day_cents, answer.day_cost_missing)),
            ("lateness costs", late_cost(answer)),
        ],
        note,
    )


def day_costs(cents: int, missing: Sequence[str]) -> str:
    """What a day costs, gross; "at least" where a part of it was not entered, with its name."""
    return (
        f"{'at least ' * bool(missing)}{dollars(cents)} (gross){not_all_entered(missing)}"
        if cents
        else ""
    )


def late_cost(answer: MorningAnswer) -> str:
    """What being late costs, and what of it are lump sums."""
    if not answer.cost_of_lateness_cents or (
        answer.opening_is_over and answer.cost_of_lateness_cents < 0
    ):
        return ""
    lumps = lump_sums(answer.cost_of_lateness_cents, answer.days_late, answer.cost_of_a_day_cents)
    least = (
        "at least "
        if answer.opening_is_over or (answer.day_cost_missing and answer.cost_of_lateness_cents > 0)
        else ""
    )
    return (
        least
        + dollars(answer.cost_of_lateness_cents)
        + (f", lump sums of {dollars(lumps)} included" if lumps else "")
    )


def forecast(opening: dt.date | None, is_over: bool) -> str:
    """The forecast opening; where that day is over, that it is no longer possible."""
    return f"{day(opening)}, {NO_LONGER}" if is_over else day(opening)
