"""The steps of a draw: prepared, sent, funded line by line, returned; and the papers of its
package.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from tracker.actions.draw_steps import (
    DrawStep,
    FundedLine,
    fund_draw,
    mark_paper,
    return_draw,
    send_draw,
)
from tracker.actions.prepare_draw import PreparedDraw, prepare_draw
from tracker.actions.rows import Saved
from tracker.answers.draw_request import DrawRequest, asks_in_words, from_rows
from tracker.money.draw_package import CAUTION, PAPERS, PaperState
from tracker.money.records import CostLine, Draw, DrawLine, DrawPaper
from tracker.screens.entry.declared import Entry, EntryField, Given, Lines, Opened, ShortEntry
from tracker.screens.entry.evidence import paper_of
from tracker.screens.entry.line_sheet import SheetCol, SheetLine
from tracker.screens.entry.money_words import amount
from tracker.screens.entry.preview_dialog import look_at
from tracker.screens.entry.typed_text import read_day
from tracker.screens.table.marks import ASKS, BLOCKS, FINE
from tracker.screens.table.sections import Line, Section
from tracker.values.kinds import Choice as OneOf
from tracker.values.kinds import Day, Text, YesNo
from tracker.values.money import cents_of, plain_dollars
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import columns_of

STATES = ("present", "missing", "waived")
POINT_MARKS = {"fine": FINE, "look": BLOCKS, "not known": ASKS}
"""By the state of a point that a lender looks at, its mark."""


def preparing(number: int) -> Entry[PreparedDraw]:
    """A draft draw is made, or made anew."""

    def fields(opened: Opened) -> Sequence[EntryField]:
        draft = opened.found(Draw, number=number)
        through = draft.period_to if draft and draft.period_to else opened.today
        whole, above = (
            "applications and bills through this day",
            "yes: what lies above a line's budget stays out, said so",
        )
        return (
            EntryField("through", Day(), whole, through, True, column="period_to"),
            EntryField("leave_out", YesNo(), above, False, column="budget"),
        )

    def act(given: Given) -> PreparedDraw:
        out = bool(given["leave_out"])
        return prepare_draw(
            given.project, number, given["through"], given.today, out, given.only_try
        )

    return Entry(
        title=f"Prepare draw {number}",
        help=(
            "A draw builds itself from what is claimable: cleared applications, bills, interest,"
            " less what was drawn before. It names what it covers, so that nothing is asked twice."
            " A draft can be prepared again; its lines are then computed anew. Ctrl S tells what it"
            " would ask, and what stays out and why, before it is kept."
        ),
        cautions=(CAUTION,),
        fields=fields,
        act=act,
        preview=prepared_sections,
        kept=lambda done: (
            f"Draw {number} is a draft of {amount(done.asked)} in all. s sends it, u takes it back."
        ),
    )


def prepared_sections(found: PreparedDraw) -> list[Section]:
    """Its lines, what it covers, what stays out, what its package lacks."""
    lines = [f"{amount(one.asked):>14}  {one.cost_line} of {one.source}" for one in found.lines]
    whole = Line(f"{amount(found.asked):>14}  in all, after the lender's retainage", "strong")
    covers = [f"application {contract}/{number}" for contract, number in found.applications]
    covers += [f"bill {code}" for code in found.invoices]
    return [
        Section(f"Draw {found.draw.number} would ask", [*lines, whole]),
        Section("It covers", [", ".join(covers)] if covers else []),
        look_at(found.notes),
        papers_section(found.papers),
    ]


def papers_section(papers: Sequence[PaperState]) -> Section:
    """What a package lacks."""
    missing = [
        Line(f"! {one.what}: {one.reason}", "warn") for one in papers if one.state == "missing"
    ]
    return Section("Its package lacks", missing or ["nothing"])


class Sent(NamedTuple):
    """A draw that goes to the lender, and what it asks; None once it is sent."""

    step: DrawStep
    request: DrawRequest | None


def sending(number: int) -> Entry[Sent]:
    """A draft goes to the lender."""

    def act(given: Given) -> Sent:
        step = send_draw(given.project, number, given["sent"], given.today, given.only_try)
        rows = given.project.tables() if given.only_try else None
        return Sent(step, from_rows(rows, given.today, number) if rows else None)

    return Entry(
        title=f"Draw {number} goes to the lender",
        help=(
            "Marks the draw as sent, after a look at what usually brings a request back. Print its"
            " package first (P): you send it, not this program. Nothing can be prepared anew once"
            " it is sent; what is cut or comes back is asked in the next draw."
        ),
        cautions=(CAUTION,),
        fields=lambda opened: (
            EntryField("sent", Day(), "the day on which you send it", opened.today, True),
        ),
        act=act,
        preview=sent_sections,
        keep="it is sent",
        kept=lambda done: (
            f"Draw {number} is sent: {amount(done.step.asked)} in all. f enters the money, r that"
            " it came back."
        ),
    )


def sent_sections(found: Sent) -> list[Section]:
    """What it asks; what would come back; what the package lacks."""
    step, request = found
    head = Line(f"{amount(step.asked)} in all, work through {step.draw.period_to}", "strong")
    asks = asks_in_words(request.sources, "sent") if request else ()
    looked = [
        Line(
            f"{POINT_MARKS[one.state]} {one.what}: {one.remark}",
            "" if one.state == "fine" else "warn",
        )
        for one in (request.checks if request else ())
    ]
    return [
        Section(f"Draw {step.draw.number}", [head, *asks]),
        Section("What a lender looks for", looked),
        papers_section(step.papers),
    ]


class Came(NamedTuple):
    """The money of a draw that came; cut: by line, what is less than asked, cents."""

    step: DrawStep
    cut: Mapping[str, int]


def funding(number: int) -> Entry[Came]:
    """The lender's money came, line by line."""

    def asked(opened: Opened) -> list[DrawLine]:
        return [line for line in opened.rows.get("draw_lines", ()) if line.draw == number]

    def fields(opened: Opened) -> Sequence[EntryField]:
        if not asked(opened):
            raise ProblemError(
                Problem("the draw has no lines", "prepare it first", "draws", str(number))
            )
        words = "the day on which the money came"
        return (EntryField("funded_on", Day(), words, opened.today, True),)

    def act(given: Given) -> Came:
        lines = asked(given)
        came = tuple(funded_line(one, given) for one in lines)
        step = fund_draw(
            given.project, number, given["funded_on"], came, given.today, given.only_try
        )
        cut = {key_of(one): one.asked - now.funded for one, now in zip(lines, came, strict=True)}
        return Came(step, cut)

    return Entry(
        title=f"The money of draw {number} came",
        help=(
            "What came of each line, with the reason where it was cut. What was cut can be asked"
            " again in the next draw. More than was asked is refused. Ctrl S tells the sum and what"
            " comes back before it is kept."
        ),
        fields=fields,
        act=act,
        preview=funded_sections,
        keep="keep as funded",
        kept=lambda done: (
            f"Draw {number} is funded: {amount(done.step.came)} came. u takes it back.",
            done.step.notes[:3],
        ),
        lines=Lines(
            columns=funding_columns,
            lines=lambda opened: [sheet_line(one, opened) for one in asked(opened)],
            behind=("cut", 12),
            figures=lambda found: {
                key: amount(cents) if cents else "" for key, cents in found.cut.items()
            },
            total=funded_total,
            about=lambda line, found: (line.about,),
            as_typed=lambda texts, opened: {
                "funded_on": read_day(texts["funded_on"], opened.near),
                "loose": True,
            },
        ),
    )


