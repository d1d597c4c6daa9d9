"""The windows of a project's snapshots, each computed once: a snapshot never changes, so neither
does a window.

S0 is the latest snapshot marked baseline, else the first; earlier ones are left out.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping, Sequence

from tracker.answers.slip_texts import Texts
from tracker.project_file.snapshots import content_hash
from tracker.schedule.records import Snapshot, StepCost
from tracker.schedule.slip.missed import MissedCutoff, missed_cutoffs
from tracker.schedule.slip.windows import Taken, Window, taken, window
from tracker.values.frozen import value
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows, key_text, table_of

Watch = Callable[[int, int], None]
"""Is told how many windows of how many are done; may raise an exception of its own to stop."""

MOST_KEPT = 500
"""So many windows are kept; more than a project has."""

CHANGED = "snapshot_changed"
OTHER_OPENING = "snapshot_opening"
EMPTY = "snapshot_empty"
NO_COST = "snapshot_without_cost"


@value
class Warned:
    """What is odd about a snapshot. key: its date."""

    kind: str
    key: str
    text: str


@value
class Closed:
    """A window with what its later snapshot says beside the plan: cost of a day in cents, step
    costs as they stood.

    names: of the activities and calendars that the window names. missed: cut-offs that went by
    without their filing.
    """

    window: Window
    cost_of_a_day: int
    steps: tuple[StepCost, ...]
    names: Mapping[str, str]
    missed: tuple[MissedCutoff, ...]


@value
class First:
    """Where the post-mortem begins: status date, opening, and planned working days of each
    activity.
    """

    date: dt.date
    opening: dt.date
    durations: Mapping[str, int]


@value
class History:
    """What the snapshots tell, in the order of their dates. first: None without any that has
    activities.
    """

    first: First | None
    windows: tuple[Closed, ...]
    warnings: tuple[Warned, ...]


_known: dict[tuple[dt.date, str, dt.date, str, int], Closed] = {}
_known_first: dict[tuple[dt.date, str], First] = {}


class Reader:
    """Reads snapshots as plans, each at most once."""

    def __init__(self, texts: Mapping[dt.date, Mapping[str, str]]) -> None:
        self._texts = texts
        self._reading = Texts()
        self._read: dict[dt.date, Taken | None] = {}

    def taken(self, date: dt.date) -> Taken | None:
        """A snapshot as a plan; None if it has no activities.

        ProblemError names the one that can't be read or computed.
        """
        if date not in self._read:
            try:
                rows = self._reading.rows(self._texts.get(date, {}))
                refuse_unknown(rows)
                self._read[date] = taken(rows, date) if rows.get("activities") else None
            except ProblemError as error:
                what = (
                    f"the snapshot of {date.isoformat()} can't be read:"
                    f" {error.problems[0].sentence()}"
                )
                raise ProblemError(
                    Problem(what, "take the file back from a backup", "snapshots", date.isoformat())
                ) from None
        return self._read[date]

    def drop(self, date: dt.date) -> None:
        """A snapshot that is not needed any more."""
        self._read.pop(date, None)


def refuse_unknown(rows: Rows) -> None:
    """Raise the error of a snapshot, made elsewhere, that names an activity or a calendar that it
    doesn't have.
    """
    activities = {a.code for a in rows.get("activities", ())}
    calendars = {c.code for c in rows.get("calendars", ())} | {""}
    named = [
        (link, code, activities) for link in rows.get("links", ()) for code in (link.from_, link.to)
    ]
    named += [(a, a.calendar, calendars) for a in rows.get("activities", ())]
    named += [(c, c.cutoff_calendar, calendars) for c in rows.get("calendars", ())]
    for row, code, known in named:
        if code not in known:
            raise ProblemError(
                Problem(f"names {code}, which is not there", "", table_of(type(row)), key_text(row))
            )


def history_of(
    heads: Sequence[Snapshot],
    texts: Mapping[dt.date, Mapping[str, str]],
    watch: Watch | None = None,
) -> History:
    """The windows of snapshots: their heads in the order of their dates, and the texts of their
    tables by date.

    ProblemError where one can't be read or computed.
    """
    if not heads:
        return History(None, (), ())
    begin = max((place for place, head in enumerate(heads) if head.baseline), default=0)
    hashes = {head.date: content_hash(texts.get(head.date, {})) for head in heads[begin:]}
    used = [head for head in heads[begin:] if has_activities(texts.get(head.date, {}))]
    warnings = [*changed(heads[begin:], hashes), *empty(heads[begin:], used)]
    if not used:
        return History(None, (), tuple(warnings))
    reader = Reader(texts)
    first = first_of(used[0], hashes, reader)
    windows = []
    for place in range(1, len(used)):
        if watch:
            watch(place - 1, len(used) - 1)
        windows.append(closed(used[place - 1], used[place], hashes, reader))
        reader.drop(used[place - 1].date)
    openings = [first.opening, *(one.window.opening_after for one in windows)]
    warnings += [*other_openings(used, openings), *without_cost(used[1:])]
    return History(first, tuple(windows), tuple(warnings))


def has_activities(texts: Mapping[str, str]) -> bool:
    """Whether a snapshot's activities have a row below the header."""
    return texts.get("activities.csv", "").strip().count("\n") > 0


