"""Morning as sheets."""

from __future__ import annotations

from tracker.answers.morning import MorningAnswer
from tracker.command_line.sheets import Col, Sheet, count, day, dollars, facts

WORDS = {"!": "now", "?": "ask", "~": "soon", "=": "done"}
"""The word beside each mark."""


def sheets(answer: MorningAnswer) -> list[Sheet]:
    """Where the opening stands, what blocks it, and each list of things to do."""
    found = [standing(answer)]
    if answer.blockers:
        rows = tuple((marked(b.mark), b.text, " ".join((b.who, b.reach)).strip()) for b in answer.blockers)
        found.append(Sheet("What drives the opening now, and who moves it", (Col("", keep=True), Col(""), Col("")), rows))
    for section in answer.sections:
        items = tuple((marked(i.mark), i.text) for i in section.items)
        found.append(Sheet(section.title, (Col("", keep=True), Col("")), items))
    if not answer.blockers and not answer.sections:
        found.append(Sheet("", empty="Nothing waits. A project begins with activities, a checklist and a budget."))
    return found


def marked(mark: str) -> str:
    """A mark with its word."""
    return f"{mark} {WORDS.get(mark, '')}".strip()


def standing(answer: MorningAnswer) -> Sheet:
    """Forecast against promise, and what a day costs."""
    note = f"As of {day(answer.as_of)}: the status date is more than a week old." if answer.as_of else ""
    return facts(
        "",
        [
            ("today", day(answer.today)),
            ("status date", day(answer.status_date)),
            ("forecast opening", day(answer.forecast_opening)),
            ("promised opening", day(answer.promised_opening)),
            ("against the promise", lateness(answer.days_late)),
            ("cost of a day", f"{dollars(answer.cost_of_a_day_cents)} (gross)" if answer.cost_of_a_day_cents else ""),
            ("lateness costs", dollars(answer.cost_of_lateness_cents) if answer.cost_of_lateness_cents else ""),
        ],
        note,
    )


def lateness(days: int | None) -> str:
    """Days late or early in words."""
    if days is None:
        return ""
    return "on the day" if days == 0 else f"{count(abs(days), 'day')} {'late' if days > 0 else 'early'}"
