"""The steps of a draw after it is prepared: sent, funded (whole or cut), returned; and the papers
of its package.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tracker.actions.attached import attached_file, sha256_of, stored_path, with_papers
from tracker.actions.keeping import Sound, sound, step
from tracker.actions.rows import Saved
from tracker.money.draw_package import PaperState, package
from tracker.money.draw_sheet import sheet
from tracker.money.drawn import state_on
from tracker.money.records import Draw, DrawLine, DrawPaper
from tracker.money.standing import Standing, standing
from tracker.project_file.store import ProjectFile, StaleError, Step
from tracker.tables.books import books_of
from tracker.tables.row_edits import with_row
from tracker.values.money import dollars
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows, key_text, new


@dataclass(frozen=True, slots=True)
class FundedLine:
    """What came for one line of a draw, in cents; why: the reason of a cut, blank where nothing was
    cut.
    """

    source: str
    cost_line: str
    funded: int
    why: str = ""


@dataclass(frozen=True, slots=True)
class DrawStep:
    """What a step of a draw did, or would do (step: None). asked, came: all lines together, cents.

    claimable: by cost line, the cents that can be asked again after it and could not before.
    papers: its package.
    """

    step: Step | None
    draw: Draw
    asked: int
    came: int
    claimable: Mapping[str, int]
    papers: tuple[PaperState, ...]
    notes: tuple[str, ...]


def send_draw(
    project: ProjectFile, number: int, on: dt.date, today: dt.date, only_try: bool = False
) -> DrawStep:
    """A draft goes to the lender. Notes: papers that are missing in its package.

    ProblemError where there is no such draw, it is no draft, it asks nothing, a line lies above its
    budget, or the day lies ahead. only_try: tell and write nothing.
    """

    def sent(before: Rows, draw: Draw, lines: tuple[DrawLine, ...]) -> dict[str, Any]:
        _must_be(draw, today, ("draft",), "prepare the next one")
        _day(draw, "sent", on, today)
        if not any(line.asked for line in lines):
            raise ProblemError(
                _problem(draw, "the draw asks for nothing", "prepare it anew", "state")
            )
        known = standing(books_of(before, today))
        above = [
            (code, one.above_budget)
            for code, one in sheet(number, known.budgets, known.drawn).items()
            if one.above_budget
        ]
        if above:
            do = "move budget to the line first, with the reason, then prepare the draw anew"
            raise ProblemError(
                Problem(
                    "the draw goes above the line's budget now",
                    do,
                    "cost_lines",
                    code,
                    "budget",
                    dollars(cents),
                )
                for code, cents in above
            )
        return with_row(before, dataclasses.replace(draw, state="sent", sent=on), draw)

    return _step(project, number, f"sent draw {number}", today, sent, only_try)


def fund_draw(
    project: ProjectFile,
    number: int,
    on: dt.date,
    funded: tuple[FundedLine, ...],
    today: dt.date,
    only_try: bool = False,
) -> DrawStep:
    """The lender's money came, line by line.

    A line that is not named came as asked; what was cut can be asked again.

    ProblemError where the draw was not sent, the day is before it was sent or lies ahead, a line is
    none of the draw's, more came than was asked, or a cut has no reason. only_try: tell and write
    nothing.
    """

    def came(before: Rows, draw: Draw, lines: tuple[DrawLine, ...]) -> dict[str, Any]:
        _must_be(
            draw,
            today,
            ("sent",),
            "send it first" if draw.state == "draft" else "prepare the next one",
        )
        _day(draw, "funded_on", on, today, draw.sent, "the day on which it was sent")
        given = {(one.source, one.cost_line): one for one in funded}
        if unknown := given.keys() - {(line.source, line.cost_line) for line in lines}:
            where = ", ".join("/".join(key) for key in sorted(unknown))
            raise ProblemError(
                _problem(
                    draw, "the draw has no such line", "choose lines that it has", "number", where
                )
            )
        made = {id(line): _funded(line, given.get((line.source, line.cost_line))) for line in lines}
        after = with_row(before, dataclasses.replace(draw, state="funded", funded_on=on), draw)
        return {
            **after,
            "draw_lines": tuple(made.get(id(line), line) for line in before["draw_lines"]),
        }

    return _step(project, number, f"funded draw {number}", today, came, only_try)


def return_draw(
    project: ProjectFile, number: int, why: str, today: dt.date, only_try: bool = False
) -> DrawStep:
    """A sent draw comes back: it counts for nothing, and what it asked can be asked again in the
    next one. why: in the history.

    ProblemError where the draw was not sent, or no reason is given. only_try: tell and write
    nothing.
    """

    def came_back(before: Rows, draw: Draw, lines: tuple[DrawLine, ...]) -> dict[str, Any]:
        _must_be(
            draw,
            today,
            ("sent",),
            (
                "undo its funding first"
                if draw.state == "funded"
                else "only a draw that was sent comes back"
            ),
        )
        if not why.strip():
            raise ProblemError(
                _problem(
                    draw, "it is not said why it came back", "say what the lender wants", "state"
                )
            )
        return with_row(before, dataclasses.replace(draw, state="returned"), draw)

    return _step(
        project, number, f"draw {number} came back", today, came_back, only_try, why.strip()
    )


def mark_paper(
    project: ProjectFile,
    number: int,
    what: str,
    state: str,
    *,
    reason: str = "",
    evidence: str = "",
    paper: Path | None = None,
    expected: DrawPaper | None = None,
) -> Saved:
    """Mark a paper of a draw's package as present, missing or waived. paper: attached behind the
    print, its fingerprint kept.

    expected: the mark as it was shown, StaleError if it is no longer so. ProblemError where there
    is no such draw, the draw is funded or came back, the state is none, or a paper is waived
    without a reason.
    """
    key = f"{number}/{what}"
    fingerprint = sha256_of(paper, "draw_papers", key) if paper else ""

    def change(before: Rows) -> tuple[Sound, Saved]:
        draw = _draw(before, number)
        if draw.state in ("funded", "returned"):
            do = (
                "its package went out as it was"
                if draw.state == "funded"
                else "mark the papers of the next draw"
            )
            raise ProblemError(_problem(draw, f"the draw is {draw.state} already", do, "state"))
        if state == "waived" and not reason.strip():
            do = "say why the lender does not need it"
            raise ProblemError(
                Problem("a paper is waived with a reason only", do, "draw_papers", key, "reason")
            )
        old = next(
            (p for p in before.get("draw_papers", ()) if (p.draw, p.what) == (number, what)), None
        )
        said = evidence.strip() or (paper.name if paper else "")
        row = new(
            DrawPaper, draw=number, what=what, state=state, reason=reason.strip(), evidence=said
        )
        if expected is not None and old != expected:
            raise StaleError(expected, old, row)
        rows = with_row(before, row, old)
        if paper:
            kept = attached_file(
                before, "draw_papers", key, stored_path(paper, project.path), fingerprint
            )
            rows["files"] = with_papers(before.get("files", ()), (kept,))
        after = sound(before, rows)
        return after, Saved(None, (), row, added=old is None)

    return step(project, f"draw {number}: {what} {state}"[:120], change, reason.strip())


def _step(
    project: ProjectFile,
    number: int,
    what: str,
    today: dt.date,
    change: Any,
    only_try: bool,
    why: str = "",
) -> DrawStep:
    """Read, change, check, and keep unless it is only tried."""
    return step(
        project, what, lambda before: _changed(before, number, today, change), why, only_try
    )


def _changed(before: Rows, number: int, today: dt.date, change: Any) -> tuple[Sound, DrawStep]:
    """The rows after a step of a draw, and what it did."""
    draw = _draw(before, number)
    lines = tuple(line for line in before.get("draw_lines", ()) if line.draw == number)
    after = sound(before, change(before, draw, lines))
    was, then = (standing(books_of(rows, today)) for rows in (before, after))
    now = _draw(after, number)
    state = state_on(now, today)
    new_lines = [line for line in after.get("draw_lines", ()) if line.draw == number]
    papers = package(then.books, now, then.accounts, then.gates)
    return after, DrawStep(
        step=None,
        draw=now,
        asked=sum(line.asked for line in new_lines),
        came=sum(
            line.amount for line in then.drawn if line.draw == number and line.funded_on is not None
        ),
        claimable=_more_claimable(was, then),
        papers=papers,
        notes=_notes(state, papers, new_lines),
    )


def _more_claimable(was: Standing, then: Standing) -> dict[str, int]:
    """By cost line, what can be asked after the step and could not before, in cents."""
    before = {claim.cost_line: claim.claimable for claim in was.claims()}
    more = {
        claim.cost_line: claim.claimable - before.get(claim.cost_line, 0) for claim in then.claims()
    }
    return {line: cents for line, cents in more.items() if cents > 0}


def _notes(state: str, papers: tuple[PaperState, ...], lines: list[DrawLine]) -> tuple[str, ...]:
    """What to see to."""
    if state == "sent":
        return tuple(
            f"{paper.what} is missing: {paper.reason}"
            for paper in papers
            if paper.state == "missing"
        )
    cut = [
        line
        for line in lines
        if state == "funded" and line.funded is not None and line.funded < line.asked
    ]
    return tuple(
        f"{line.cost_line}: {dollars(line.asked - (line.funded or 0))} cut, {line.cut_reason}"
        for line in cut
    )


def _funded(line: DrawLine, given: FundedLine | None) -> DrawLine:
    """The line with what came."""
    if given is None:
        return dataclasses.replace(line, funded=line.asked, cut_reason="")
    cut = line.asked - given.funded
    if cut > 0 and not given.why.strip():
        problem = Problem(
            "a cut needs its reason",
            "say what the lender said",
            "draw_lines",
            key_text(line),
            "cut_reason",
        )
        raise ProblemError(problem)
    return dataclasses.replace(
        line, funded=given.funded, cut_reason=given.why.strip() if cut else ""
    )


def _draw(rows: Rows, number: int) -> Draw:
    """The draw of a number. ProblemError where there is none."""
    found: Draw | None = next((d for d in rows.get("draws", ()) if d.number == number), None)
    if found is None:
        there = ", ".join(str(d.number) for d in rows.get("draws", ()))
        do = f"choose one of {there}" if there else "prepare one first"
        raise ProblemError(Problem("there is no such draw", do, "draws", str(number)))
    return found


def _must_be(draw: Draw, today: dt.date, states: tuple[str, ...], do: str) -> None:
    """A step needs a draw in one of these states."""
    state = state_on(draw, today)
    if state not in states:
        what = f"the draw is {state}" + (
            " already" if state in ("sent", "funded", "returned") else ""
        )
        raise ProblemError(_problem(draw, what, do, "state", state))


def _day(
    draw: Draw,
    column: str,
    on: dt.date,
    today: dt.date,
    since: dt.date | None = None,
    words: str = "",
) -> None:
    """The day of a step lies between what came before it and today."""
    if on > today:
        do = f"give a day through {today.isoformat()}"
        raise ProblemError(_problem(draw, "the day lies ahead", do, column, on.isoformat()))
    if since is not None and on < since:
        raise ProblemError(
            _problem(
                draw,
                f"the day lies before {words}",
                f"give a day on or after {since.isoformat()}",
                column,
                on.isoformat(),
            )
        )


def _problem(draw: Draw, what: str, do: str, column: str, value: str = "") -> Problem:
    """A problem of one draw."""
    return Problem(what, do, "draws", str(draw.number), column, value)
