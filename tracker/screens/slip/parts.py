"""The parts of Slip: rows with bars of days, each with what is known of it below."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tracker.answers.slip_rows import titled
from tracker.pages.cells import day
from tracker.screens.entry.money_words import NOTHING, amount
from tracker.screens.slip.words import (
    axis,
    bar,
    code_about,
    party_words,
    plotted,
    share_lines,
    signed,
    slip_words,
    window_about,
)
from tracker.screens.table.marks import AT_RISK, BLOCKS, FINE
from tracker.screens.table.page_parts import mark_piece
from tracker.screens.table.parts_view import Part, PartRow
from tracker.screens.table.rows_table import Cell, Col
from tracker.screens.table.sections import Line, Section

NAMES_WIDE, NAMES, BESIDE = 34, 29, 52
"""Cells that the list of parts takes with its border, and those that stand beside a bar of days."""
DATES_WIDE, DATES = 42, 32
"""Cells that stand beside a line of the plot."""
NARROW = 58
"""Below so many cells the list of parts stands above the rows."""
ONLY_OPEN = ("open",)


def parts_of(answer: Any, wide: bool, width: int) -> Sequence[Part]:
    """All parts; what nobody explained stands first where there is any."""
    room = width - (NAMES_WIDE if wide else NAMES if width >= NARROW else 2)
    bars = max(8, min(60, room - BESIDE))
    unexplained = not_explained_part(answer)
    plot = plot_part(answer, wide, max(8, min(80, room - (DATES_WIDE if wide else DATES))))
    first = (unexplained, plot) if answer.not_explained.days else (plot, unexplained)
    return [
        *first,
        cause_part(answer, bars),
        party_part(answer, bars, wide),
        windows_part(answer, wide),
        activities_part(answer, bars),
        costs_part(answer),
        offers_part(answer),
        *lessons_parts(answer),
        events_part(answer),
        snapshots_part(answer),
    ]


def cautions(answer: Any) -> Section:
    """What must be said with the figures."""
    return Section("Please note", [Line(text, "muted") for text in answer.cautions])


def plot_part(answer: Any, wide: bool, cells: int) -> Part:
    """The forecast opening at each status date: time downwards, the opening to the right."""
    known = [one.opening for one in answer.openings]
    ends = (min(known), max(known)) if known else None
    title = axis(*ends, cells) if ends else ""
    columns = [
        Col("status date", width=15 if wide else 10),
        Col("opening", width=15 if wide else 10),
        Col("days", width=5, right=True),
    ]
    columns.append(Col(title, width=cells))
    rows = []
    before = None
    for one in answer.openings:
        moved = "" if before is None else signed((one.opening - before).days)
        line = plotted(one.opening, answer.baseline_opening, *ends, cells) if ends else ""
        dates: list[Cell] = (
            [day(one.date), day(one.opening)]
            if wide
            else [one.date.isoformat(), one.opening.isoformat()]
        )
        window = next((w for w in answer.windows if w.to == one.date), None)
        about = (lambda w=window: window_about(answer, w)) if window else tuple
        rows.append(PartRow("", one.date.isoformat(), [*dates, moved, line], about))
        before = one.opening
    note = (
        Section(
            "",
            [Line("┆ the opening as the baseline had it   ━ later than that   · earlier", "muted")],
        )
        if known
        else Section("", [])
    )
    told = Section("Worth a look", [Line(f"! {w.text}", "warn") for w in answer.warnings])
    empty = (
        []
        if known
        else [
            Section(
                "",
                [
                    "Nothing to draw yet: the plot has a line for each closed status date. c closes"
                    " one."
                ],
            )
        ]
    )
    count = signed(answer.slip_days) if answer.windows else ""
    return Part(
        "plot",
        "opening over time",
        "",
        columns,
        rows,
        count,
        about=[told, *empty, note],
        offers=ONLY_OPEN,
        frozen=1,
    )


def not_explained_part(answer: Any) -> Part:
    """Days that no delay event explains."""
    columns = [
        Col("", width=1),
        Col("window to", width=10),
        Col("activity", most=44, grow=True),
        Col("days", right=True),
    ]
    columns.append(Col("late itself", right=True))
    rows = []
    for window in answer.windows:
        for step in window.activities:
            for one in step.reasons:
                if not one.event and one.days > 0:
                    cells: list[Cell] = [
                        mark_piece(BLOCKS),
                        window.to.isoformat(),
                        titled(step),
                        str(one.days),
                    ]
                    cells.append(str(step.own_lateness))
                    about = lambda w=window: window_about(answer, w)  # noqa: E731
                    rows.append(
                        PartRow("activities", step.code, cells, about, at=window.to.isoformat())
                    )
    total = answer.not_explained
    fine = "Every day has its reason." if answer.windows else ""
    said = (
        [
            f"{total.days} days, {amount(total.cost_cents)}: no delay event of the site log says"
            " why. e enters one."
        ]
        if total.days
        else []
    )
    foot = [["", "", "together", str(total.days), ""]]
    lines = [Section("", [*said, *([] if total.days or not fine else [fine])])]
    return Part(
        "not_explained",
        "not explained",
        "delays",
        columns,
        rows,
        str(total.days),
        foot,
        2,
        lines,
        ("open", "add"),
    )


def cause_part(answer: Any, cells: int) -> Part:
    """By cause, with a bar each."""
    most = max(
        [abs(one.days) for one in (*answer.causes, answer.not_explained, answer.made_up)], default=0
    )
    columns = [
        Col("cause", most=24),
        Col("days", width=5, right=True),
        Col("costs", most=14, right=True),
        Col("", width=cells),
    ]
    rows = []
    for one in answer.causes:
        about = lambda cause=one.cause: [Section(cause, share_lines(answer, "cause", cause))]  # noqa: E731
        rows.append(
            PartRow(
                "",
                one.cause,
                [one.cause, str(one.days), amount(one.cost_cents), bar(one.days, most, cells)],
                about,
            )
        )
    rows += apart_rows(answer, most, cells)
    foot = [["slip", str(answer.slip_days), amount(answer.cost_cents), ""]]
    shown = rows if answer.windows else []
    return Part(
        "causes", "by cause", "", columns, shown, "", foot, 1, [cautions(answer)], ONLY_OPEN
    )


def apart_rows(answer: Any, most: int, cells: int, between: int = 0) -> list[PartRow]:
    """Not explained and made up, as rows that add up with causes and with parties; between: empty
    cells before the bar.
    """
    found = []
    for name, one in (("not explained", answer.not_explained), ("made up", answer.made_up)):
        cells_: list[Cell] = [
            name,
            str(one.days),
            amount(one.cost_cents),
            bar(one.days, most, cells),
        ]
        if between:
            cells_[3:3] = [str(one.concurrent_days or ""), ""]
        lines = share_lines(answer, "cause", name)
        found.append(
            PartRow("", name, cells_, lambda name=name, lines=lines: [Section(name, lines)])  # type: ignore[misc]
        )
    return found


def party_part(answer: Any, cells: int, wide: bool) -> Part:
    """By party. A cost with concurrent days in it never stands without their number."""
    most = max(
        [abs(one.days) for one in (*answer.parties, answer.not_explained, answer.made_up)],
        default=0,
    )
    columns = [
        Col("through whom", most=26),
        Col("days", width=5, right=True),
        Col("costs", most=14, right=True),
    ]
    columns += [Col("concurrent", width=10, right=True), Col("came on the day", width=15)]
    columns.append(Col("", width=max(10, cells - 18) if wide else 10))
    rows = []
    for one in answer.parties:
        words = f"{one.words_kept} of {one.words_given}" if one.words_given else NOTHING
        cells_: list[Cell] = [
            one.name,
            str(one.days),
            amount(one.cost_cents),
            str(one.concurrent_days or ""),
        ]
        cells_ += [words, bar(one.days, most, columns[-1].width or 10)]
        about = lambda p=one: party_about(answer, p)  # noqa: E731
        rows.append(PartRow("", one.party, cells_, about))
    rows += apart_rows(answer, most, columns[-1].width or 10, 2)
    foot = [["slip", str(answer.slip_days), amount(answer.cost_cents), "", "", ""]]
    shown = rows if answer.windows else []
    return Part(
        "parties", "through whom", "", columns, shown, "", foot, 1, [cautions(answer)], ONLY_OPEN
    )


def party_about(answer: Any, party: Any) -> list[Section]:
    """A party's days window by window, with what is concurrent in them, and its words."""
    lines = share_lines(answer, "party", party.party)
    if party.concurrent_days:
        said = (
            f"~ of its {party.days} days {party.concurrent_days} are of windows in which delays ran"
            " at the same time"
        )
        lines.append(Line(said, "warn"))
    if party.words_given:
        lines.append(f"came on the day: {party.words_kept} of {party.words_given} words")
    return [Section(party.name, lines)]


