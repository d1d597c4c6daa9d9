"""The page of Path: the opening, what drives it, every activity, gates, what is odd; and the
schedule as a document.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

from tracker.pages.cautions import texts_of
from tracker.pages.cells import day, missing_costs, money_words
from tracker.pages.health import some
from tracker.pages.marks import AT_RISK, DONE, DRIVES, NEAR
from tracker.pages.opening import standing
from tracker.pages.page import (
    CODE,
    DAY,
    MONEY,
    NOT_ON_SCREEN,
    NUMBER,
    ON_PAPER,
    ON_TEXT,
    Column,
    Event,
    Page,
    Paper,
    Part,
    Row,
    Section,
    cells_of,
    plain_rows,
)
from tracker.schedule.lateness import NO_LONGER, late_words, lump_sums
from tracker.values.money import NO_DAY_COST, not_all_entered
from tracker.values.records import Rows

if TYPE_CHECKING:
    from tracker.answers.path import PathActivity, PathAnswer

START = Column("early_start", "start", DAY, short=True)
FINISH = Column("early_finish", "finish", DAY, short=True)
LEGEND = f"{DRIVES} drives the opening   {NEAR} near driving it   {DONE} done"
LEFT = Column("remaining", "working days left", NUMBER)


def page(answer: PathAnswer) -> Page:
    """When it opens and what drives it, as text; the screen draws the activities with bars."""
    found = (
        gone(answer),
        driving(answer),
        activities(answer),
        gates(answer),
        clashes(answer),
        remarks(answer),
    )
    return Page("path", tuple(opening_words(answer)), found)


def schedule(rows: Rows, today: dt.date) -> Paper:
    """The whole schedule as of a day, with what is ahead for a calendar."""
    from tracker.answers.path import from_rows
    from tracker.approvals.cautions import SITE

    answer = from_rows(rows, today)
    parts = page(answer).parts
    parts = (*parts[:-1], replace(parts[-1], empty="Nothing."))
    ahead = tuple(events(answer.activities))
    return Paper("Schedule", parts, texts_of(SITE, rows), "activities", ahead)


def events(activities: Iterable[PathActivity]) -> Iterable[Event]:
    """What is ahead: each activity that is not done, and the last day of filing for its meeting."""
    for one in activities:
        if one.state != "done":
            words = "; ".join(filter(None, (one.trade, state_of(one), one.weight_words())))
            yield Event(f"activity-{one.code}", one.early_start, one.early_finish, one.name, words)
            if one.cutoff:
                yield Event(
                    f"cutoff-{one.code}", one.cutoff, one.cutoff, f"Last day to file: {one.name}"
                )


def opening_words(answer: PathAnswer) -> list[str]:
    """The forecast against the promise, and what a day and the lateness cost; what went by since an
    old status date.
    """
    if answer.forecast_opening is None:
        return []
    first = f"Forecast opening {day(answer.forecast_opening)}"
    if answer.opening_is_over:
        first += f" is {NO_LONGER}"
        late = late_words(answer.days_late, over=True)
        first += f" · {late}" if late else ""
    elif answer.promised_opening is None or answer.days_late is None:
        first += " · no promised opening yet"
    else:
        first += f" · promised {day(answer.promised_opening)} · {late_words(answer.days_late)}"
    if answer.as_of:
        first = f"As of {day(answer.as_of)}. {first}"
    went = some([f"{one};" for one in gone_words(answer)], 4, " ")
    return [first, cost_words(answer), *([f"Gone by since then: {went}"] if went else [])]


def gone_words(answer: PathAnswer) -> list[str]:
    """Cut-offs and dates of gates that went by since an old status date."""
    return [
        f"{'cut-off of ' * (one.what == 'cut-off')}{one.code} {day(one.date)}"
        for one in answer.gone_by
    ]


def cost_words(answer: PathAnswer) -> str:
    """What a day costs, and the lateness."""
    missing, known = answer.day_cost_missing, answer.day_cost_known
    a_day = f"{'at least ' * bool(missing)}{money_words(answer.cost_of_a_day_cents)} gross"
    words = f"A day costs {a_day}" if known else NO_DAY_COST.capitalize()
    cost, over = answer.cost_of_lateness_cents, answer.opening_is_over
    if cost and cost > 0:
        lumps = lump_sums(cost, answer.days_late, answer.cost_of_a_day_cents)
        included = f" with lump sums of {money_words(lumps)}" if lumps else ""
        least = "at least " * (over or bool(missing))
        words += f" · lateness {least}{money_words(cost)}{included}"
    elif cost and not over:
        words += f" · being early saves {money_words(-cost)}"
    return words + not_all_entered(missing if known else ())


def gone(answer: PathAnswer) -> Part:
    """The opening against the promise, with all that went by since an old status date."""
    went = "; ".join(gone_words(answer))
    part = standing(answer, f"Gone by since then: {went}." if went else "")
    return replace(part, on=NOT_ON_SCREEN)


def driving(answer: PathAnswer) -> Part:
    """The longest path that is still to be walked."""
    known = {a.code: a for a in answer.activities}
    ahead = (known[code] for code in answer.longest_path if known[code].state != "done")
    columns = (Column("name", ""), START, FINISH, LEFT, Column("state", "state", CODE))
    return Part(
        "driving",
        "drives the opening",
        columns,
        plain_rows(cells_of(one, columns) for one in ahead),
        empty="No activity drives the opening.",
        on=ON_TEXT,
    )


def activities(answer: PathAnswer) -> Part:
    """Every activity in row order."""
    held = any(a.baseline_days is not None for a in answer.activities)
    columns = (
        Column("titled", "activity", on=ON_TEXT),
        Column("name", "what", on=ON_PAPER),
        Column("trade", "trade", on=ON_PAPER),
        Column("code", "code", CODE, on=ON_PAPER),
        Column("state", "state", CODE),
        START,
        FINISH,
        replace(LEFT, on=ON_PAPER),
        Column("total_float", "float", NUMBER),
        *((Column("baseline_days", "later", NUMBER),) if held else ()),
        Column("opening", "opening", on=ON_PAPER),
    )
    rows = tuple(
        Row(
            cells_of(
                a,
                columns,
                titled=a.code if a.name == a.code else f"{a.code} {a.name}",
                name=f"{a.name} (gate)" if a.is_gate else a.name,
                state="failed" if a.failed else a.state,
                remaining=a.remaining if a.state != "done" else None,
                opening=a.weight_words(),
            ),
            "activities",
            a.code,
            mark=weight(a),
        )
        for a in answer.activities
    )
    note = (
        "Float: working days of its own calendar by which it can end later before the opening moves"
        f" (of a gate: meetings).{' Later: calendar days after the baseline.' * held}"
    )
    return Part(
        "activities",
        "activities",
        columns,
        rows,
        note=note if rows else "",
        empty="There is no activity yet: `tracker add FILE activities CODE duration=DAYS`.",
        on=NOT_ON_SCREEN,
        marked=True,
        about=(Section("", [LEGEND] if rows else [], ON_TEXT),),
        wide=True,
    )


def weight(a: PathActivity) -> str:
    """How near an activity is to the opening, as a mark."""
    if a.state == "done":
        return "" if a.failed else DONE
    return DRIVES if a.on_longest_path else NEAR if a.near_critical else ""


def state_of(one: PathActivity) -> str:
    """Its state, and why it is held."""
    return f"{one.state}: {one.held}" if one.held else one.state


def gates(answer: PathAnswer) -> Part:
    """What must be passed before work goes on, and what missing it would cost."""
    columns = (
        Column("name", "gate"),
        Column("cutoff", "file by", DAY, short=True),
        Column("date", "day", DAY, short=True),
        Column("waits_days", "waits", NUMBER),
        Column("next_date_if_missed", "if missed", DAY, short=True),
        Column("opening_days_lost", "days later", NUMBER),
        Column("cost", "costs", MONEY),
    )
    names = {a.code: a.name for a in answer.activities}
    known = answer.day_cost_known
    rows = plain_rows(
        cells_of(
            one,
            columns,
            name=names[one.code],
            cost=missing_costs(one.cost_if_missed_cents, one.opening_days_lost, known),
        )
        for one in answer.gates
    )
    return Part(
        "gates", "gates ahead", columns, rows, empty="None is ahead.", on=NOT_ON_SCREEN, wide=True
    )


def clashes(answer: PathAnswer) -> Part:
    """Trades that are planned on two activities at once."""
    columns = (
        Column("trade", "trade"),
        Column("one", "on", CODE),
        Column("other", "and on", CODE),
        Column("first", "from", DAY),
        Column("last", "to", DAY),
        Column("days", "days", NUMBER),
    )
    rows = plain_rows(cells_of(one, columns, days=one.days()) for one in answer.clashes)
    title = "one crew on two activities at once"
    return Part("clashes", title, columns, rows, on=NOT_ON_SCREEN, wide=True)


def remarks(answer: PathAnswer) -> Part:
    """What the schedule has to say about itself."""
    columns = (Column("code", "of", CODE, on=ON_PAPER), Column("text", "what"))
    rows = tuple(Row((one.code, one.text), mark=AT_RISK) for one in answer.warnings)
    return Part(
        "remarks",
        "worth a look",
        columns,
        rows,
        on=NOT_ON_SCREEN,
        marked=True,
        wide=True,
    )
