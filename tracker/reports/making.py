"""What every document has in common: the project's name, its dates, the cautions at its foot."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from typing import Any

from tracker.approvals.cautions import ALWAYS
from tracker.reports.document import Cell, Document, Event, Part
from tracker.values.money import cost_of_days
from tracker.values.project import Project
from tracker.values.records import Rows, new


def document_of(
    title: str,
    rows: Rows,
    today: dt.date,
    parts: Sequence[Part],
    cautions: Sequence[str],
    main: str,
    events: Iterable[Event] = (),
) -> Document:
    """A document of a project as of a day."""
    project = next(iter(rows.get("project", ())), None) or new(Project)
    return Document(
        title=title,
        project=project.name,
        address=project.address,
        status_date=project.status_date,
        as_of=today,
        currency=project.currency,
        parts=tuple(parts),
        cautions=(*dict.fromkeys(cautions), ALWAYS),
        main=main,
        events=tuple(events),
    )


def missing_costs(meeting: Any, known: bool) -> Cell:
    """What missing a meeting costs, in cents; in words where no cost of a day is known.

    None where nobody meets there.

    meeting: a gate, or a meeting that the plan reaches.
    """
    cents, lost = meeting.cost_if_missed_cents, meeting.opening_days_lost
    return cents if known or cents is None or not lost else cost_of_days(cents, lost, known)


def cautions_of(view: str, rows: Rows) -> list[str]:
    """The cautions of a view or print, placed beside the work that is still to be done."""
    from tracker.answers import work_ahead

    return [one.text for one in work_ahead.cautions_of(view, rows)]


def names_of(rows: Rows, table: str) -> dict[str, str]:
    """By code, the name of each row of a table; the code where it has none."""
    return {row.code: row.name or row.code for row in rows.get(table, ())}
