"""What the slip is made of, down to each share: by window and activity, and what is known of a
window, an activity, a cause, a party.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial
from typing import NamedTuple

from tracker.answers.slip import SlipAnswer
from tracker.answers.slip_rows import (
    PartyRow,
    ReasonRow,
    RevisionRow,
    StepRow,
    WindowRow,
    titled,
)
from tracker.pages.cells import amount, day
from tracker.pages.marks import AT_RISK, BLOCKS
from tracker.pages.page import (
    BAR,
    CODE,
    DAY,
    MONEY,
    NOT_ON_PAPER,
    NOT_ON_SCREEN,
    NUMBER,
    ON_PAPER,
    ON_TEXT,
    PAPER,
    WIDE,
    Bar,
    Cell,
    Column,
    Line,
    Part,
    Row,
    Section,
    plain_rows,
)
from tracker.pages.slip_records import shown_rows
from tracker.values.money import NO_DAY_COST

ONE_SNAPSHOT = "One status date is closed; the slip is measured from it to the next one (c)."

DAYS = Column("days", "days", NUMBER, sums=True)
COST = Column("cost", "costs", MONEY, sums=True)
CODES = Column("code", "code", CODE)
NAMES = Column("name", "activity", most=30, grow=True)
BARS = Column("bar", "", BAR, on=NOT_ON_PAPER)
BY_PROGRESS = Column("progress", "progress", NUMBER, sums=True)
BY_REVISION = Column("revised", "revised", NUMBER, sums=True)
BOTH = Column("days", "days", NUMBER, formula="{progress}+{revised}", sums=True)
AT_ITS_RATE = Column("cost", "costs", MONEY, formula="ROUND({days}*{rate},2)", sums=True)


class ShareRow(NamedTuple):
    """One share of the slip. key: its party's code. own: working days that the activity is late
    itself; None for a revision. rate, cost: cents.
    """

    window: dt.date
    code: str
    name: str
    what: str
    cause: str
    key: str
    party: str
    event: str
    days: int
    rate: int
    concurrent: bool
    own: int | None

    @property
    def cost(self) -> int:
        """What its days cost."""
        return self.days * self.rate


def shares_of(answer: SlipAnswer) -> Iterator[ShareRow]:
    """Every share of the slip, window by window; days of progress lost in a window in which delays
    ran at the same time are concurrent.
    """
    for window in answer.windows:
        found: list[tuple[StepRow | RevisionRow, str, ReasonRow | RevisionRow, int | None]] = [
            (step, "progress", one, step.own_lateness)
            for step in window.activities
            for one in step.reasons
        ]
        found += [(one, f"{one.kind}: {one.what}", one, None) for one in window.revisions]
        for of, what, why, own in found:
            yield ShareRow(
                window.to,
                of.code,
                of.name,
                what,
                why.cause,
                why.party,
                party_words(answer, why.party),
                why.event,
                why.days,
                window.cost_of_a_day_cents,
                window.concurrent and own is not None and why.days > 0,
                own,
            )


def party_words(answer: SlipAnswer, party: str) -> str:
    """A party as people call it."""
    return next((one.name for one in answer.parties if one.party == party), party)


def signed(days: int) -> str:
    """Days with their sign."""
    return f"+{days}" if days > 0 else str(days)


def because(answer: SlipAnswer, one: ReasonRow | RevisionRow) -> str:
    """Cause, party and what says so."""
    parts = (one.cause, party_words(answer, one.party), one.event)
    return " · ".join(part for part in parts if part)


def window_about(answer: SlipAnswer, window: WindowRow) -> Sequence[Section]:
    """A window: how it splits, its activities in the order in which their progress was put in, its
    revisions.
    """
    at = (
        f"{amount(window.cost_of_a_day_cents)} a day: {amount(window.cost_cents)}"
        if answer.cost_known
        else NO_DAY_COST
    )
    lines: list[Line | str] = [
        f"opening {day(window.opening_before)} to {day(window.opening_after)},"
        f" {signed(window.days)} days at {at}",
        f"progress {signed(window.progress_days)} (opening {day(window.half_step_opening)} with"
        f" the old plan), revision {signed(window.revision_days)}",
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
    changed: list[Line | str] = [
        f"{signed(one.days):>4}  {one.code} {one.kind}: {one.what} · {because(answer, one)}"
        for one in window.revisions
    ]
    if window.revisions_without_effect:
        changed.append(
            Line(
                f"Changes of the plan that moved nothing: {window.revisions_without_effect}",
                "muted",
            )
        )
    return (
        Section(f"Window {day(window.from_)} to {day(window.to)}", lines),
        Section(
            "Activities, as they were put in", [step_line(answer, one) for one in window.activities]
        ),
        Section("What was changed in the plan", changed),
    )


def step_line(answer: SlipAnswer, step: StepRow) -> Line:
    """An activity of a window: days of the opening, its own lateness, and why."""
    own = step.own_lateness
    late = (
        f"{abs(own)} working days {'late' if own > 0 else 'early'} itself"
        if own
        else "not late itself"
    )
    alone = f", alone {signed(step.days_alone)}" if step.days_alone != step.days else ""
    why = "; ".join(f"{one.days} {because(answer, one)}" for one in step.reasons)
    unexplained = any(not one.event and one.days > 0 for one in step.reasons)
    words = f"{signed(step.days):>4}  {titled(step)}: {late}{alone}{' · ' + why if why else ''}"
    return Line(words, "warn" if unexplained else "" if step.days else "muted")


def code_about(answer: SlipAnswer, code: str) -> Sequence[Section]:
    """An activity over all windows."""
    lines: list[Line | str] = []
    for window in answer.windows:
        to = day(window.to)
        steps = (step_line(answer, step) for step in window.activities if step.code == code)
        lines += [Line(f"{to} {line.text}", line.tone) for line in steps]
        lines += [
            f"{to} {signed(one.days):>4}  {one.kind}: {one.what} · {one.cause}"
            for one in window.revisions
            if one.code == code
        ]
    events = [
        f"{e.code} {day(e.first)}: {e.days_lost} working days, {e.cause} · {e.note}"
        for e in answer.evidence
        if e.activity == code
    ]
    return Section("Window by window", lines), Section("Delay events", events)


def cause_about(answer: SlipAnswer, cause: str) -> Sequence[Section]:
    """The shares of a cause, window by window."""
    return (Section(cause, share_lines(answer, cause=cause)),)


def party_about(answer: SlipAnswer, party: PartyRow) -> Sequence[Section]:
    """A party's days window by window, with what is concurrent in them, and its words."""
    lines = share_lines(answer, party=party.party)
    if party.concurrent_days:
        said = (
            f"~ of its {party.days} days {party.concurrent_days} are of windows in which delays ran"
            " at the same time"
        )
        lines.append(Line(said, "warn"))
    if party.words_given:
        lines.append(f"came on the day: {party.words_kept} of {party.words_given} words")
    return (Section(party.name, lines),)


