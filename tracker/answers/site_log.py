"""The site log by day: weather, crews, what happened, the delay events that began, and who came as
they said or late.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from tracker.project_file.store import ProjectFile
from tracker.schedule.records import Delay
from tracker.trades import words
from tracker.values.records import Rows


@dataclass(frozen=True, slots=True)
class SiteDay:
    """One day. logged: it has a line of its own in the site log; else it stands here for its delays
    or comings alone.

    delays: that began on it. words: what came of words given, in sentences with the contractor.
    lost: working days lost by the delays that began on it.
    """

    date: dt.date
    logged: bool
    weather: str
    crew: str
    note: str
    delays: tuple[Delay, ...]
    words: tuple[str, ...]
    lost: int


@dataclass(frozen=True, slots=True)
class SiteLogAnswer:
    """All days through today, the last one first. lost: working days lost in all. today_logged:
    today has its line.
    """

    days: tuple[SiteDay, ...]
    lost: int
    today_logged: bool


def answer(project: ProjectFile, today: dt.date) -> SiteLogAnswer:
    """The site log of a project file through a day."""
    return from_rows(project.tables(), today)


def from_rows(rows: Rows, today: dt.date) -> SiteLogAnswer:
    """The same from a project's rows."""
    lines = {row.date: row for row in rows.get("site_log", ()) if row.date <= today}
    delays: dict[dt.date, list[Delay]] = {}
    for delay in rows.get("delays", ()):
        if delay.first and delay.first <= today:
            delays.setdefault(delay.first, []).append(delay)
    names = {c.code: c.name or c.code for c in rows.get("contractors", ())}
    came: dict[dt.date, list[str]] = {}
    for word in rows.get("words_given", ()):
        if word.came_on and word.came_on <= today:
            said = (
                f"{names.get(word.contractor, word.contractor)} for {word.activity}:"
                f" {words.sentence(word, today)}"
            )
            came.setdefault(word.came_on, []).append(said)
    days = []
    for date in sorted({*lines, *delays, *came}, reverse=True):
        line, began = lines.get(date), tuple(delays.get(date, ()))
        days.append(
            SiteDay(
                date=date,
                logged=line is not None,
                weather=line.weather if line else "",
                crew=line.crew if line else "",
                note=line.note if line else "",
                delays=began,
                words=tuple(came.get(date, ())),
                lost=sum(delay.days for delay in began),
            )
        )
    return SiteLogAnswer(tuple(days), sum(day.lost for day in days), today in lines)
