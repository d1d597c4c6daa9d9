"""A draw is prepared: its lines from what is claimable, and the applications and invoices that it
covers, in one step.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from dataclasses import dataclass
from typing import Any

from tracker.actions.enter_interest import not_billed
from tracker.actions.keeping import Sound, sound, step
from tracker.money.draft_draw import DraftDraw, draft_draw
from tracker.money.draw_package import CAUTION, PaperState, package
from tracker.money.draw_sheet import ABOVE_BUDGET
from tracker.money.interest import next_month
from tracker.money.records import Draw, DrawLine
from tracker.money.standing import Standing, standing
from tracker.project_file.store import ProjectFile, Step
from tracker.tables.books import books_of
from tracker.tables.row_edits import parse_key, with_cells, with_row
from tracker.values.money import dollars
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows


@dataclass(frozen=True, slots=True)
class PreparedDraw:
    """A draft draw as it stands now. step: None where it was so already. asked: all lines together,
    cents.

    applications: by contract and number, invoices: by code, that it covers. papers: its package, in
    the usual order. notes: what stays out, and what stands against it.
    """

    step: Step | None
    draw: Draw
    lines: tuple[DrawLine, ...]
    asked: int
    applications: tuple[tuple[str, int], ...]
    invoices: tuple[str, ...]
    papers: tuple[PaperState, ...]
    notes: tuple[str, ...]


def prepare_draw(
    project: ProjectFile,
    number: int,
    period_to: dt.date,
    today: dt.date,
    leave_out_above_budget: bool = False,
    only_try: bool = False,
) -> PreparedDraw:
    """Make or renew a draft draw through a day: its lines by source and cost line, and what it
    covers.

    Lines that the draft had are computed anew. leave_out_above_budget: what lies above a line's
    budget now stays out, and is said so; else it is refused. only_try: tell what it would ask and
    write nothing. ProblemError also where the draw is sent already, a later one exists, or nothing
    is claimable.
    """

    def change(before: Rows) -> tuple[Sound, PreparedDraw]:
        draw, rows = _draft(before, number, period_to)
        known = standing(books_of(rows, today))
        made = draft_draw(known, number, period_to)
        above = [kept for kept in made.kept if kept.reason == ABOVE_BUDGET]
        if above and not leave_out_above_budget:
            do = "move budget to the line first, with the reason, or leave that part out"
            raise ProblemError(
                Problem(
                    "the draw would go above the line's budget now",
                    do,
                    "cost_lines",
                    k.cost_line,
                    "budget",
                    dollars(k.amount),
                )
                for k in above
            )
        if not made.lines:
            do = (
                "verify applications and open their gates, or enter invoices; what equity has paid"
                " is not asked again"
            )
            raise ProblemError(
                Problem(
                    f"nothing can be asked through {period_to.isoformat()}",
                    do,
                    "draws",
                    str(number),
                )
            )
        after = sound(before, _with_draw(rows, known, draw, made))
        then = standing(books_of(after, today))
        return after, PreparedDraw(
            step=None,
            draw=draw,
            lines=made.lines,
            asked=made.asked,
            applications=made.applications,
            invoices=made.invoices,
            papers=package(then.books, draw, then.accounts, then.gates),
            notes=(
                *_renewed(before, made, number),
                *_kept_out(known, made, number, period_to),
                *_interest(before, period_to, today),
                *_against(known, made),
                CAUTION,
            ),
        )

    return step(project, f"prepared draw {number}", change, only_try=only_try)


def _draft(rows: Rows, number: int, period_to: dt.date) -> tuple[Draw, dict[str, Any]]:
    """The draft's row, and the rows with it and without its lines.

    ProblemError if it can't be prepared any more.
    """
    at = parse_key(Draw, str(number))
    draws: dict[int, Draw] = {d.number: d for d in rows.get("draws", ())}
    old = draws.get(number)
    if old is not None and old.state != "draft":
        do = "prepare the next draw: what was cut or came back is claimable again"
        raise ProblemError(
            Problem(
                f"the draw is {old.state} already", do, "draws", str(number), "state", old.state
            )
        )
    if later := [n for n in draws if n > number]:
        do = f"prepare draw {max(later)}, or a new one after it"
        raise ProblemError(
            Problem(f"there is a later draw, {max(later)}", do, "draws", str(number))
        )
    ends = [
        d.period_to
        for d in draws.values()
        if d.number < number and d.period_to and d.state != "returned"
    ]
    if ends and period_to < max(ends):
        do = f"give a day on or after {max(ends).isoformat()}"
        what = "the period ends before that of an earlier draw"
        raise ProblemError(
            Problem(what, do, "draws", str(number), "period_to", period_to.isoformat())
        )
    draw: Draw = with_cells(Draw, at, old, {"period_to": period_to.isoformat()}, rows)
    made = with_row(rows, draw, old)
    made["draw_lines"] = tuple(line for line in rows.get("draw_lines", ()) if line.draw != number)
    return draw, made


def _with_draw(
    rows: dict[str, Any], known: Standing, draw: Draw, made: DraftDraw
) -> dict[str, Any]:
    """The rows with the draft's lines, and with its number on what it covers."""
    return {
        **rows,
        "draw_lines": (*rows["draw_lines"], *made.lines),
        "applications": tuple(
            (
                dataclasses.replace(a, draw=draw.number)
                if (a.contract, a.number) in made.applications
                else a
            )
            for a in rows.get("applications", ())
        ),
        "invoices": tuple(
            dataclasses.replace(i, draw=draw.number) if i.code in made.invoices else i
            for i in rows.get("invoices", ())
        ),
    }