def windows_part(answer: Any, wide: bool) -> Part:
    """Window by window; what each is made of stands below."""
    columns = [
        Col("", width=1),
        Col("window to", width=10),
        Col("progress", right=True),
        Col("revised", right=True),
    ]
    columns += [
        Col("days", right=True),
        Col("costs", most=14, right=True),
        Col("not explained", right=True),
    ]
    columns += [Col("a day", most=10, right=True), Col("note", most=40, grow=True)] if wide else []
    rows = []
    for one in answer.windows:
        mark = BLOCKS if one.not_explained_days else AT_RISK if one.concurrent else FINE
        cells: list[Cell] = [
            mark_piece(mark),
            one.to.isoformat(),
            str(one.progress_days),
            str(one.revision_days),
            str(one.days),
        ]
        cells += [amount(one.cost_cents), str(one.not_explained_days or NOTHING)]
        cells += (
            [
                amount(one.cost_of_a_day_cents),
                ("concurrent · " if one.concurrent else "") + one.note,
            ]
            if wide
            else []
        )
        rows.append(PartRow("", one.to.isoformat(), cells, lambda w=one: window_about(answer, w)))  # type: ignore[misc]
    progress, revised = (
        sum(getattr(w, name) for w in answer.windows) for name in ("progress_days", "revision_days")
    )
    unexplained = str(answer.not_explained.days)
    foot: list[Cell] = [
        "",
        "slip",
        str(progress),
        str(revised),
        str(answer.slip_days),
        amount(answer.cost_cents),
        unexplained,
    ]
    foot += ["", ""] if wide else []
    about = [
        Section(
            "",
            [
                Line(
                    "~ concurrent: delays ran at the same time   ! not explained   Enter goes to"
                    " its activities",
                    "muted",
                )
            ],
        )
    ]
    return Part(
        "windows",
        "windows",
        "",
        columns,
        rows,
        str(len(rows) or ""),
        [foot],
        2,
        about if rows else [],
        ONLY_OPEN,
    )


