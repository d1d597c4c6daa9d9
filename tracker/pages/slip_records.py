"""What stands beside the days of Slip: costs, delay events and those that could be entered,
lessons, the snapshots.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import partial

from tracker.answers.slip import SlipAnswer
from tracker.answers.slip_rows import titled
from tracker.pages.cells import day
from tracker.pages.marks import BLOCKS
from tracker.pages.page import (
    CODE,
    DAY,
    MONEY,
    NOT_ON_PAPER,
    NOT_ON_SCREEN,
    NUMBER,
    ON_PAPER,
    ON_SCREEN,
    PAPER,
    SCREEN,
    Cell,
    Column,
    Line,
    Part,
    Row,
    Section,
)

shown_rows = partial(Part, offers=("open",), frozen=1)
"""A part whose rows can be opened where they stand for one of a table, but not added."""


def beside(
    code: str, names: tuple[str, str], columns: tuple[Column, ...], rows: Iterable[Row], note: str
) -> Part:
    """Costs that are no days, with their total, which their last column adds up. names: the title,
    and a shorter name in the list of parts.
    """
    found = tuple(rows)
    amounts = [row.cells[-1] for row in found]
    total = sum(one for one in amounts if isinstance(one, int))
    foot: tuple[Cell, ...] = ("total", *("" for _ in columns[2:]), total)
    return shown_rows(
        code,
        names[0],
        columns,
        found,
        (foot,) if found else (),
        note=note if found else "",
        name=names[1],
        count=str(len(found) or ""),
        wide=True,
    )


def lump_sums(answer: SlipAnswer) -> Part:
    """Step costs, by themselves."""
    columns = (
        Column("date", "date", DAY),
        Column("window", "passed in the window to", DAY, on=NOT_ON_SCREEN),
        Column("reason", "what for", most=70, grow=True),
        Column("amount", "amount", MONEY, sums=True),
    )
    rows = (
        Row(
            (one.date, one.window, one.reason, one.amount_cents),
            "step_costs",
            one.code,
            at=one.window.isoformat(),
        )
        for one in answer.step_costs
    )
    note = (
        "Nobody's: they fall due when the opening passes their date, and are not among the costs by"
        " day."
    )
    return beside("lump_sums", ("lump sums passed", "lump sums passed"), columns, rows, note)


def direct_costs(answer: SlipAnswer) -> Part:
    """What delay events cost by themselves."""
    columns = (
        Column("code", "event", CODE),
        Column("date", "from", DAY),
        Column("note", "what", most=70, grow=True),
        Column("amount", "amount", MONEY, sums=True),
    )
    rows = (
        Row((one.code, one.date, one.note, one.amount_cents), "delays", one.code)
        for one in answer.direct_costs
    )
    note = "As the site log has them; not among the costs by day."
    return beside("direct", ("direct costs of the site log", "direct costs"), columns, rows, note)


def offers(answer: SlipAnswer) -> Part:
    """Delay events that the records suggest; entering one is up to the owner."""
    columns = (
        Column("from", "from", DAY),
        Column("activity", "activity", CODE, most=14),
        Column("days", "days", NUMBER),
        Column("cause", "cause", CODE, most=16),
        Column("because", "because", most=70, grow=True),
    )
    rows = []
    for place, one in enumerate(answer.offers):
        d = one.delay
        said = (
            one.what,
            f"{d.days} working days of {d.activity} from {day(d.first)} · {d.cause} · {d.party}",
            "e enters it, to be changed as you know it; left alone, it stays an offer.",
        )
        rows.append(
            Row(
                (d.first, d.activity, d.days, d.cause, one.what),
                one.table,
                one.key,
                str(place),
                about=partial(_said, said),
            )
        )
    return shown_rows(
        "offers",
        "could be entered as delay events",
        columns,
        tuple(rows),
        empty="Nothing on record suggests a delay event that the site log lacks.",
        name="could be entered",
        count=str(len(rows) or ""),
        on=NOT_ON_PAPER,
    )


def _said(lines: Sequence[Line | str]) -> tuple[Section, ...]:
    """A section of lines without a title."""
    return (Section("", lines),)


def waits(answer: SlipAnswer) -> Part:
    """Next time: how long gates were waited for."""
    columns = (
        Column("kind", "gates", most=22),
        Column("passed", "passed", NUMBER),
        Column("waiting", "waiting", NUMBER),
        Column("longest", "longest", NUMBER),
        Column("name", "which", grow=True),
    )
    rows = tuple(
        Row(
            (w.kind, w.count, w.still_waiting or None, w.longest, titled(w)),
            "activities",
            w.code,
            w.kind,
        )
        for w in answer.lessons.waits
    )
    return _next_time(
        "waits",
        ("waits for gates", "gates"),
        columns,
        rows,
        "Calendar days from the day on which what a gate waits for was over.",
    )


def durations(answer: SlipAnswer) -> Part:
    """Next time: planned against taken."""
    columns = (
        Column("trade", "trade", most=22),
        Column("count", "finished", NUMBER),
        Column("planned", "planned", NUMBER),
        Column("taken", "taken", NUMBER),
        Column("more", "more", NUMBER, formula="{taken}-{planned}"),
    )
    rows = tuple(
        Row((t.trade, t.count, t.planned, t.taken, t.taken - t.planned), key=t.trade)
        for t in answer.lessons.durations
    )
    return _next_time(
        "durations",
        ("working days by trade", "trades"),
        columns,
        rows,
        "Working days of work finished since the first snapshot: as planned then, and as taken.",
    )


def came(answer: SlipAnswer) -> Part:
    """Next time: who came on the day."""
    columns = (
        Column("name", "contractor", most=34),
        Column("kept", "came on the day", NUMBER),
        Column("due", "of words due", NUMBER),
    )
    rows = tuple(
        Row((c.name, c.kept, c.due), "contractors", c.contractor)
        for c in answer.lessons.came_on_the_day
    )
    return _next_time("came", ("who came on the day", "words"), columns, rows, "")


def _next_time(
    code: str, names: tuple[str, str], columns: tuple[Column, ...], rows: tuple[Row, ...], note: str
) -> Part:
    """A lesson. names: its title, and its shorter name in the list of parts."""
    title, name = (f"next time: {one}" for one in names)
    note = note if rows else ""
    return shown_rows(
        code,
        title,
        columns,
        rows,
        note=note,
        name=name,
        wide=True,
    )


def evidence(answer: SlipAnswer) -> Part:
    """Every delay event of the site log, with its evidence and what it explained."""
    columns = (
        Column("code", "event", CODE),
        Column("first", "from", DAY),
        Column("activity", "activity", CODE, on=NOT_ON_PAPER),
        Column("name", "activity", on=ON_PAPER),
        Column("lost", "days lost", NUMBER),
        Column("days", "explains", NUMBER, sums=True),
        Column("cause", "cause", most=20, on=(SCREEN, PAPER)),
        Column("party", "through whom", most=20, on=(SCREEN, PAPER)),
        Column("note", "what happened", most=60, grow=True),
        Column("evidence", "evidence", on=NOT_ON_SCREEN),
    )
    rows = []
    for e in answer.evidence:
        said = (
            f"{e.activity} {e.name}: {e.cause} · {e.who}",
            *([e.note] if e.note else []),
            f"evidence: {e.evidence or 'none'}",
            f"{e.days_lost} working days lost, {e.used_up} used up; explains {e.days_explained}"
            " days of the opening",
        )
        cells: tuple[Cell, ...] = (e.code, e.first, e.activity, e.name, e.days_lost)
        cells = (*cells, e.days_explained, e.cause, e.who, e.note, e.evidence)
        rows.append(Row(cells, "delays", e.code, about=partial(_said, said)))
    explained = sum(e.days_explained for e in answer.evidence)
    return Part(
        "evidence",
        "evidence",
        columns,
        tuple(rows),
        (("total", "", "", "", None, explained, "", "", "", ""),) if rows else (),
        note="Days lost: working days of the activity. Explains: calendar days of the opening."
        if rows
        else "",
        empty="The site log has no delay event." if answer.windows else "",
        name="delay events",
        count=str(len(rows) or ""),
        table="delays",
        frozen=1,
        new_page=bool(rows),
        wide=True,
    )


def snapshots(answer: SlipAnswer) -> Part:
    """The closed status dates."""
    columns = (
        Column("date", "status date", DAY),
        Column("opening", "opening", DAY),
        Column("rate", "a day", MONEY),
        Column("note", "note", most=60, grow=True),
    )
    odd = {one.key: one.text for one in answer.warnings}
    rows = []
    for head in answer.heads:
        key = head.date.isoformat()
        used = answer.from_ is not None and head.date >= answer.from_
        said: list[Line | str] = [Line(odd[key], "warn")] if key in odd else []
        if not used:
            said.append(
                Line("before the baseline that is held against: not part of the slip", "muted")
            )
        said.append(f"sha-256 {head.hash}")
        note = " · ".join(part for part in ("baseline" * head.baseline, head.note) if part)
        rows.append(
            Row(
                (head.date, head.opening, head.cost_of_a_day, note),
                at=key,
                mark=BLOCKS if key in odd else "",
                about=partial(_said, said),
            )
        )
    return shown_rows(
        "snapshots",
        "snapshots",
        columns,
        tuple(rows),
        count=str(len(rows) or ""),
        marked=True,
        frozen=2,
        about=_said(
            (
                "c closes a status date; b marks a baseline, from which the slip is measured; a"
                " snapshot is never changed.",
            )
        ),
        on=ON_SCREEN,
    )
