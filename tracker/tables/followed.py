"""What follows from a change of rows, whichever way they came in: a form, `set`, a what-if, an
entry or a project folder.

One list, in one order. Each consequence looks at what differs between the rows before and after;
what was entered of both sides of a consequence stands as it was entered.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from typing import Any

from tracker.tables.consequences import cash_dated, status_moved, sums_follow, words_kept
from tracker.tables.facts import refused_facts
from tracker.tables.heard import filings_told, outcomes_followed
from tracker.tables.holiday_days import with_holidays
from tracker.tables.inspected import results_followed
from tracker.tables.lawful import is_record, longer_stand, too_soon_told
from tracker.values.frozen import value
from tracker.values.problems import ProblemError
from tracker.values.records import Rows


@value
class Brought:
    """What a project folder says of its rows. given: the rows that it holds; kept: by calendar the
    holiday sets whose days are among them; replaced: they take the place of all days of calendars.
    """

    given: Rows
    kept: Mapping[str, str]
    replaced: bool = False


def followed(
    before: Rows,
    after: Rows,
    today: dt.date | None = None,
    brought: Brought | None = None,
    entered: Iterable[str] = (),
) -> tuple[dict[str, Any], tuple[str, ...]]:
    """The rows after a change with all that follows from it, and a note on each.

    Chosen holiday sets become days; the sum of a contract that is not signed follows its lines;
    what a body or an inspector said moves its gate; the status date moves to the latest actual
    date; cash on hand gets its day; work that begins or ends answers the words given for it; a
    filing after its cut-off is told; of a state's record and a town's answers the longer days
    stand, and a plan that is too soon for them is told.

    today: a date after it that stands for what has happened is refused with a ProblemError, unless
    a folder brings it: then it is told of, and moves no status date; None: it is not asked.
    entered: "hearings" where the entry itself made and told what follows from an outcome.
    ProblemError also for a holiday set that is not known.
    """
    ahead = refused_facts(before, after, today) if today is not None else []
    if ahead and brought is None:
        raise ProblemError(ahead)
    folder = brought or Brought({}, {})
    made, notes = with_holidays(before, after, folder.given, folder.kept, folder.replaced)
    if is_record(folder.given):
        made, told = longer_stand(before, made)
        notes += told
    made, told = sums_follow(before, made)
    notes += told
    if "hearings" not in entered:
        made, told = outcomes_followed(before, made)
        notes += told
    made, told = results_followed(before, made)
    notes += told
    if _happened(made) - _happened(before) or _status_dates(made) != _status_dates(before):
        made, moved = status_moved(made, today)
        notes += [moved] if moved else []
    made, told = cash_dated(before, made, today)
    notes += told
    made, told = words_kept(before, made)
    notes += told
    if "hearings" not in entered:
        notes += filings_told(before, made)
    notes += too_soon_told(before, made)
    return made, (*notes, *(problem.sentence() for problem in ahead))


def _happened(rows: Rows) -> set[tuple[str, dt.date | None, dt.date | None]]:
    """The actual dates of each activity that has one."""
    return {
        (a.code, a.actual_start, a.actual_finish)
        for a in rows.get("activities", ())
        if a.actual_start or a.actual_finish
    }


def _status_dates(rows: Rows) -> list[dt.date | None]:
    """The status date, or none where there is no project yet."""
    return [project.status_date for project in rows.get("project", ())]
