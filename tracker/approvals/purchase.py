"""Before the purchase: the dates that stop it or cost, beside the hearing."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, replace

from tracker.approvals.questions import given
from tracker.approvals.records import Answer

LABELS = {
    "due_diligence_ends": "last day to leave the purchase contract",
    "deposit_at_risk_from": "earnest money is at risk from",
    "closing_day": "the purchase closes",
}

SOON_DAYS = 14


@dataclass(frozen=True, slots=True)
class PurchaseDay:
    """One date of the purchase contract. before_hearing: it comes before the deciding body's next
    hearing.

    mark: "=" once the purchase has closed; "!" it is over, or comes before the hearing; "~" within
    two weeks.
    """

    question: str
    label: str
    day: dt.date
    days_left: int
    before_hearing: bool
    mark: str
    text: str


def purchase_days(
    answers: Iterable[Answer], hearing: dt.date | None, today: dt.date
) -> tuple[PurchaseDay, ...]:
    """The dates that are on record, in order. hearing: of the body that decides."""
    known = tuple(answers)
    closing = given(known, "closing_day").value
    closed = isinstance(closing, dt.date) and closing < today
    way_out = given(known, "way_out_if_continued").value
    found = []
    for question, label in LABELS.items():
        day = given(known, question).value
        if isinstance(day, dt.date):
            found.append(_day(question, label, day, None if closed else hearing, way_out, today))
    if closed:
        found = [replace(one, mark="=") for one in found]
    return tuple(sorted(found, key=lambda d: d.day))


def _day(
    question: str,
    label: str,
    day: dt.date,
    hearing: dt.date | None,
    way_out: bool | None,
    today: dt.date,
) -> PurchaseDay:
    """One date beside the hearing."""
    left = (day - today).days
    early = hearing is not None and left >= 0 and day < hearing
    text = f"{label}: {day.isoformat()}" + (" (over)" if left < 0 else f" ({left} days left)")
    if early and hearing is not None:
        text += f", {(hearing - day).days} days before the hearing on {hearing.isoformat()}"
        if way_out is not True:
            text += "; no right on record to leave if the hearing is continued: ask the attorney"
    mark = "!" if left < 0 or early else "~" if left <= SOON_DAYS else " "
    return PurchaseDay(question, label, day, left, early, mark, text)
