"""Path as sheets."""

from __future__ import annotations

from tracker.answers.path import PathActivity, PathAnswer
from tracker.command_line.sheets import Col, Sheet, day, facts, missing_costs, number, short_day
from tracker.command_line.views.morning import day_costs, forecast
from tracker.schedule.lateness import late_words


def sheets(answer: PathAnswer) -> list[Sheet]:
    """The opening, what drives it, every activity, gates, and what is odd."""
    return [
        standing(answer),
        driving(answer),
        activities(answer),
        gates(answer),
        clashes(answer),
        remarks(answer),
    ]


def standing(answer: PathAnswer) -> Sheet:
    """Forecast against promise."""
    note = (
        f"As of {day(answer.as_of)}: what happened in more than a week since is not entered."
        if answer.as_of
        else ""
    )
    if answer.gone_by:
        gone = (
            f"{'cut-off of ' if g.what == 'cut-off' else ''}{g.code} {day(g.date)}"
            for g in answer.gone_by
        )
        note += f" Gone by since then: {'; '.join(gone)}."
    return facts(
        "",
        [
            ("status date", day(answer.status_date)),
            ("forecast opening", forecast(answer.forecast_opening, answer.opening_is_over)),
            ("promised opening", day(answer.promised_opening)),
            ("against the promise", late_words(answer.days_late, answer.opening_is_over)),
            ("cost of a day", day_costs(answer.cost_of_a_day_cents, answer.day_cost_missing)),
        ],
        note,
    )


def driving(answer: PathAnswer) -> Sheet:
    """The longest path that is still to be walked."""
    known = {a.code: a for a in answer.activities}
    ahead = [known[code] for code in answer.longest_path if known[code].state != "done"]
    columns = (
        Col(""),
        Col("start", keep=True),
        Col("finish", keep=True),
        Col("days", right=True),
        Col("state", keep=True),
    )
    rows = tuple(
        (a.name, short_day(a.early_start), short_day(a.early_finish), number(a.remaining), a.state)
        for a in ahead
    )
    return Sheet("Drives the opening", columns, rows, empty="No activity drives the opening.")


def activities(answer: PathAnswer) -> Sheet:
    """Every activity in row order.

    Float in working days of its own calendar; later: than in the baseline, calendar days.
    """
    held = any(a.baseline_days is not None for a in answer.activities)
    columns = (
        Col("", keep=True),
        Col("activity"),
        Col("state", keep=True),
        Col("start", keep=True),
        Col("finish", keep=True),
        Col("float", right=True),
        *((Col("later", right=True),) if held else ()),
    )
    rows = tuple(
        (
            weight(a),
            a.code if a.name == a.code else f"{a.code} {a.name}",
            "failed" if a.failed else a.state,
            short_day(a.early_start),
            short_day(a.early_finish),
            number(a.total_float),
            *((number(a.baseline_days),) if held else ()),
        )
        for a in answer.activities
    )
    note = (
        "━ drives the opening   ═ within a week of driving   = done   float: working days, or"
        " meetings"
    )
    if held:
        note += "   later: calendar days after the baseline"
    empty = "No activity yet: `tracker add FILE activities CODE duration=DAYS`."
    return Sheet("Activities", columns, rows, note=note if rows else "", empty=empty)


def weight(a: PathActivity) -> str:
    """How near an activity is to the opening, as a mark."""
    if a.state == "done":
        return "" if a.failed else "="
    return "━" if a.on_longest_path else "═" if a.near_critical else ""


def gates(answer: PathAnswer) -> Sheet:
    """What must be passed, and what missing its meeting costs."""
    names = {a.code: a.name for a in answer.activities}
    columns = (
        Col("gate"),
        Col("on", keep=True),
        Col("file by", keep=True),
        Col("waits", right=True),
        Col("if missed", keep=True),
        Col("days lost", right=True),
        Col("costs", right=True),
    )
    rows = tuple(
        (
            names[g.code],
            short_day(g.date),
            short_day(g.cutoff),
            number(g.waits_days),
            short_day(g.next_date_if_missed),
            number(g.opening_days_lost),
            missing_costs(g.cost_if_missed_cents, g.opening_days_lost, answer.day_cost_known),
        )
        for g in answer.gates
    )
    return Sheet("Gates", columns, rows)


def clashes(answer: PathAnswer) -> Sheet:
    """Trades that are planned on two activities at once."""
    from tracker.command_line.views import any_answer

    found = (
        any_answer.sheet_of(answer.clashes, "One crew on two activities at once")
        if answer.clashes
        else None
    )
    return found or Sheet("")


def remarks(answer: PathAnswer) -> Sheet:
    """What the schedule has to say about itself."""
    return Sheet(
        "Worth a look" if answer.warnings else "",
        (Col("~"), Col("")),
        tuple(("~", w.text) for w in answer.warnings),
    )