def funding_columns(wide: int) -> Sequence[SheetCol]:
    """What came, and why less."""
    known = {column.name: column for column in columns_of(DrawLine)}
    why = max(16, min(40, wide - 54))
    return SheetCol(known["funded"], "came", 13), SheetCol(known["cut_reason"], "why less", why)


def sheet_line(one: DrawLine, opened: Opened) -> SheetLine:
    """A line of the draw, as asked."""
    named = opened.found(CostLine, code=one.cost_line)
    beside = f", {amount(one.retainage)} of lender's retainage beside it" if one.retainage else ""
    return SheetLine(
        key_of(one),
        f"{one.cost_line} {named.name if named else ''}".strip(),
        {"funded": plain_dollars(one.asked)},
        f"{one.cost_line} of {one.source}: asked {amount(one.asked)}{beside}",
    )


def funded_line(one: DrawLine, given: Given) -> FundedLine:
    """What came of a line. While one types, a reason may still be missing."""
    cells = given["lines"].get(key_of(one), {})
    came = cells.get("funded")
    if came == "":
        what, do = "it is not said what came", "0.00 where nothing did"
        raise ProblemError(Problem(what, do, "draw_lines", key_of(one), "funded"))
    cents = one.asked if came is None else cents_of(came)
    why = cells.get("cut_reason") or ("not said yet" if given.values.get("loose") else "")
    return FundedLine(one.source, one.cost_line, cents, why)