def share_lines(
    answer: SlipAnswer, cause: str | None = None, party: str | None = None
) -> list[Line | str]:
    """The shares of a cause or of a party, window by window."""
    at_once = {window.to for window in answer.windows if window.concurrent}
    return [
        f"{day(one.window)} {signed(one.days):>4}  "
        + (f"{one.code} {one.name}" if one.name != one.code else one.code)
        + (f" {one.what}" if one.own is None else "")
        + (f" {one.event}" if one.event else "")
        + ("  ~ concurrent" if one.own is not None and one.window in at_once else "")
        for one in shares_of(answer)
        if cause in (None, one.cause) and party in (None, one.key)
    ]


def windows(answer: SlipAnswer) -> Part:
    """Window by window, each with its own cost of a day; what each is made of stands below."""
    columns = (
        Column("to", "window to", DAY),
        Column("opening", "opening", DAY, on=NOT_ON_SCREEN),
        BY_PROGRESS,
        BY_REVISION,
        BOTH,
        Column("rate", "a day", MONEY, on=(WIDE, PAPER)),
        AT_ITS_RATE,
        Column("not_explained", "not explained", NUMBER, sums=True),
        Column("note", "note", most=40, grow=True, on=(WIDE, PAPER)),
    )
    rows = tuple(
        Row(
            (
                one.to,
                one.opening_after,
                one.progress_days,
                one.revision_days,
                one.days,
                one.cost_of_a_day_cents,
                one.cost_cents,
                one.not_explained_days or None,
                " · ".join(part for part in ("concurrent" * one.concurrent, one.note) if part),
            ),
            key=one.to.isoformat(),
            mark=BLOCKS if one.not_explained_days else AT_RISK if one.concurrent else "",
            about=partial(window_about, answer, one),
        )
        for one in answer.windows
    )
    sums = (
        sum(one.progress_days for one in answer.windows),
        sum(one.revision_days for one in answer.windows),
    )
    total = (answer.slip_days, "", answer.cost_cents, answer.not_explained.days, "")
    return shown_rows(
        "windows",
        "by window",
        columns,
        rows,
        (("slip", "", *sums, *total),) if rows else (),
        note=(
            "A window begins after the status date before it, and has its own cost of a day."
            f" {AT_RISK} concurrent: delays ran at the same time. {BLOCKS} not explained."
        )
        if rows
        else "",
        empty="" if rows or answer.from_ is None else ONE_SNAPSHOT,
        name="windows",
        count=str(len(rows) or ""),
        marked=True,
        frozen=2,
        wide=True,
    )


