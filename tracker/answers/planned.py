"""What the baseline planned: contract lines and working days of activities, read from the snapshot
that is marked baseline.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from tracker.answers.baseline import baseline_rows, rows_of_texts
from tracker.answers.known_plan import plan_of
from tracker.money.planned_value import PlannedWork, budgeted_cost_scheduled
from tracker.money.schedule_of_values import ValueLine, schedules_of_values
from tracker.project_file.store import ProjectFile
from tracker.schedule.calendars import WorkDays
from tracker.values.records import Rows


@dataclass(frozen=True, slots=True)
class Planned:
    """A baseline's contract lines by contract and its planned work by activity."""

    lines: Mapping[str, tuple[ValueLine, ...]]
    work: Mapping[str, PlannedWork]

    def by(self, day: dt.date, contracts: Iterable[str] | None = None) -> int:
        """BCWS by the end of a day, in cents; over some contracts, or over all."""
        return budgeted_cost_scheduled(self.lines, self.work, day, contracts)

    def first_day(self) -> dt.date | None:
        """The first day on which a contract line is planned to be worked on; None without
        activities.
        """
        return min((work.days[0] for work in self._used()), default=None)

    def last_day(self) -> dt.date | None:
        """The last day on which a contract line is planned to be worked on; None without
        activities.
        """
        return max((work.days[-1] for work in self._used()), default=None)

    def _used(self) -> list[PlannedWork]:
        """The work of the activities that contract lines name."""
        used = {code for lines in self.lines.values() for line in lines for code in line.activities}
        return [work for code, work in self.work.items() if code in used and work.days]


def planned(project: ProjectFile, today: dt.date) -> Planned | None:
    """The plan of the latest baseline of those closed by today; None without one."""
    rows = baseline_rows(project, today)
    return planned_from(rows, today) if rows is not None else None


def planned_in(
    rows: Rows, snapshots: Mapping[dt.date, Mapping[str, str]], today: dt.date
) -> Planned | None:
    """The same from a project's rows and the texts of its snapshots by date."""
    closed = [
        head.date
        for head in rows.get("snapshots", ())
        if head.baseline and head.date <= today and head.date in snapshots
    ]
    return planned_from(rows_of_texts(dict(snapshots[max(closed)])), today) if closed else None


def planned_from(rows: Rows, today: dt.date) -> Planned:
    """The plan in a baseline's rows: its contract lines, with the changes that were approved then,
    and its working days.
    """
    return Planned(lines=schedules_of_values(rows, today), work=planned_work(rows))


def planned_work(rows: Rows) -> dict[str, PlannedWork]:
    """By activity its duration and the working days between its planned start and finish, both
    included.
    """
    plan = plan_of(rows)
    if plan.run is None:
        return {}
    found = {}
    for place, one in enumerate(plan.dates):
        days = working_days(
            plan.run.times.works[place], plan.run.low, one.early_start, one.early_finish
        )
        found[one.code] = PlannedWork(one.duration, days or (one.early_finish,))
    return found


def working_days(works: WorkDays, low: int, first: dt.date, last: dt.date) -> tuple[dt.date, ...]:
    """The working days of an expanded calendar from one day to another; low: ordinal of the
    calendar's first day.
    """
    return tuple(
        dt.date.fromordinal(low + works.days[k])
        for k in works.between(first.toordinal() - low, last.toordinal() - low)
    )
