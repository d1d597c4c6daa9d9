"""What a failed inspection puts into the schedule: the correction, the re-inspection after it, and
who waits for that.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
import re
from collections.abc import Iterable, Iterator, Sequence

from tracker.schedule.path.plan import Plan
from tracker.schedule.progress import DONE, mode_of
from tracker.schedule.records import Activity, Link
from tracker.values.frozen import value
from tracker.values.records import Rows, key_of, new

SAYS_NOTHING = (
    "final",
    "inspection",
    "inspections",
    "special",
    "building",
    "test",
    "tests",
    "with",
    "under",
    "before",
    "work",
)
"""Words of an inspection's name that say nothing of the work that it looks at."""


@value
class Placed:
    """The correction and the re-inspection gate, and the links that are new with them."""

    correction: Activity
    gate: Activity
    links: tuple[Link, ...]


def work_inspected(
    rows: Rows, gate: Activity, permit: str, called: str = ""
) -> tuple[Activity, ...]:
    """The work that an inspection looks at, nearest first: what comes before its gate, up to the
    gates before that.

    called: the inspection's name; work anywhere before the gate that is called alike is what it
    looks at ("Frame, fire blocking": framing, though the rough inspections lie between). Else, of
    several, the nearest under the inspection's permit; where none is, those nearest the gate. An
    inspection that stands at the work itself looks at that work.
    """
    if is_work(gate):
        return (gate,)
    if alike := called_alike(rows, gate, called):
        return alike
    levels = list(work_before(rows, gate.code))
    own = [[work for work in level if permit and work.permit == permit] for level in levels]
    return tuple(next((level for level in (*own, *levels) if level), ()))


def called_alike(rows: Rows, gate: Activity, called: str) -> tuple[Activity, ...]:
    """The nearest work before a gate, gates between or not, that shares the first word of an
    inspection's name.

    Of several, those that share most of its words. Words are alike whose first four letters are the
    same (frame, framing); words that say nothing of the work do not count.
    """
    words = starts_of(called)
    for level in work_before(rows, gate.code, through_gates=True) if words else ():
        starts = {work.code: set(starts_of(f"{work.code} {work.name}")) for work in level}
        shared = {
            code: len(own.intersection(words)) for code, own in starts.items() if words[0] in own
        }
        if shared:
            return tuple(work for work in level if shared.get(work.code) == max(shared.values()))
    return ()


def starts_of(text: str) -> list[str]:
    """The first four letters of each word that says something, in their order; what stands in
    brackets is left out.
    """
    words = re.findall(r"[a-z]{4,}", re.sub(r"\(.*?\)", " ", text.lower()))
    return list(dict.fromkeys(word[:4] for word in words if word not in SAYS_NOTHING))


def passed_by(rows: Rows, gate: Activity) -> tuple[Activity, ...]:
    """What stands right before a gate and is not done: once the gate is done, nothing of that holds
    up what follows.
    """
    if is_work(gate):
        return ()
    before = {link.from_ for link in rows.get("links", ()) if link.to == gate.code}
    return tuple(a for a in rows.get("activities", ()) if a.code in before and mode_of(a) != DONE)


def work_before(rows: Rows, code: str, through_gates: bool = False) -> Iterator[list[Activity]]:
    """The work before an activity, a step of links at a time, as far as no gate lies between; or
    further, through gates.
    """
    by_code = {a.code: a for a in rows.get("activities", ())}
    before: dict[str, list[str]] = {}
    for link in rows.get("links", ()):
        before.setdefault(link.to, []).append(link.from_)
    level, seen = [code], {code}
    while level:
        codes = dict.fromkeys(
            c for one in level for c in before.get(one, ()) if c in by_code and c not in seen
        )
        works = [by_code[c] for c in codes if is_work(by_code[c])]
        seen.update(codes)
        yield works
        level = list(codes) if through_gates else [work.code for work in works]


def is_work(activity: Activity) -> bool:
    """Whether an activity is work that somebody does."""
    return activity.kind == "work" or (not activity.kind and activity.duration != 0)


def last_of(works: Sequence[Activity], plan: Plan) -> Activity | None:
    """Of several works, the one that the plan finishes last; the first of equals."""
    dates = plan.by_code()
    return max(works, key=lambda work: dates[work.code].early_finish, default=None)


def placed(
    rows: Rows,
    at: Activity,
    correction: Activity,
    gate: Activity,
    covers: Iterable[str],
    over: bool,
    ahead: Activity | None = None,
) -> Placed:
    """Put a correction and its re-inspection after the activity at which the inspection failed.

    at -> correction -> gate -> whatever follows `at` or covers the work. over: `at` is done with
    this visit; where it is not (others still come to it), the correction waits for its beginning
    only. A lag of a link is kept. Finished work waits no more. What `at` waited for and is not done
    holds the re-inspection instead, so that the visit passes nothing by. ahead: the work that is
    corrected, where it lies ahead of the visit: the correction waits for it.
    """
    done = {a.code for a in rows.get("activities", ()) if a.actual_finish}
    chain = (
        new(Link, from_=at.code, to=correction.code, type="FS" if over else "SS"),
        new(Link, from_=correction.code, to=gate.code, type="FS"),
    )
    after = [
        dataclasses.replace(link, from_=gate.code)
        for link in rows.get("links", ())
        if link.from_ == at.code and link.type in ("FS", "FF") and link.to not in done
    ]
    waiting = {link.to for link in after if link.type == "FS"}
    after += [
        new(Link, from_=gate.code, to=code, type="FS")
        for code in dict.fromkeys(covers)
        if code not in waiting | done | {at.code}
    ]
    left = {a.code for a in passed_by(rows, at)} if over else set()
    held = [
        dataclasses.replace(link, to=gate.code)
        for link in rows.get("links", ())
        if link.to == at.code and link.from_ in left
    ]
    upstream = {
        work.code for level in work_before(rows, at.code, through_gates=True) for work in level
    }
    if ahead is not None and ahead.code in upstream:
        held.append(new(Link, from_=ahead.code, to=correction.code, type="FS"))
    return Placed(
        correction, gate, (*chain, *{key_of(link): link for link in (*after, *held)}.values())
    )


def visited(at: Activity, on: dt.date, over: bool, last: dt.date | None = None) -> Activity:
    """A gate after a visit. over: nobody else comes to it. last: the last visit there, if it was
    later than this one.
    """
    start = min(on, at.actual_start or on)
    if not over:
        return dataclasses.replace(at, actual_start=start)
    return dataclasses.replace(
        at,
        actual_start=start,
        actual_finish=max(on, last or on, at.actual_finish or on),
        remaining=None,
    )


def days_of(plan: Plan, code: str, first: dt.date, last: dt.date) -> int:
    """The working days from one day to another, both included, on the calendar of an activity of
    the plan.
    """
    run = plan.run
    if run is None or last < first:
        return 0
    place = next(i for i, d in enumerate(plan.dates) if d.code == code)
    return len(
        run.times.works[place].between(first.toordinal() - run.low, last.toordinal() - run.low)
    )
