"""What follows from a vote: the day on which a change holds, the end of appeal, and the bar on
filing again.
"""

from __future__ import annotations

import calendar
import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from tracker.approvals.questions import given
from tracker.approvals.records import Answer


@dataclass(frozen=True, slots=True)
class AfterAdoption:
    """Dates after the vote that adopts the change. permit_not_before: the day after all of them
    have run.

    published: the day from which they are counted, where that is not the vote. estimate: names of
    the figures that nobody has checked for this jurisdiction, from memory, or by an old text of the
    law.
    """

    adopted: dt.date
    published: dt.date | None
    effective: dt.date
    appeal_ends: dt.date
    referendum_ends: dt.date | None
    permit_not_before: dt.date
    estimate: tuple[str, ...]


def after_adoption(adopted: dt.date, answers: Iterable[Answer]) -> AfterAdoption:
    """The dates that follow from the adopting vote, or from its publication, by the jurisdiction's
    figures.

    A permit taken before the appeal and referendum periods have run rests on a vote that may still
    fall.
    """
    known = tuple(answers)
    figures = {
        code: given(known, code, adopted)
        for code in ("effective_days", "appeal_days", "referendum_days")
    }
    published = None
    if given(known, "windows_from").value == "publication":
        wait = given(known, "publication_days", adopted)
        published = adopted + dt.timedelta(days=wait.value)
        figures["publication_days"] = wait
    counted = published or adopted
    effective, appeal, referendum = (
        counted + dt.timedelta(days=figures[code].value)
        for code in ("effective_days", "appeal_days", "referendum_days")
    )
    asked = referendum if figures["referendum_days"].value else None
    return AfterAdoption(
        adopted=adopted,
        published=published,
        effective=effective,
        appeal_ends=appeal,
        referendum_ends=asked,
        permit_not_before=max(
            effective,
            appeal + dt.timedelta(days=1),
            *([asked + dt.timedelta(days=1)] if asked else []),
        ),
        estimate=tuple(
            code
            for code, figure in figures.items()
            if not figure.sure or (figure.text_as_of and figure.text_old)
        ),
    )


def may_file_again(denied_on: dt.date, answers: Iterable[Answer]) -> dt.date:
    """The first day on which the same change may be filed again after a refusal."""
    return add_months(denied_on, given(answers, "refile_months").value)


def protest_until(hearing: dt.date, answers: Iterable[Answer]) -> dt.date:
    """The last day on which a protest may be filed."""
    return hearing + dt.timedelta(days=given(answers, "protest_deadline_days").value)


def add_months(day: dt.date, months: int) -> dt.date:
    """The same day of the month so many months later; the month's last day where that month is
    shorter.
    """
    number = day.year * 12 + day.month - 1 + months
    year, month = number // 12, number % 12 + 1
    return dt.date(year, month, min(day.day, calendar.monthrange(year, month)[1]))
