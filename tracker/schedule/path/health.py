"""The health check of a schedule: the thresholds of the public 14-point assessment, each with its
formula.

Source: US DCMA 14-point assessment (DCMA-EA PAM 200.1, October 2012), thresholds by secondary
texts; missing logic by the US GAO's page on it; CPLI by DAU. Unfinished activities only, unless
said otherwise; milestones count as activities. Indexes are given in thousandths (950 = 0.95).
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from tracker.schedule.path.plan import Dates, Plan, compute
from tracker.schedule.progress import DONE
from tracker.schedule.records import Activity, Link
from tracker.values.money import divide
from tracker.values.problems import ProblemError
from tracker.values.records import Rows

HIGH_DAYS = 44
"""Working days above which float, and duration, count as high."""
TEST_DAYS = 600
"""Working days added to the first remaining driving activity in the critical-path test."""


@dataclass(frozen=True, slots=True)
class Check:
    """One check. count of `of`: how many offend among how many; limit: in words; passes: None where
    there is nothing to check.

    codes: the offenders (a link as FROM/TO). note: which reading is used, or why it does not apply.
    """

    name: str
    count: int
    of: int
    limit: str
    passes: bool | None
    codes: tuple[str, ...]
    note: str = ""


def share_check(name: str, codes: Sequence[str], of: int, percent: int, note: str = "") -> Check:
    """A check that allows so many percent offenders."""
    return judged(
        name,
        codes,
        of,
        f"at most {percent} %" if percent else "none",
        len(codes) * 100 <= percent * of,
        note,
    )


NOTHING = "nothing to check"
"""The note of a check that neither passes nor fails: there is none of what it counts."""


def judged(
    name: str, codes: Sequence[str], of: int, limit: str, passes: bool, note: str = ""
) -> Check:
    """A check of so many; of none it neither passes nor fails."""
    if not of and not codes:
        return Check(
            name, 0, 0, limit, None, (), "; ".join(part for part in (NOTHING, note) if part)
        )
    return Check(name, len(codes), of, limit, passes, tuple(codes), note)


def health(
    rows: Rows,
    plan: Plan,
    baseline: Mapping[str, dt.date] | None = None,
    promised: dt.date | None = None,
    today: dt.date | None = None,
) -> list[Check]:
    """All fourteen checks. baseline: planned finish by code, of the snapshot marked so; None where
    there is none.

    today: actual dates after it are invalid, too; None: only those after the status date.
    """
    activities, links = rows.get("activities", ()), rows.get("links", ())
    left = [(a, d) for a, d in zip(activities, plan.dates, strict=True) if d.state != "done"]
    return [
        missing_logic(left, links, plan),
        share_check(
            "leads",
            [name(k) for k in links if (k.lag or 0) < 0],
            len(links),
            0,
            "links with a negative lag",
        ),
        share_check(
            "lags",
            [name(k) for k in links if (k.lag or 0) > 0],
            len(links),
            5,
            "links with a positive lag",
        ),
        link_types(links),
        share_check(
            "hard constraints",
            [a.code for a, _ in left if a.finish_by],
            len(left),
            5,
            "a date to finish by",
        ),
        share_check(
            "high float",
            [d.code for _, d in left if d.total_float is not None and d.total_float > HIGH_DAYS],
            len(left),
            5,
            f"total float above {HIGH_DAYS} working days",
        ),
        share_check(
            "negative float",
            [d.code for _, d in left if d.total_float is not None and d.total_float < 0],
            len(left),
            0,
        ),
        share_check(
            "high duration",
            [d.code for _, d in left if d.remaining > HIGH_DAYS],
            len(left),
            5,
            f"more than {HIGH_DAYS} working days to go",
        ),
        invalid_dates(activities, plan, today),
        Check(
            "resources",
            0,
            0,
            "all",
            None,
            (),
            "not applicable: trades are hired by contract, not loaded by the hour",
        ),
        missed_activities(plan, baseline),
        critical_path_test(rows, plan),
        path_length_index(plan, promised),
        execution_index(plan, baseline),
    ]


def name(link: Link) -> str:
    """A link as people read it."""
    return f"{link.from_}/{link.to}"


def missing_logic(left: list[tuple[Activity, Dates]], links: Sequence[Link], plan: Plan) -> Check:
    """Unfinished activities without predecessor or successor; the first and the opening may lack
    one each.
    """
    have_before, have_after = {k.to for k in links}, {k.from_ for k in links}
    opening = plan.run.gathered.opening if plan.run else -1
    last = plan.dates[opening].code if opening >= 0 else ""
    codes = [
        d.code
        for _, d in left
        if d.code not in have_before or (d.code not in have_after and d.code != last)
    ]
    return share_check(
        "missing logic",
        codes,
        len(left),
        5,
        "no predecessor, or no successor (the opening needs none)",
    )


def link_types(links: Sequence[Link]) -> Check:
    """At least nine of ten links are finish-to-start."""
    others = [name(k) for k in links if k.type != "FS"]
    return judged(
        "link types",
        others,
        len(links),
        "at most 10 % other than FS",
        len(others) * 10 <= len(links),
    )


def invalid_dates(
    activities: Sequence[Activity], plan: Plan, today: dt.date | None = None
) -> Check:
    """Forecast dates on or before the status date, and actual dates after the entered status date
    or after today.
    """
    status = plan.status_date
    entered = plan.run.gathered.entered_status_date if plan.run else None
    known_through = min((day for day in (entered, today) if day is not None), default=None)
    codes = []
    for a, d in zip(activities, plan.dates, strict=True):
        actual = [day for day in (a.actual_start, a.actual_finish) if day is not None]
        late = known_through is not None and any(day > known_through for day in actual)
        early = (
            status is not None and d.state != "done" and d.duration > 0 and d.early_finish <= status
        )
        if late or early:
            codes.append(a.code)
    return share_check("invalid dates", codes, len(activities), 0)


def missed_activities(plan: Plan, baseline: Mapping[str, dt.date] | None) -> Check:
    """Activities that the baseline has finished by the status date, and that are finished, or
    forecast, later than that.
    """
    if baseline is None or plan.status_date is None:
        return Check(
            "missed activities", 0, 0, "at most 5 %", None, (), "needs a baseline and a status date"
        )
    due = [d for d in plan.dates if d.code in baseline and baseline[d.code] <= plan.status_date]
    return share_check(
        "missed activities", [d.code for d in due if d.early_finish > baseline[d.code]], len(due), 5
    )


def critical_path_test(rows: Rows, plan: Plan) -> Check:
    """Add 600 working days to the first remaining driving activity: the opening must move by as
    much work.
    """
    limit = f"the opening moves with {TEST_DAYS} days more"
    first = next((c for c in plan.longest_path if is_testable(plan, c)), None)
    if first is None or plan.opening is None:
        return Check(
            "critical-path test", 0, 0, limit, None, (), "nothing is left on the longest path"
        )
    activities = tuple(longer(a, plan) if a.code == first else a for a in rows["activities"])
    try:
        then = compute({**rows, "activities": activities})
    except ProblemError:
        return Check(
            "critical-path test", 0, 0, limit, None, (first,), "the days added go beyond 2199"
        )
    before, after = plan.by_code()[first], then.by_code()[first]
    moved = (then.opening - plan.opening).days if then.opening else 0
    passes = moved >= (after.early_finish - before.early_finish).days - slack(plan)
    return Check(
        "critical-path test",
        0 if passes else 1,
        1,
        limit,
        passes,
        (first,),
        f"the opening moved {moved} days",
    )


def is_testable(plan: Plan, code: str) -> bool:
    """Whether an activity is left, takes time, and follows no body's meetings."""
    d = plan.by_code()[code]
    return d.state != "done" and d.duration > 0 and not d.meets


