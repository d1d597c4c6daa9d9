"""How long the post-mortem of a long history takes: 60 snapshots of 500 activities, read and
measured.

    python tests/benchmarks/slip.py

Prints seconds and ratios: of all windows to the plans alone (each snapshot read and computed once,
which nobody can do without), of an analysis that computes the whole plan anew at each step
(estimated from one window), and of asking again.
"""

from __future__ import annotations

import datetime as dt
import random
import time
from dataclasses import replace
from typing import Any

from tracker.answers import slip, slip_reading
from tracker.project_file.snapshots import content_hash
from tracker.project_folder.snapshot_text import rows_of, texts_of
from tracker.schedule.path.plan import compute
from tracker.schedule.records import Activity, Calendar, CalendarDay, Delay, Link, Snapshot
from tracker.schedule.slip.progress import in_turn
from tracker.schedule.slip.revisions import half_rows
from tracker.schedule.slip.windows import taken
from tracker.values.project import Project

START = dt.date(2026, 1, 5)
WEEK = dt.timedelta(days=7)
WORKDAYS = ("mon", "tue", "wed", "thu", "fri")


def history(
    size: int = 500, snapshots: int = 60, seed: int = 1
) -> list[tuple[dt.date, dict[str, Any]]]:
    """Weekly snapshots of a plan whose work takes longer than planned, with a few revisions each
    week.
    """
    rng = random.Random(seed)
    calendars = (
        Calendar(code="FIVE", weekdays=WORKDAYS),
        Calendar(code="SIX", weekdays=(*WORKDAYS, "sat")),
        Calendar(
            code="BODY",
            recurrence="FREQ=MONTHLY;BYDAY=2TU",
            recurrence_from=START,
            cutoff_days=21,
            cutoff_calendar="FIVE",
        ),
    )
    days = tuple(
        CalendarDay(calendar="FIVE", date=START + 30 * n * dt.timedelta(days=1), works=False)
        for n in range(40)
    )
    plan = [
        Activity(
            code=f"A{n:03}",
            kind="gate" if n % 25 == 24 else "work",
            duration=1 if n % 25 == 24 else rng.randint(2, 15),
            calendar="BODY" if n % 50 == 49 else rng.choice(("FIVE", "SIX")),
        )
        for n in range(size)
    ]
    links = {}
    for n in range(1, size):
        for p in {rng.randrange(max(0, n - 30), n) for _ in range(3)}:
            cut = plan[n].calendar == "BODY"
            links[p, n] = Link(
                from_=f"A{p:03}", to=f"A{n:03}", type="FS", lag_unit="cutoff" if cut else ""
            )
    found = []
    date = START
    for _ in range(snapshots):
        rows = {
            "project": (Project(start=START, status_date=date, opening=plan[-1].code),),
            "calendars": calendars,
            "calendar_days": days,
            "activities": tuple(plan),
            "links": tuple(links.values()),
        }
        found.append((date, rows))
        plan = worked(rng, rows, date, date + WEEK)
        for n in rng.sample(range(size), 4):
            if plan[n].actual_start is None and plan[n].kind == "work":
                plan[n] = replace(plan[n], duration=plan[n].duration + rng.choice((-1, 1, 2)) or 1)
        date += WEEK
    return found


def worked(rng: random.Random, rows: dict[str, Any], date: dt.date, to: dt.date) -> list[Activity]:
    """The activities a week later: what the plan had in that week begins and ends, some of
    it late.
    """
    dates = compute(rows).dates
    plan = []
    for a, d in zip(rows["activities"], dates, strict=True):
        if a.actual_finish is None and d.early_start <= to:
            start = a.actual_start or d.early_start
            if d.early_finish <= to and rng.random() < 0.8:
                a = replace(
                    a, actual_start=start, actual_finish=max(start, d.early_finish), remaining=None
                )
            elif not d.meets and rng.random() < 0.85:
                left = max(1, d.remaining - 5 + rng.randint(0, 3))
                a = replace(a, actual_start=start, remaining=left)
        plan.append(a)
    return plan


def main() -> None:
    """Measure and print."""
    made = history()
    begun = sum(1 for a in made[-1][1]["activities"] if a.actual_start)
    texts = {date: texts_of(rows) for date, rows in made}
    heads = tuple(
        Snapshot(date=d, hash=content_hash(texts[d]), cost_of_a_day=60_000) for d, _ in made
    )
    delays = tuple(
        Delay(
            code=f"D{n}",
            activity=f"A{n * 5 % 500:03}",
            first=made[n % 60][0],
            days=3,
            cause="weather",
            party="nobody",
        )
        for n in range(100)
    )
    rows = {**made[-1][1], "snapshots": heads, "delays": delays}

    def timed(work: Any) -> tuple[float, Any]:
        began = time.perf_counter()
        result = work()
        return time.perf_counter() - began, result

    alone, _ = timed(lambda: [compute(rows_of(texts[date])) for date, _ in made])
    slip_reading.forget()
    first, answer = timed(lambda: slip.from_rows(rows, made[-1][0], texts))
    again, _ = timed(lambda: slip.from_rows(rows, made[-1][0], texts))
    old, new = (taken(rows_of(texts[date]), date) for date, _ in made[29:31])
    one, _ = timed(lambda: compute(half_rows(old.rows, new.by_code(), new.date)))
    steps = len(in_turn(old.plan, new.by_code(), new.date.toordinal()))
    whole = one * steps * (len(made) - 1)
    slip_reading.forget()
    slip.from_rows({**rows, "snapshots": heads[:-1]}, made[-1][0], texts)
    newest, _ = timed(lambda: slip.from_rows(rows, made[-1][0], texts))
    moved = sum(len(w.activities) for w in answer.windows)
    revised = sum(len(w.revisions) + w.revisions_without_effect for w in answer.windows)
    print(
        f"{len(made)} snapshots of {len(rows['activities'])} activities, {begun} begun; slip"
        f" {answer.slip_days} days"
    )
    print(
        f"{moved} activities late or moving the opening, {revised} revisions, {len(answer.windows)}"
        " windows"
    )
    print(f"plans alone, each read and computed once   {alone:6.2f} s")
    print(
        f"the whole post-mortem                      {first:6.2f} s   {first / alone:5.1f} x the"
        " plans alone"
    )
    print(
        f"every step by a whole plan (estimated)     {whole:6.1f} s   {whole / first:5.1f} x the"
        " post-mortem"
    )
    print(f"after one more snapshot                    {newest:6.2f} s   {newest / first:5.2f} x")
    print(f"asked again                                {again:6.3f} s   {again / first:5.3f} x")


if __name__ == "__main__":
    main()
