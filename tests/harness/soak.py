"""Valid actions of chance with undo and redo; figures foot all along; undo of all gives the first
export, byte for byte.
"""

from __future__ import annotations

import datetime as dt
import random
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from time import monotonic
from typing import Any

from tests.actions.exported import exported
from tests.harness.common import TODAY, Tally, judged, main, sample
from tracker.actions.pay import PaymentEntry, pay
from tracker.actions.rows import remove, save
from tracker.actions.snapshots import take_snapshot
from tracker.answers import cost, draws, slip
from tracker.project_file.store import ProjectFile, open_file
from tracker.tables import TABLES
from tracker.values.kinds import Cents, Choice, Codes, Day, Number, Rate, Text, YesNo
from tracker.values.problems import ProblemError
from tracker.values.records import Column, columns_of, key_columns, key_text, table_of

EVERY = 300
"""Steps between two looks at the sums."""

A_DAY = 40
"""Actions of a day."""

OUTSIDE = ("path", "sha256")
"""Columns that speak of what lies outside of the file: a word of chance there is a paper that is
missing.
"""


def day_of(number: int) -> dt.date:
    """The day on which an action is done: work goes on for a year."""
    return TODAY + dt.timedelta(days=min(number // A_DAY, 365))


def valid(column: Column, rows: Any, chance: random.Random, day: dt.date) -> str:
    """A cell that its column takes by itself."""
    kind = column.kind
    if column.refers and rows.get(column.refers):
        return key_text(chance.choice(rows[column.refers])).rpartition("/")[2]
    if isinstance(kind, Choice):
        return chance.choice(kind.options)
    if isinstance(kind, YesNo):
        return chance.choice(("yes", "no"))
    if isinstance(kind, Day):
        return (day + dt.timedelta(days=chance.randint(-200, 200))).isoformat()
    if isinstance(kind, (Cents, Rate)):
        return f"{chance.randint(0, 90)}.{chance.randint(0, 99):02d}"
    if isinstance(kind, Number):
        return str(chance.randint(0, 60))
    if isinstance(kind, Codes):
        return ""
    return f"words {chance.randint(1, 999)}" if type(kind) is Text else f"w{chance.randint(1, 999)}"


def acted(project: ProjectFile, chance: random.Random, number: int, tally: Tally) -> None:
    """One action. ProblemError where the project refuses it."""
    draw, day = chance.random(), day_of(number)
    if draw < 0.2:
        project.undo()
        tally.counts["undone"] += 1
        return
    if draw < 0.25:
        project.redo()
        tally.counts["redone"] += 1
        return
    rows = project.tables()
    kind = chance.choice(TABLES)
    table = table_of(kind)
    there = rows.get(table, ())
    if draw < 0.3 and there and key_columns(kind):
        remove(project, table, key_text(chance.choice(there)), chance.random() < 0.5)
    elif draw < 0.35:
        application = key_text(chance.choice(rows["applications"]))
        amount, reason = chance.randint(1, 99_999), "agreed with the bank"
        pay(project, PaymentEntry("application", application, amount, day, reason=reason), day)
    elif draw < 0.36:
        take_snapshot(project, day, today=day)
    elif draw < 0.45:
        new, duration = f"n{number}", str(chance.randint(1, 30))
        before = key_text(chance.choice(rows["activities"]))
        save(project, "activities", new, {"duration": duration}, today=day)
        save(project, "links", f"{before}/{new}/FS", {}, today=day)
    elif there:
        columns = [one for one in columns_of(kind) if not one.key and one.name not in OUTSIDE]
        if columns:
            column = chance.choice(columns)
            cells = {column.name: valid(column, rows, chance, day)}
            save(project, table, key_text(chance.choice(there)), cells, today=day)
    tally.counts["kept"] += 1


def to_the_end(step: Callable[[], object]) -> int:
    """Undo or redo until there is nothing more; how many."""
    count = 0
    with suppress(ProblemError):
        while True:
            step()
            count += 1
    return count


def foot(project: ProjectFile, day: dt.date, tally: Tally) -> None:
    """Lines add up to their totals, applications to their lines, windows to the slip."""
    try:
        answers = (
            cost.answer(project, day),
            draws.answer(project, day),
            slip.answer(project, day),
        )
    except ProblemError:
        tally.counts["looks at a project that can't be answered"] += 1
        return
    tally.counts["looks at the sums"] += 1
    spent, asked, late = answers
    for name in (
        "budget_now_cents",
        "committed_cents",
        "paid_cents",
        "forecast_cents",
        "room_left_cents",
    ):
        total = getattr(spent.total, name)
        if total is not None and total != sum(getattr(line, name) for line in spent.lines):
            tally.breach(f"cost: {name} does not foot")
    for one in asked.applications:
        if one.lines and sum(line.due_cents for line in one.lines) != one.due_cents:
            tally.breach(f"application {one.contract}/{one.number}: its lines do not foot")
    if late.windows and sum(window.days for window in late.windows) != late.slip_days:
        tally.breach(
            f"slip: windows add up to {sum(window.days for window in late.windows)}, not"
            f" {late.slip_days}"
        )
    for window in late.windows:
        if window.progress_days + window.revision_days != window.days:
            tally.breach(f"slip: the window through {window.to} does not foot")


def runs(folder: Path, chance: random.Random, times: int, until: float, tally: Tally) -> None:
    """So many actions, or as many as the time holds; then all of it back and again."""
    path = sample(folder)
    with open_file(path) as project:
        first, done = exported(project, folder / "first"), 0
        for number in range(times):
            if monotonic() > until:
                break
            done = number
            try:
                acted(project, chance, number, tally)
            except ProblemError:
                tally.counts["refused"] += 1
            except Exception as error:
                tally.breach(f"action {number}: {type(error).__name__}: {str(error)[:200]}")
            if number % EVERY == EVERY - 1:
                foot(project, day_of(number), tally)
        foot(project, day_of(done), tally)
        tally.counts["steps taken back at the end"] = to_the_end(project.undo)
        if exported(project, folder / "last") != first:
            tally.breach("after undo of all the export is not the first one")
        to_the_end(project.redo)
    judged(path, tally, day_of(done))


if __name__ == "__main__":
    main("soak", runs, 1_000_000)