def each_window(answer: SlipAnswer) -> Part:
    """What each window is made of, one after the other, where none can be chosen."""
    moved = (one for one in answer.windows if one.activities or one.revisions)
    said = tuple(section for one in moved for section in window_about(answer, one))
    return Part("each_window", "", about=said, on=ON_TEXT)


def shares(answer: SlipAnswer) -> Part:
    """Every share of the slip; they add up to it."""
    columns = (
        Column("window", "window to", DAY),
        CODES,
        NAMES,
        Column("what", "what"),
        Column("cause", "cause"),
        Column("party", "through whom"),
        Column("event", "event", CODE),
        DAYS,
        Column("rate", "a day costs", MONEY),
        AT_ITS_RATE,
        Column("concurrent", "at the same time", CODE),
    )

    def cells(one: ShareRow) -> tuple[Cell, ...]:
        known = (one.window, one.code, one.name, one.what, one.cause, one.party, one.event)
        return (*known, one.days, one.rate, one.cost, "concurrent" * one.concurrent)

    rows = plain_rows(map(cells, shares_of(answer)))
    foot = ("slip", *("" for _ in range(6)), answer.slip_days, None, answer.cost_cents, "")
    return Part(
        "shares",
        "each share of it",
        columns,
        rows,
        (foot,) if rows else (),
        note=(
            "Progress: the plan then was not kept to. Else the plan itself was changed. Days are"
            " calendar days of the opening."
        ),
        empty="The opening has not moved." if answer.windows else "There is no window yet.",
        wide=True,
        on=ON_PAPER,
    )


def activities(answer: SlipAnswer) -> Part:
    """By activity over all windows."""
    progress, revised = (replace(c, on=NOT_ON_SCREEN) for c in (BY_PROGRESS, BY_REVISION))
    known = {step.code for window in answer.windows for step in window.activities}
    rows = tuple(
        Row(
            (
                one.code,
                one.name,
                one.progress_days,
                one.revision_days,
                one.days,
                one.cost_cents,
                Bar(one.days),
            ),
            "activities" if one.code in known else "",
            one.code,
            about=partial(code_about, answer, one.code),
        )
        for one in answer.by_activity
    )
    sums = (
        sum(a.progress_days for a in answer.by_activity),
        sum(a.revision_days for a in answer.by_activity),
    )
    foot = ("slip", "", *sums, answer.slip_days, answer.cost_cents, None)
    return shown_rows(
        "activities",
        "by activity",
        (CODES, NAMES, progress, revised, BOTH, COST, BARS),
        rows,
        (foot,) if rows else (),
        count=str(len(rows) or ""),
        wide=True,
    )