def first_of(head: Snapshot, hashes: Mapping[dt.date, str], reader: Reader) -> First:
    """Where the post-mortem begins."""
    key = (head.date, hashes[head.date])
    if key not in _known_first:
        read = reader.taken(head.date)
        assert read is not None
        durations = dict(zip(read.plan.number, read.plan.gathered.duration, strict=True))
        _known_first.clear()
        _known_first[key] = First(head.date, read.plan.opening_day(), durations)
    return _known_first[key]


def closed(
    before: Snapshot, after: Snapshot, hashes: Mapping[dt.date, str], reader: Reader
) -> Closed:
    """One window, as it was computed before or anew."""
    cost = after.cost_of_a_day or 0
    key = (before.date, hashes[before.date], after.date, hashes[after.date], cost)
    if key not in _known:
        old, new = reader.taken(before.date), reader.taken(after.date)
        assert old is not None and new is not None
        try:
            found = window(old, new)
        except ProblemError as error:
            between = (
                f"the window from {before.date.isoformat()} to {after.date.isoformat()} can't be"
                " worked out"
            )
            what = f"{between}: {error.problems[0].sentence()}"
            raise ProblemError(Problem(what, "", "snapshots", after.date.isoformat())) from None
        if len(_known) >= MOST_KEPT:
            _known.clear()
        steps = tuple(new.rows.get("step_costs", ()))
        _known[key] = Closed(
            found, cost, steps, names(found, old.rows, new.rows), missed_cutoffs(old, new)
        )
    return _known[key]


def names(found: Window, *both: Rows) -> dict[str, str]:
    """The names of the activities and calendars that a window names, as its later snapshot has
    them.
    """
    wanted = {step.code for step in found.steps} | {revision.code for revision in found.revisions}
    return {
        row.code: row.name or row.code
        for rows in both
        for table in ("calendars", "activities")
        for row in rows.get(table, ())
        if row.code in wanted
    }


def changed(heads: Sequence[Snapshot], hashes: Mapping[dt.date, str]) -> list[Warned]:
    """Snapshots whose content is no longer the one that was kept."""
    return [
        Warned(
            CHANGED,
            date,
            f"the snapshot of {date} was changed after it was closed: its content no longer has its"
            " hash",
        )
        for date in (h.date.isoformat() for h in heads if h.hash and h.hash != hashes[h.date])
    ]


def empty(heads: Sequence[Snapshot], used: Sequence[Snapshot]) -> list[Warned]:
    """Snapshots without activities."""
    return [
        Warned(
            EMPTY,
            h.date.isoformat(),
            f"the snapshot of {h.date.isoformat()} has no activities and is left out",
        )
        for h in heads
        if h not in used
    ]


def other_openings(heads: Sequence[Snapshot], openings: Sequence[dt.date]) -> list[Warned]:
    """Snapshots whose plan computes to another opening than was noted when they were closed."""
    return [
        Warned(
            OTHER_OPENING,
            h.date.isoformat(),
            f"the plan of {h.date.isoformat()} computes to the opening {day.isoformat()};"
            f" {h.opening.isoformat()} was noted",
        )
        for h, day in zip(heads, openings, strict=True)
        if h.opening is not None and h.opening != day
    ]


def without_cost(heads: Sequence[Snapshot]) -> list[Warned]:
    """Snapshots, made elsewhere, that do not say what a day cost."""
    return [
        Warned(
            NO_COST,
            date,
            f"the snapshot of {date} has no cost of a day, so that the days of its window cost"
            " nothing here",
        )
        for date in (h.date.isoformat() for h in heads if h.cost_of_a_day is None)
    ]


def forget() -> None:
    """Forget the windows computed so far: for tests and measurements."""
    _known.clear()
    _known_first.clear()
