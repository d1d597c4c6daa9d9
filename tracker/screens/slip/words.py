"""The words of Slip: its headline, a bar of days, what is known of a window, an activity, a
party.
"""

from __future__ import annotations

import datetime as dt
from typing import Any

from tracker.answers.slip_offers import OfferRow
from tracker.answers.slip_rows import titled
from tracker.pages.cells import day
from tracker.schedule.records import Delay
from tracker.screens.entry.money_words import amount, plot_bar
from tracker.screens.entry.typed_text import days_words
from tracker.screens.table.marks import BASELINE, DRIVES, FLOAT
from tracker.screens.table.sections import Line, Section
from tracker.values.days import day_of_month, short_day
from tracker.values.money import NO_DAY_COST, cost_of_days
from tracker.values.records import new

NO_SNAPSHOT = (
    "No status date is closed yet. c closes the first one: the plan as it stands becomes the"
    " baseline."
)
ONE_SNAPSHOT = (
    "One status date is closed; the slip is measured from it to the next one. c closes it."
)


def headline(answer: Any) -> str:
    """From which opening to which, and at what cost; a snapshot that was changed is told before
    anything else.
    """
    changed = [one.key for one in answer.warnings if one.kind == "snapshot_changed"]
    told = (
        f"! changed after it was closed: the snapshot of {', '.join(changed)} · " if changed else ""
    )
    return told + moved_words(answer)


def moved_words(answer: Any) -> str:
    """From which opening to which, and at what cost."""
    if answer.from_ is None:
        return NO_SNAPSHOT
    if not answer.windows:
        return f"Opening {day(answer.now_opening)} at {day(answer.to)}. {ONE_SNAPSHOT}"
    moved = f"{day(answer.baseline_opening)} to {day(answer.now_opening)}"
    steps = sum(one.amount_cents for one in answer.step_costs)
    more = f" and {amount(steps)} of lump sums" if steps else ""
    cost = cost_of_days(answer.cost_cents, answer.slip_days, answer.cost_known)
    return (
        f"{slip_words(answer.slip_days)}: {moved} · {cost}{more} · "
        f"not explained {answer.not_explained.days} · made up {abs(answer.made_up.days)}"
    )


def slip_words(days: int) -> str:
    """The slip in words."""
    if not days:
        return "On time"
    return f"{days_words(abs(days))} {'later' if days > 0 else 'earlier'}"


def bar(days: int, most: int, cells: int) -> str:
    """A bar of days: a heavy stroke, or dots where they were made up."""
    return (DRIVES if days > 0 else FLOAT) * plot_bar(abs(days), most, cells)


def plotted(opening: dt.date, baseline: dt.date, first: dt.date, last: dt.date, cells: int) -> str:
    """A line of the plot: the baseline's post, and a stroke from it to the opening. first, last:
    the ends of the axis.
    """

    def at(moment: dt.date) -> int:
        span = max(1, (last - first).days)
        return (2 * (moment - first).days * (cells - 1) + span) // (2 * span)

    post, end = at(baseline), at(opening)
    line = [" "] * cells
    for place in range(min(post, end), max(post, end) + 1):
        line[place] = DRIVES if opening > baseline else FLOAT
    line[post] = BASELINE
    return "".join(line).rstrip()


def axis(first: dt.date, last: dt.date, cells: int) -> str:
    """The ends of the plot's axis."""
    shown = short_day if cells >= 26 else day_of_month
    left, right = shown(first), shown(last)
    return left if first == last else f"{left}{right:>{max(1, cells - len(left))}}"


def party_words(answer: Any, party: str) -> str:
    """A party as people call it."""
    return str(next((one.name for one in answer.parties if one.party == party), party))


def reason_words(answer: Any, reason: Any) -> str:
    """A reason: its days, cause, party and what says so."""
    parts = (reason.cause, party_words(answer, reason.party), reason.event)
    return f"{reason.days} " + " · ".join(part for part in parts if part)


def signed(days: int) -> str:
    """Days with their sign."""
    return f"+{days}" if days > 0 else str(days)