def activities_part(answer: Any, cells: int) -> Part:
    """By activity over all windows."""
    most = max([abs(one.days) for one in answer.by_activity], default=0)
    columns = [
        Col("activity", most=30),
        Col("days", width=5, right=True),
        Col("costs", most=14, right=True),
        Col("", width=max(10, cells - 8)),
    ]
    known = {e.code for w in answer.windows for e in w.activities}
    rows = []
    for one in answer.by_activity:
        words: list[Cell] = [
            titled(one),
            str(one.days),
            amount(one.cost_cents),
            bar(one.days, most, columns[-1].width or 10),
        ]
        table = "activities" if one.code in known else ""
        rows.append(PartRow(table, one.code, words, lambda code=one.code: code_about(answer, code)))  # type: ignore[misc]
    foot = [["slip", str(answer.slip_days), amount(answer.cost_cents), ""]]
    return Part(
        "activities",
        "by activity",
        "",
        columns,
        rows,
        str(len(rows) or ""),
        foot,
        1,
        offers=ONLY_OPEN,
    )


def costs_part(answer: Any) -> Part:
    """Lump sums passed and direct costs, by themselves: they are no days."""
    columns = [
        Col("date", width=10),
        Col("dollars", most=14, right=True),
        Col("what for", most=70, grow=True),
    ]
    rows = [
        PartRow(
            "step_costs",
            s.code,
            [s.date.isoformat(), amount(s.amount_cents), s.reason],
            at=s.window.isoformat(),
        )
        for s in answer.step_costs
    ]
    rows += [
        PartRow(
            "delays", d.code, [d.date.isoformat(), amount(d.amount_cents), f"{d.code} {d.note}"]
        )
        for d in answer.direct_costs
    ]
    about = [
        Section(
            "",
            [
                Line(
                    "Lump sums whose date the opening passed are nobody's; direct costs are as the"
                    " site log has them.",
                    "muted",
                )
            ],
        )
    ]
    return Part(
        "costs",
        "beside the days",
        "",
        columns,
        rows,
        str(len(rows) or ""),
        about=about,
        offers=ONLY_OPEN,
        frozen=1,
    )


def offers_part(answer: Any) -> Part:
    """Delay events that could be entered."""
    columns = [
        Col("from", width=10),
        Col("activity", most=14),
        Col("days", right=True),
        Col("cause", most=16),
        Col("because", most=70, grow=True),
    ]
    rows = []
    for place, one in enumerate(answer.offers):
        d = one.delay
        cells: list[Cell] = [d.first.isoformat(), d.activity, str(d.days), d.cause, one.what]
        said = [
            one.what,
            f"{d.days} working days of {d.activity} from {day(d.first)} · {d.cause} · {d.party}",
            "e enters it, to be changed as you know it; left alone, it stays an offer.",
        ]
        rows.append(
            PartRow(one.table, one.key, cells, lambda said=said: [Section("", said)], at=str(place))  # type: ignore[misc]
        )
    about = (
        []
        if rows
        else [Section("", ["Nothing on record suggests a delay event that the site log lacks."])]
    )
    return Part(
        "offers",
        "could be entered",
        "",
        columns,
        rows,
        str(len(rows) or ""),
        about=about,
        offers=ONLY_OPEN,
        frozen=1,
    )