def longer(a: Activity, plan: Plan) -> Activity:
    """The activity with 600 working days more to go; a duration beyond the usual bound is meant
    here.
    """
    if a.actual_start is not None:
        return replace(a, remaining=plan.by_code()[a.code].remaining + TEST_DAYS)
    return replace(a, duration=plan.by_code()[a.code].duration + TEST_DAYS)


def slack(plan: Plan) -> int:
    """Days by which waiting for a meeting or a Monday may swallow part of a move: the longest wait
    on the path.
    """
    r = plan.run
    if r is None:
        return 0
    by_code = {d.code: i for i, d in enumerate(plan.dates)}
    waits = [0]
    for code in plan.longest_path:
        i = by_code[code]
        if r.times.mode[i] != DONE:
            waits += [r.times.begin[i] - r.times.finish[by_code[p]] for p in plan.dates[i].drivers]
    return sum(max(0, w) for w in waits)


def path_length_index(plan: Plan, promised: dt.date | None) -> Check:
    """CPLI = (CPL + TF) / CPL in thousandths: CPL, working days from the status date to the
    forecast opening; TF, working days from there to the promised one, negative when late. At least
    0.95.
    """
    r = plan.run
    status = plan.status_date or plan.project_start - dt.timedelta(days=1)
    if r is None or plan.opening is None or promised is None:
        return Check(
            "CPLI", 0, 0, "at least 0.950", None, (), "needs a forecast and a promised opening"
        )
    length, total = (
        working_days(plan, status, plan.opening),
        working_days(plan, plan.opening, promised),
    )
    if length <= 0:
        return Check("CPLI", 0, 0, "at least 0.950", None, (), "none: the opening is reached")
    return index_check(
        "CPLI", length + total, length, f"({length} + {total}) / {length} working days"
    )


def index_check(label: str, numerator: int, denominator: int, note: str) -> Check:
    """An index that must be at least 0.95, judged exactly and shown in thousandths."""
    shown = divide(1000 * numerator, denominator)
    passes = numerator * 100 >= 95 * denominator
    sign = "-" if shown < 0 else ""
    text = f"{sign}{abs(shown) // 1000}.{abs(shown) % 1000:03d} = {note}"
    return Check(label, numerator, denominator, "at least 0.950", passes, (), text)


def working_days(plan: Plan, after: dt.date, through: dt.date) -> int:
    """Working days of the project's first calendar after one day and through another; negative
    backwards.
    """
    from tracker.schedule.calendars import expand

    assert plan.run is not None
    low, high = sorted((after, through))
    calendars = plan.run.gathered.calendars
    days = expand(calendars, calendars.first, low.toordinal() + 1, high.toordinal() + 2).before[
        (high - low).days
    ]
    return days if through >= after else -days


def execution_index(plan: Plan, baseline: Mapping[str, dt.date] | None) -> Check:
    """BEI = activities finished / (baselined to finish by the status date + without a baseline
    finish). At least 0.95.
    """
    if baseline is None or plan.status_date is None:
        return Check("BEI", 0, 0, "at least 0.950", None, (), "needs a baseline and a status date")
    tasks = [d for d in plan.dates if d.duration > 0]
    done = sum(d.state == "done" for d in tasks)
    due = sum(d.code not in baseline or baseline[d.code] <= plan.status_date for d in tasks)
    reading = "reading: finished / (due by the baseline + without a baseline); milestones left out"
    if not due:
        return Check("BEI", done, 0, "at least 0.950", None, (), f"nothing is due yet; {reading}")
    return index_check("BEI", done, due, f"{done} / {due}; {reading}")