def window_about(answer: Any, window: Any) -> list[Section]:
    """A window: how it splits, its activities in the order in which their progress was put in, its
    revisions.
    """
    lines: list[Line | str] = [
        f"opening {day(window.opening_before)} to {day(window.opening_after)},"
        f" {signed(window.days)} days at "
        + (
            f"{amount(window.cost_of_a_day_cents)} a day: {amount(window.cost_cents)}"
            if answer.cost_known
            else NO_DAY_COST
        ),
        (
            f"progress {signed(window.progress_days)} (opening {day(window.half_step_opening)} with"
            f" the old plan), revision {signed(window.revision_days)}"
        ),
    ]
    if window.note:
        lines.append(window.note)
    if window.concurrent:
        alone = sum(one.days_alone for one in window.activities)
        late = sum(max(0, one.days) for one in window.activities)
        lines.append(
            Line(
                f"~ delays ran at the same time: alone they would make {alone} days, together they"
                f" made {late}",
                "warn",
            )
        )
    steps = [step_line(answer, one) for one in window.activities]
    changed: list[Line | str] = [
        f"{signed(one.days):>4}  {one.code} {one.kind}: {one.what} · "
        + " · ".join(
            part for part in (one.cause, party_words(answer, one.party), one.event) if part
        )
        for one in window.revisions
    ]
    if window.revisions_without_effect:
        changed.append(
            Line(
                f"{window.revisions_without_effect} more changes of the plan moved nothing", "muted"
            )
        )
    return [
        Section(f"Window {day(window.from_)} to {day(window.to)}", lines),
        Section("Activities, as they were put in", steps),
        Section("What was changed in the plan", changed),
    ]


def step_line(answer: Any, step: Any) -> Line:
    """An activity of a window: days of the opening, its own lateness, and why."""
    own = step.own_lateness
    late = (
        f"{abs(own)} working days {'late' if own > 0 else 'early'} itself"
        if own
        else "not late itself"
    )
    alone = f", alone {signed(step.days_alone)}" if step.days_alone != step.days else ""
    why = "; ".join(reason_words(answer, one) for one in step.reasons)
    unexplained = any(not one.event and one.days > 0 for one in step.reasons)
    words = f"{signed(step.days):>4}  {titled(step)}: {late}{alone}{' · ' + why if why else ''}"
    return Line(words, "warn" if unexplained else "" if step.days else "muted")


def code_about(answer: Any, code: str) -> list[Section]:
    """An activity over all windows."""
    lines: list[Line | str] = []
    for window in answer.windows:
        for step in window.activities:
            if step.code == code:
                lines.append(
                    Line(
                        f"{day(window.to)} {step_line(answer, step).text}",
                        "" if step.days else "muted",
                    )
                )
        for one in window.revisions:
            if one.code == code:
                lines.append(
                    f"{day(window.to)} {signed(one.days):>4}  {one.kind}: {one.what} · {one.cause}"
                )
    events = [
        f"{e.code} {day(e.first)}: {e.days_lost} working days, {e.cause} · {e.note}"
        for e in answer.evidence
        if e.activity == code
    ]
    return [Section("Window by window", lines), Section("Delay events", events)]


def share_lines(answer: Any, key: str, wanted: str) -> list[Line | str]:
    """The shares of a cause or party (key), window by window."""
    lines: list[Line | str] = []
    for window in answer.windows:
        mark = "  ~ concurrent" if window.concurrent else ""
        for step in window.activities:
            for one in step.reasons:
                if getattr(one, key) == wanted:
                    lines.append(
                        f"{day(window.to)} {signed(one.days):>4}  {titled(step)} {one.event}{mark}"
                    )
        for change in window.revisions:
            if getattr(change, key) == wanted:
                lines.append(
                    f"{day(window.to)} {signed(change.days):>4}  {change.code} {change.kind}:"
                    f" {change.what} {change.event}"
                )
    return lines


def unexplained(answer: Any, code: str, to: str) -> OfferRow | None:
    """A delay event to be filled in for the days of an activity that nobody explained, in the
    window that ends on a day.
    """
    for window in answer.windows:
        for step in window.activities:
            days = sum(one.days for one in step.reasons if not one.event and one.days > 0)
            if step.code == code and window.to.isoformat() == to and days:
                what = f"{days_words(days)} of the window to {day(window.to)} are not explained"
                first = window.from_ + dt.timedelta(days=1)
                delay = new(
                    Delay,
                    activity=code,
                    first=first,
                    last=window.to,
                    days=max(1, step.own_lateness),
                )
                return OfferRow(what, "activities", code, delay)
    return None