def _renewed(before: Rows, made: DraftDraw, number: int) -> list[str]:
    """The draft had other lines before."""
    old = [line for line in before.get("draw_lines", ()) if line.draw == number]
    if not old or set(old) == set(made.lines):
        return []
    return [
        f"the draft asked {dollars(sum(line.asked for line in old))} before: its lines are computed"
        " anew"
    ]


def _kept_out(known: Standing, made: DraftDraw, number: int, period_to: dt.date) -> list[str]:
    """What stays out of the draw, and why."""
    notes = [
        f"{kept.cost_line or 'what is payable'}: {dollars(kept.amount)} stays out, {kept.reason}"
        for kept in made.kept
    ]
    notes += [
        f"{words} names draw {number}, but no money of it is asked" for words in made.left_by_itself
    ]
    last = known.cleared(period_to)
    for account in known.accounts.values():
        for state in (*account.states, *account.entered):
            key = state.contract, state.number
            if state.period_to > period_to or (
                state.contract in last and state.number <= last[state.contract].number
            ):
                continue
            closed = ", ".join(gate.gate for gate in known.gates[key] if not gate.open)
            why = f"closed: {closed}" if closed else "one before it is not cleared"
            notes.append(f"application {state.contract}/{state.number} is not in it, {why}")
    return notes


def _interest(rows: Rows, period_to: dt.date, today: dt.date) -> list[str]:
    """Interest of months that ended by the end of the period and that no bill has yet."""
    return [
        f"interest of {one.source} for {one.month:%B %Y}, {dollars(one.amount)}, is not in it:"
        " enter its bill first"
        for one in not_billed(rows, today)
        if next_month(one.month) <= period_to + dt.timedelta(days=1)
    ]


def _against(known: Standing, made: DraftDraw) -> list[str]:
    """A source that is asked for less than its minimum."""
    asked: dict[str, int] = {}
    for line in made.lines:
        asked[line.source] = asked.get(line.source, 0) + line.asked
    return [
        f"{s.name or s.code} is asked for {dollars(asked[s.code])}, less than its minimum of"
        f" {dollars(s.minimum_draw)}"
        for s in known.books.table("sources")
        if s.minimum_draw and 0 < asked.get(s.code, 0) < s.minimum_draw
    ]