def lessons_parts(answer: Any) -> list[Part]:
    """What to do next time."""
    known = answer.lessons
    waits = [
        PartRow(
            "activities",
            w.code,
            [w.kind, str(w.count), str(w.still_waiting or NOTHING), str(w.longest), titled(w)],
            at=w.kind,
        )
        for w in known.waits
    ]
    columns = [
        Col("gates", most=22),
        Col("passed", right=True),
        Col("waiting", right=True),
        Col("longest", right=True),
        Col("which", grow=True),
    ]
    said = [
        Section(
            "",
            [Line("Calendar days from the day on which what a gate waits for was over.", "muted")],
        )
    ]
    taken = [
        PartRow(
            "",
            t.trade,
            [t.trade, str(t.count), str(t.planned), str(t.taken), signed(t.taken - t.planned)],
        )
        for t in known.durations
    ]
    of_trades = [
        Col("trade", most=22),
        Col("finished", right=True),
        Col("planned", right=True),
        Col("taken", right=True),
        Col("more", right=True),
    ]
    came = [
        PartRow("contractors", c.contractor, [c.name, f"{c.kept} of {c.due}"])
        for c in known.came_on_the_day
    ]
    of_words = [Col("contractor", most=34), Col("came on the day", right=True)]
    planned = [
        Section(
            "",
            [
                Line(
                    "Working days of work finished since the first snapshot: as planned then, and"
                    " as taken.",
                    "muted",
                )
            ],
        )
    ]
    return [
        Part(
            "waits",
            "next time: gates",
            "",
            columns,
            waits,
            "",
            about=said,
            offers=ONLY_OPEN,
            frozen=1,
        ),
        Part(
            "durations",
            "next time: trades",
            "",
            of_trades,
            taken,
            "",
            about=planned,
            offers=ONLY_OPEN,
            frozen=1,
        ),
        Part("came", "next time: words", "", of_words, came, "", offers=ONLY_OPEN, frozen=1),
    ]


def events_part(answer: Any) -> Part:
    """The site log's delay events, with what each explained."""
    columns = [
        Col("event", most=8),
        Col("from", width=10),
        Col("activity", most=12),
        Col("lost", right=True),
        Col("explains", right=True),
    ]
    columns += [
        Col("cause", most=20),
        Col("through whom", most=20),
        Col("what happened", most=60, grow=True),
    ]
    rows = []
    for e in answer.evidence:
        cells: list[Cell] = [
            e.code,
            e.first.isoformat(),
            e.activity,
            str(e.days_lost),
            str(e.days_explained),
            e.cause,
            e.who,
            e.note,
        ]
        said = [
            f"{e.activity} {e.name}: {e.cause} · {e.who}",
            e.note,
            f"evidence: {e.evidence or 'none'}",
        ]
        said.append(
            f"{e.days_lost} working days lost, {e.used_up} used up; explains {e.days_explained}"
            " days of the opening"
        )
        rows.append(
            PartRow(
                "delays",
                e.code,
                cells,
                lambda said=said: [Section("", [one for one in said if one])],  # type: ignore[misc]
            )
        )
    return Part("events", "delay events", "delays", columns, rows, str(len(rows) or ""), frozen=1)


def snapshots_part(answer: Any) -> Part:
    """The closed status dates."""
    columns = [
        Col("", width=1),
        Col("status date", width=15),
        Col("opening", width=15),
        Col("a day", most=12, right=True),
        Col("note", most=60, grow=True),
    ]
    odd = {w.key: w.text for w in answer.warnings}
    rows = []
    for head in answer.heads:
        key = head.date.isoformat()
        name = "baseline" + (" · " if head.note else "") if head.baseline else ""
        cells: list[Cell] = [
            mark_piece(BLOCKS if key in odd else FINE),
            day(head.date),
            day(head.opening),
            amount(head.cost_of_a_day),
            name + head.note,
        ]
        used = answer.from_ is not None and head.date >= answer.from_
        said: list[Line | str] = [Line(odd[key], "warn")] if key in odd else []
        said += (
            []
            if used
            else [Line("before the baseline that is held against: not part of the slip", "muted")]
        )
        said.append(f"sha-256 {head.hash}")
        rows.append(PartRow("", "", cells, lambda said=said: [Section("", said)], at=key))  # type: ignore[misc]
    about = [
        Section(
            "",
            [
                "c closes a status date; b marks a baseline, from which the slip is measured; a"
                " snapshot is never changed."
            ],
        )
    ]
    return Part(
        "snapshots",
        "snapshots",
        "",
        columns,
        rows,
        str(len(rows) or ""),
        about=about,
        offers=ONLY_OPEN,
    )


__all__ = ["parts_of", "party_words", "slip_words"]
