"""The page of Slip: what nobody explained, the opening over time, days by cause, party, window and
activity, what to do next time; and the post-mortem as a document.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace
from functools import partial

from tracker.answers.slip import CAUTION, SlipAnswer
from tracker.answers.slip_rows import CauseRow, Sum, titled
from tracker.pages.cautions import texts_of
from tracker.pages.cells import amount, day
from tracker.pages.marks import BASELINE, BLOCKS
from tracker.pages.page import (
    CODE,
    DAY,
    NOT_ON_PAPER,
    NOT_ON_SCREEN,
    NUMBER,
    ON_SCREEN,
    Bar,
    Cell,
    Column,
    Line,
    Page,
    Paper,
    Part,
    Row,
    Section,
    Span,
    facts,
)
from tracker.pages.slip_records import (
    came,
    direct_costs,
    durations,
    evidence,
    lump_sums,
    offers,
    shown_rows,
    snapshots,
    waits,
)
from tracker.pages.slip_windows import (
    BARS,
    CODES,
    COST,
    DAYS,
    NAMES,
    ONE_SNAPSHOT,
    activities,
    cause_about,
    each_window,
    party_about,
    shares,
    shares_of,
    window_about,
    windows,
)
from tracker.schedule.slip.causes import MADE_UP, NOT_EXPLAINED
from tracker.values.days import count_of_days
from tracker.values.money import cost_of_days
from tracker.values.records import Rows

NO_SNAPSHOT = (
    "No status date is closed yet: closing the first one (c, or `tracker snapshot FILE --date DATE"
    " --baseline`) keeps the plan as the baseline."
)
NO_PLOT = "Nothing to draw yet: the plot has a line for each closed status date."


def page(answer: SlipAnswer) -> Page:
    """Why it is late, through whom, at what cost; what nobody explained first, if there is any."""
    first = (not_explained(answer), plot(answer))
    return Page(
        "slip",
        (headline(answer),),
        (
            standing(answer),
            remarks(answer),
            *(first if answer.not_explained.days else reversed(first)),
            causes(answer),
            parties(answer),
            windows(answer),
            each_window(answer),
            shares(answer),
            activities(answer),
            lump_sums(answer),
            direct_costs(answer),
            offers(answer),
            waits(answer),
            durations(answer),
            came(answer),
            evidence(answer),
            snapshots(answer),
        ),
    )


def post_mortem(
    rows: Rows, today: dt.date, snapshots: Mapping[dt.date, Mapping[str, str]]
) -> Paper:
    """The post-mortem as of a day, its caution first and last. snapshots: texts of their tables by
    date.
    """
    from tracker.answers.slip import from_rows

    answer = from_rows(rows, today, snapshots)
    cautions = (*answer.cautions, *texts_of("slip", rows))
    return Paper("Slip: what took longer, and why", page(answer).parts, cautions, main="shares")


def headline(answer: SlipAnswer) -> str:
    """From which opening to which, and at what cost; a snapshot that was changed is told before
    anything else.
    """
    changed = [one.key for one in answer.warnings if one.kind == "snapshot_changed"]
    told = (
        f"! changed after it was closed: the snapshot of {', '.join(changed)} · " if changed else ""
    )
    return told + moved_words(answer)


def moved_words(answer: SlipAnswer) -> str:
    """From which opening to which, and at what cost."""
    if answer.from_ is None:
        return NO_SNAPSHOT
    if not answer.windows:
        return f"Opening {day(answer.now_opening)} at {day(answer.to)}. {ONE_SNAPSHOT}"
    moved = f"{day(answer.baseline_opening)} to {day(answer.now_opening)}"
    more = f" and {amount(passed(answer))} of lump sums" if passed(answer) else ""
    cost = cost_of_days(answer.cost_cents, answer.slip_days, answer.cost_known)
    return (
        f"{slip_words(answer.slip_days)}: {moved} · {cost}{more} · "
        f"not explained {answer.not_explained.days} · made up {abs(answer.made_up.days)}"
    )


def slip_words(days: int) -> str:
    """The slip in words."""
    if not days:
        return "On time"
    return f"{count_of_days(abs(days))} {'later' if days > 0 else 'earlier'}"


def passed(answer: SlipAnswer) -> int:
    """Cents of lump sums whose date the opening passed."""
    return sum(one.amount_cents for one in answer.step_costs)


def standing(answer: SlipAnswer) -> Part:
    """From where to where."""
    slip = answer.slip_days
    cost = cost_of_days(answer.cost_cents, slip, answer.cost_known)
    pairs: list[tuple[str, Cell]] = [
        ("from", answer.from_),
        ("opening forecast then", answer.baseline_opening),
        ("to", answer.to),
        ("opening forecast now", answer.now_opening),
        ("slip", f"{slip:,} calendar days" if answer.windows else ""),
        ("at the cost of a day", cost if answer.windows else ""),
        ("lump sums passed", amount(passed(answer)) if answer.step_costs else ""),
        ("most in the windows to", ", ".join(day(one) for one in answer.most_windows)),
        (
            "most by",
            ", ".join(titled(a) for a in answer.by_activity if a.code in answer.most_activities),
        ),
    ]
    return facts(
        "standing",
        "the slip",
        pairs,
        words=(CAUTION,),
        empty="No status date is closed yet, so that there is no slip to measure.",
        on=NOT_ON_SCREEN,
    )


def remarks(answer: SlipAnswer) -> Part:
    """What is odd about the snapshots; on screen beside the plot."""
    columns = (Column("key", "snapshot", CODE), Column("text", "what"))
    rows = tuple(Row((one.key, one.text), mark=BLOCKS) for one in answer.warnings)
    return Part("remarks", "worth a look", columns, rows, marked=True, on=NOT_ON_SCREEN, wide=True)


def plot(answer: SlipAnswer) -> Part:
    """The forecast opening at each status date: time downwards, the opening to the right."""
    columns = (
        Column("date", "status date", DAY),
        Column("opening", "opening", DAY),
        Column("moved", "days later", NUMBER),
        BARS,
    )
    known = [one.opening for one in answer.openings]
    baseline = answer.baseline_opening
    by_end = {window.to: window for window in answer.windows}
    rows = []
    for place, one in enumerate(answer.openings):
        assert baseline is not None
        moved = (one.opening - known[place - 1]).days if place else None
        window = by_end.get(one.date)
        rows.append(
            Row(
                (one.date, one.opening, moved, Span(baseline, one.opening, min(known), max(known))),
                key=one.date.isoformat(),
                about=partial(window_about, answer, window) if window else tuple,
            )
        )
    odd = [Line(f"{BLOCKS} {one.text}", "warn") for one in answer.warnings]
    return shown_rows(
        "plot",
        "opening over time",
        columns,
        tuple(rows),
        note=f"{BASELINE} the opening as the baseline had it, with a stroke to that of the day"
        if rows
        else "",
        empty=NO_PLOT if not answer.from_ else "",
        count=f"{answer.slip_days:+}" if answer.windows else "",
        about=(Section("Worth a look", odd),) if rows else (),
        on=NOT_ON_PAPER,
    )


def not_explained(answer: SlipAnswer) -> Part:
    """Days that no delay event explains, before everything else."""
    columns = (
        Column("window", "window to", DAY),
        CODES,
        NAMES,
        DAYS,
        COST,
        Column("own", "late itself", NUMBER, on=ON_SCREEN),
    )
    by_end = {window.to: window for window in answer.windows}
    rows = tuple(
        Row(
            (one.window, one.code, one.name, one.days, one.cost, one.own),
            "activities",
            one.code,
            at=one.window.isoformat(),
            mark=BLOCKS,
            about=partial(window_about, answer, by_end[one.window]),
        )
        for one in shares_of(answer)
        if one.cause == NOT_EXPLAINED
    )
    total = answer.not_explained
    words = (
        f"{count_of_days(total.days)}, {amount(total.cost_cents)}: no delay event of the site log"
        " says why."
        if rows
        else "Every day has its reason."
    )
    return Part(
        "not_explained",
        "what nobody explained",
        columns,
        rows,
        (("together", "", "", total.days, total.cost_cents, None),) if rows else (),
        (words,) if answer.windows else (),
        name="not explained",
        count=f"{total.days}",
        marked=True,
        table="delays",
        offers=("open", "add"),
    )


def apart(answer: SlipAnswer) -> tuple[tuple[str, Sum], ...]:
    """What stands beside causes and parties and adds up with each of the two."""
    return (NOT_EXPLAINED, answer.not_explained), (MADE_UP, answer.made_up)


def causes(answer: SlipAnswer) -> Part:
    """By cause, down to the slip."""
    columns = (Column("cause", "cause", most=24), DAYS, COST, BARS)
    found: list[tuple[str, CauseRow | Sum]] = [(one.cause, one) for one in answer.causes]
    rows = tuple(
        Row(
            (name, one.days, one.cost_cents, Bar(one.days)),
            key=name,
            about=partial(cause_about, answer, name),
        )
        for name, one in (*found, *apart(answer))
    )
    return shown_rows(
        "causes",
        "by cause",
        columns,
        rows if answer.windows else (),
        (("slip", answer.slip_days, answer.cost_cents, None),) if answer.windows else (),
        note=" ".join(answer.cautions[1:]),
    )


def parties(answer: SlipAnswer) -> Part:
    """By party, down to the slip. A cost with concurrent days in it never stands without them."""
    columns = (
        Column("party", "through whom", most=26),
        DAYS,
        COST,
        Column("concurrent", "of which concurrent", NUMBER, sums=True),
        Column("came", "came on the day", CODE),
        replace(BARS, on=ON_SCREEN),
    )
    rows = [
        Row(
            (
                p.name,
                p.days,
                p.cost_cents,
                p.concurrent_days,
                f"{p.words_kept} of {p.words_given}" if p.words_given else "",
                Bar(p.days),
            ),
            key=p.party,
            about=partial(party_about, answer, p),
        )
        for p in answer.parties
    ]
    rows += [
        Row(
            (name, one.days, one.cost_cents, one.concurrent_days, "", Bar(one.days)),
            key=name,
            about=partial(cause_about, answer, name),
        )
        for name, one in apart(answer)
    ]
    concurrent = answer.not_explained.concurrent_days + sum(
        p.concurrent_days for p in answer.parties
    )
    foot = ("slip", answer.slip_days, answer.cost_cents, concurrent, "", None)
    return shown_rows(
        "parties",
        "through whom",
        columns,
        tuple(rows) if answer.windows else (),
        (foot,) if answer.windows else (),
        note=" ".join(answer.cautions[1:]),
    )
