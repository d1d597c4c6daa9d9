"""How fast the trials are, and what memory they take, as ratios in one run.

    python tests/benchmarks/risk_trials.py

10,000 trials of 500 activities with 900 links, on two working calendars and a meeting calendar with
filing cut-offs: drawing, forward pass, and the walk back along what drives each trial, against the
time that numpy needs to draw as many triangular (Generator.triangular), PERT-beta (Generator.beta)
and plain random numbers (Generator.random). The best of nine runs of each, taken in turn. Memory:
the largest resident size of a process that runs the trials, less that of it before them.
"""

from __future__ import annotations

import datetime as dt
import random
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[2]))

from tracker.schedule.path.plan import Plan, compute
from tracker.schedule.records import Activity, Calendar, Link
from tracker.schedule.risk.input import RiskInput, risk_input
from tracker.values.project import Project

ACTIVITIES, LINKS, TRIALS, ROUNDS = 500, 900, 10_000, 9
FIVE = Calendar(code="FIVE", weekdays=("mon", "tue", "wed", "thu", "fri"))
SIX = Calendar(code="SIX", weekdays=("mon", "tue", "wed", "thu", "fri", "sat"))
BODY = Calendar(
    code="BODY",
    recurrence="FREQ=MONTHLY;BYDAY=2TU",
    recurrence_from=dt.date(2026, 1, 1),
    cutoff_days=14,
    cutoff_calendar="FIVE",
    continued_share=10_000,
)


def network(shape: str, common_cause: int) -> tuple[Plan, RiskInput]:
    """A network of which every activity is uncertain but for a hearing in every fifty."""
    rng = random.Random(3)
    activities = []
    for i in range(ACTIVITIES):
        if i % 50 == 49:
            activities.append(Activity(code=f"A{i}", kind="gate", calendar="BODY", duration=1))
            continue
        days = rng.randint(2, 12)
        activities.append(
            Activity(
                code=f"A{i}",
                calendar=rng.choice(["FIVE", "FIVE", "SIX"]),
                trade=f"trade {rng.randint(0, 19)}",
                duration=days,
                optimistic=max(1, days - rng.randint(1, 3)),
                pessimistic=days + rng.randint(1, 8),
            )
        )
    pairs: dict[tuple[int, int], None] = {}
    while len(pairs) < LINKS:
        j = rng.randrange(1, ACTIVITIES)
        i = max(0, j - 1 - int(rng.expovariate(1 / 12)))
        if i < j:
            pairs[i, j] = None
    links = [
        Link(from_=f"A{i}", to=f"A{j}", lag_unit="cutoff" if j % 50 == 49 else "") for i, j in pairs
    ]
    project = Project(
        start=dt.date(2026, 1, 5), risk_shape=shape, risk_trials=TRIALS, common_cause=common_cause
    )
    rows = {
        "project": [project],
        "calendars": [FIVE, SIX, BODY],
        "activities": activities,
        "links": links,
    }
    plan = compute(rows)
    assert plan.run is not None
    return plan, risk_input(rows, plan.run)


def timed(work: Callable[[], Any]) -> float:
    """Seconds of one run."""
    begin = time.perf_counter()
    work()
    return time.perf_counter() - begin


def speed() -> None:
    """Print the times and their ratios."""
    import numpy as np

    from tracker.schedule.risk.trials import run_trials

    rng = np.random.default_rng(1)
    size = (ACTIVITIES, TRIALS)
    against: dict[str, Callable[[], Any]] = {
        "triangular": lambda: rng.triangular(1, 3, 8, size),
        "beta": lambda: rng.beta(2, 4, size),
        "random": lambda: rng.random(size),
    }
    ours: dict[str, Callable[[], Any]] = {}
    for shape in ("triangular", "pert"):
        for common in (0, 300):
            plan, given = network(shape, common)
            ours[f"{shape}, common cause {common / 1000}"] = lambda plan=plan, given=given: (
                run_trials(given, plan.run)
            )
    best = dict.fromkeys([*against, *ours], 1e9)
    for _ in range(ROUNDS):
        for name, work in {**against, **ours}.items():
            best[name] = min(best[name], timed(work))
    for name in against:
        print(f"numpy draws {name:12s}{best[name] * 1e3:8.1f} ms")
    for name in ours:
        ratios = ", ".join(f"{best[name] / best[other]:.2f}x {other}" for other in against)
        print(f"trials, {name:30s}{best[name] * 1e3:8.1f} ms   {ratios}")


def largest() -> int:
    """The largest resident size of this process so far, in kilobytes (Linux)."""
    told = Path("/proc/self/status").read_text().splitlines()
    return int(next(line.split()[1] for line in told if line.startswith("VmHWM")))


def memory() -> None:
    """Print, as a process of its own, what the trials add to the largest resident size
    (megabytes).
    """
    import numpy as np

    from tracker.schedule.risk.outcome import outcome

    plan, given = network("pert", 300)
    assert plan.run is not None
    np.random.default_rng(1).random(10)
    before = largest()
    outcome(given, plan.run)
    print(
        f"memory: {(largest() - before) / 1024:.0f} MB more, with the tries of what drives the"
        " spread"
    )


if __name__ == "__main__":
    if sys.argv[1:] == ["memory"]:
        memory()
    else:
        speed()
        subprocess.run([sys.executable, __file__, "memory"], check=True)