def funded_total(found: Came) -> str:
    """Asked, came, cut."""
    asked, came = found.step.asked, found.step.came
    return f"asked {amount(asked)} · came {amount(came)} · cut {amount(asked - came)}"


def funded_sections(found: Came) -> list[Section]:
    """What came, what was cut, what can be asked again."""
    step = found.step
    return [
        Section(f"Draw {step.draw.number}", [Line(funded_total(found), "strong")]),
        Section("Cut", [Line(f"! {note}", "warn") for note in step.notes]),
        Section("Can be asked again in the next draw", claimable(step)),
    ]


def claimable(step: DrawStep) -> list[str]:
    """By cost line, what can be asked again."""
    return [f"{amount(cents):>14}  {line}" for line, cents in step.claimable.items()]


def key_of(line: DrawLine) -> str:
    """What tells a line of a draw from the others."""
    return f"{line.source}/{line.cost_line}"


def returning(number: int) -> Entry[DrawStep]:
    """A sent draw comes back."""
    wants = "what the lender wants; kept in the history"
    return Entry(
        title=f"Draw {number} came back",
        help=(
            "The lender sends the request back: it counts for nothing, and what it asked is"
            " claimable again in the next draw."
        ),
        fields=lambda opened: (EntryField("why", Text(), wants, needed=True, column="state"),),
        act=lambda given: return_draw(
            given.project, number, given["why"], given.today, given.only_try
        ),
        preview=lambda found: (
            Section(f"Draw {number} counts for nothing; the next one can ask", claimable(found)),
        ),
        keep="it came back",
        kept=lambda done: f"Draw {number} came back. n prepares the next one, u takes it back.",
    )


def marking(number: int, what: str = "") -> ShortEntry[Saved]:
    """A paper of a draw's package; what: which one, blank: one to choose."""

    def fields(opened: Opened) -> Sequence[EntryField]:
        papers = [p.what for p in opened.rows.get("draw_papers", ()) if p.draw == number]
        choice = OneOf((*PAPERS, *(one for one in papers if one not in PAPERS)))
        was = opened.found(DrawPaper, draw=number, what=what)
        before = f"; it was {was.state}: {was.reason}" if was and was.reason else ""
        reason = f"needed where it is waived; what is still to come where it is missing{before}"
        shows = "what it is and where it lies; or a file below"
        return (
            *(() if what else (EntryField("paper", choice, needed=True, column="what"),)),
            EntryField("state", OneOf(STATES), "", "present", True),
            EntryField("reason", Text(), reason),
            EntryField("evidence", Text(), shows, was.evidence if was else ""),
            EntryField("file", Text(), "path of a PDF, to be bound behind the print"),
        )

    return ShortEntry(
        title=f"The package of draw {number}{': ' + what if what else ''}",
        help=(
            "Each paper of the package is present, missing, or waived with the reason why the"
            " lender does not need it. A PDF that is attached is bound behind the print; the"
            " original stays where it lies. Ctrl S keeps it."
        ),
        fields=fields,
        act=lambda given: mark_paper(
            given.project,
            number,
            what or given["paper"],
            given["state"],
            reason=given["reason"],
            evidence=given["evidence"],
            paper=paper_of(given["file"]),
            expected=given.found(DrawPaper, draw=number, what=what),
        ),
        kept=lambda done: (
            f"Draw {number}: {done.row.what} is {done.row.state}. u takes it back."
            if done.row
            else ""
        ),
    )
