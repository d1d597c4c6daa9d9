"""The steps of a draw: prepared, sent, funded line by line, returned; and the papers of its
package.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from tracker.money.draw_package import CAUTION, PAPERS
from tracker.money.records import DrawLine
from tracker.screens.entry.entering import Ask, AtOnce, Entering, Values
from tracker.screens.entry.entering_lines import EnteringLines
from tracker.screens.entry.evidence import path_of
from tracker.screens.entry.line_sheet import SheetCol, SheetLine
from tracker.screens.entry.money_words import amount
from tracker.screens.entry.preview_dialog import Choice
from tracker.screens.entry.typed_text import read_day
from tracker.screens.frame.open_project import OpenProject
from tracker.screens.table.marks import ASKS, BLOCKS, FINE
from tracker.screens.table.sections import Line, Section
from tracker.values.kinds import Choice as OneOf
from tracker.values.kinds import Day, Text, YesNo
from tracker.values.money import cents_of, plain_dollars
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows, columns_of

STATES = ("present", "missing", "waived")
POINT_MARKS = {"fine": FINE, "look": BLOCKS, "not known": ASKS}
"""By the state of a point that a lender looks at, its mark."""


class Preparing(Entering):
    """A draft draw is made, or made anew."""

    HELP = (
        "A draw builds itself from what is claimable: cleared applications, bills, interest, less"
        " what was drawn before. It names what it covers, so that nothing is asked twice. A draft"
        " can be prepared again; its lines are then computed anew. Ctrl S tells what it would ask,"
        " and what stays out and why, before it is kept."
    )

    def __init__(self, desk: OpenProject, number: int) -> None:
        super().__init__(desk)
        self.number = number

    def heading(self) -> str:
        """Which draw."""
        return f"Prepare draw {self.number}"

    def cautions(self) -> Sequence[str]:
        """The lender decides."""
        return (CAUTION,)

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """Through which day; what to do with what lies above a line's budget."""
        draft = next((d for d in rows.get("draws", ()) if d.number == self.number), None)
        through = draft.period_to if draft and draft.period_to else self.desk.today
        return (
            Ask(
                "through",
                Day(),
                "applications and bills through this day",
                through.isoformat(),
                True,
                column="period_to",
            ),
            Ask(
                "leave_out",
                YesNo(),
                "yes: what lies above a line's budget stays out, said so",
                "no",
                column="budget",
            ),
        )

    def tried(self, values: Values) -> Any:
        """What it would ask."""
        return self._do(values, only_try=True)

    def _do(self, values: Values, only_try: bool = False) -> Any:
        from tracker.actions.prepare_draw import prepare_draw

        return prepare_draw(
            self.desk.project,
            self.number,
            values["through"],
            self.desk.today,
            bool(values["leave_out"]),
            only_try,
        )

    def told(self, found: Any) -> Sequence[Section]:
        """Its lines, what it covers, what stays out, what its package lacks."""
        lines: list[Line | str] = [
            f"{amount(one.asked):>14}  {one.cost_line} of {one.source}" for one in found.lines
        ]
        lines.append(
            Line(f"{amount(found.asked):>14}  in all, after the lender's retainage", "strong")
        )
        covers = [f"application {contract}/{number}" for contract, number in found.applications]
        covers += [f"bill {code}" for code in found.invoices]
        return [
            Section(f"Draw {found.draw.number} would ask", lines),
            Section("It covers", [", ".join(covers)] if covers else []),
            Section("Look at", [f"· {note}" for note in found.notes]),
            papers_section(found.papers),
        ]

    def keep(self, values: Values, choice: str) -> Any:
        """Make it."""
        return self._do(values)

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """What it asks."""
        return (
            (
                f"Draw {result.draw.number} is a draft of {amount(result.asked)} in all. s sends"
                " it, u takes it back."
            ),
            (),
        )


def papers_section(papers: Sequence[Any]) -> Section:
    """What a package lacks."""
    missing = [
        Line(f"! {one.what}: {one.reason}", "warn") for one in papers if one.state == "missing"
    ]
    return Section("Its package lacks", missing or ["nothing"])


class Sending(Entering):
    """A draft goes to the lender."""

    HELP = (
        "Marks the draw as sent, after a look at what usually brings a request back. Print its"
        " package first (P): you send it, not this program. Nothing can be prepared anew once it is"
        " sent; what is cut or comes back is asked in the next draw."
    )

    def __init__(self, desk: OpenProject, number: int) -> None:
        super().__init__(desk)
        self.number = number

    def heading(self) -> str:
        """Which draw."""
        return f"Draw {self.number} goes to the lender"

    def cautions(self) -> Sequence[str]:
        """The lender decides."""
        return (CAUTION,)

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """The day."""
        return (
            Ask("sent", Day(), "the day on which you send it", self.desk.today.isoformat(), True),
        )

    def tried(self, values: Values) -> Any:
        """What stands against it."""
        from tracker.answers.draw_request import from_rows

        return self._do(values, only_try=True), from_rows(
            self.desk.rows(), self.desk.today, self.number
        )

    def _do(self, values: Values, only_try: bool = False) -> Any:
        from tracker.actions.draw_steps import send_draw

        return send_draw(self.desk.project, self.number, values["sent"], self.desk.today, only_try)

    def told(self, found: Any) -> Sequence[Section]:
        """What it asks; what would come back; what the package lacks."""
        from tracker.answers.draw_request import asks_in_words

        step, request = found
        head: list[Line | str] = [
            Line(f"{amount(step.asked)} in all, work through {step.draw.period_to}", "strong")
        ]
        head += list(asks_in_words(request.sources, "sent")) if request else []
        looked = [
            Line(
                f"{POINT_MARKS[one.state]} {one.what}: {one.remark}",
                "" if one.state == "fine" else "warn",
            )
            for one in (request.checks if request else ())
        ]
        return [
            Section(f"Draw {self.number}", head),
            Section("What a lender looks for", looked),
            papers_section(step.papers),
        ]

    def choices(self, found: Any) -> Sequence[Choice]:
        """One way."""
        return (Choice("k", "it is sent", "keep"),)

    def keep(self, values: Values, choice: str) -> Any:
        """Mark it as sent."""
        return self._do(values)

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """That it is sent."""
        return (
            (
                f"Draw {self.number} is sent: {amount(result.asked)} in all. f enters the money, r"
                " that it came back."
            ),
            (),
        )


class Funding(EnteringLines):
    """The lender's money came, line by line."""

    HELP = (
        "What came of each line, with the reason where it was cut. What was cut can be asked again"
        " in the next draw. More than was asked is refused. Ctrl S tells the sum and what comes"
        " back before it is kept."
    )

    def __init__(self, desk: OpenProject, number: int) -> None:
        super().__init__(desk)
        self.number = number
        self.lines: tuple[DrawLine, ...] = ()

    def heading(self) -> str:
        """Which draw."""
        return f"The money of draw {self.number} came"

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """The day. ProblemError where it was not sent."""
        self.lines = tuple(line for line in rows.get("draw_lines", ()) if line.draw == self.number)
        if not self.lines:
            raise ProblemError(
                Problem("the draw has no lines", "prepare it first", "draws", str(self.number))
            )
        return (
            Ask(
                "funded_on",
                Day(),
                "the day on which the money came",
                self.desk.today.isoformat(),
                True,
            ),
        )

    def sheet_columns(self) -> Sequence[SheetCol]:
        """What came, and why less."""
        known = {column.name: column for column in columns_of(DrawLine)}
        wide = max(16, min(40, self.size.width - 54))
        return SheetCol(known["funded"], "came", 13), SheetCol(
            known["cut_reason"], "why less", wide
        )

    def sheet_lines(self, rows: Rows) -> Sequence[SheetLine]:
        """Every line of the draw, as asked."""
        names = {line.code: line.name for line in rows.get("cost_lines", ())}
        return tuple(
            SheetLine(
                key_of(one),
                f"{one.cost_line} {names.get(one.cost_line, '')}".strip(),
                {"funded": plain_dollars(one.asked)},
            )
            for one in self.lines
        )

    def follows(self) -> tuple[str, int]:
        """What is cut."""
        return "cut", 12

    def as_typed(self, texts: Mapping[str, str]) -> Values | None:
        """As of the day that is typed."""
        try:
            return {"funded_on": read_day(texts["funded_on"], self._near), "loose": True}
        except ValueError:
            return None

    def tried(self, values: Values) -> Any:
        """What it would do; while one types, a reason may still be missing."""
        return self._do(values, only_try=True)

    def _do(self, values: Values, only_try: bool = False) -> Any:
        from tracker.actions.draw_steps import FundedLine, fund_draw

        given = []
        for one in self.lines:
            cells = values["lines"].get(key_of(one), {})
            came = cells.get("funded")
            if came == "":
                problem = Problem(
                    "it is not said what came",
                    "0.00 where nothing did",
                    "draw_lines",
                    key_of(one),
                    "funded",
                )
                raise ProblemError(problem)
            cents = one.asked if came is None else cents_of(came)
            why = cells.get("cut_reason", "") or ("not said yet" if values.get("loose") else "")
            given.append(FundedLine(one.source, one.cost_line, cents, why))
        return fund_draw(
            self.desk.project,
            self.number,
            values["funded_on"],
            tuple(given),
            self.desk.today,
            only_try,
        )

    def figures(self, found: Any) -> Mapping[str, str]:
        """By line, what is cut."""
        came = self._came()
        return {
            key_of(one): (
                amount(one.asked - came[key_of(one)]) if one.asked != came[key_of(one)] else ""
            )
            for one in self.lines
        }

    def _came(self) -> dict[str, int]:
        """By line, what is typed as come, in cents."""
        typed = self.sheet.typed()
        return {
            key_of(one): cents_of(
                typed.get(key_of(one), {}).get("funded") or plain_dollars(one.asked)
            )
            for one in self.lines
        }

    def total(self, found: Any) -> str:
        """Asked, came, cut."""
        return (
            f"asked {amount(found.asked)} · came {amount(found.came)} · cut"
            f" {amount(found.asked - found.came)}"
        )

    def about(self, key: str, found: Any | None) -> Sequence[str]:
        """The line as asked."""
        one = next(line for line in self.lines if key_of(line) == key)
        beside = (
            f", {amount(one.retainage)} of lender's retainage beside it" if one.retainage else ""
        )
        return (f"{one.cost_line} of {one.source}: asked {amount(one.asked)}{beside}",)

    def told(self, found: Any) -> Sequence[Section]:
        """What came, what was cut, what can be asked again."""
        again = [f"{amount(cents):>14}  {line}" for line, cents in found.claimable.items()]
        return [
            Section(f"Draw {self.number}", [Line(self.total(found), "strong")]),
            Section("Cut", [Line(f"! {note}", "warn") for note in found.notes]),
            Section("Can be asked again in the next draw", again),
        ]

    def choices(self, found: Any) -> Sequence[Choice]:
        """One way."""
        return (Choice("k", "keep as funded", "keep"),)

    def keep(self, values: Values, choice: str) -> Any:
        """Keep it."""
        return self._do(values)

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """What came."""
        return (
            f"Draw {self.number} is funded: {amount(result.came)} came. u takes it back.",
            result.notes[:3],
        )


def key_of(line: Any) -> str:
    """What tells a line of a draw from the others."""
    return f"{line.source}/{line.cost_line}"


class Returning(Entering):
    """A sent draw comes back."""

    HELP = (
        "The lender sends the request back: it counts for nothing, and what it asked is claimable"
        " again in the next draw."
    )

    def __init__(self, desk: OpenProject, number: int) -> None:
        super().__init__(desk)
        self.number = number

    def heading(self) -> str:
        """Which draw."""
        return f"Draw {self.number} came back"

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """Why."""
        return (
            Ask(
                "why",
                Text(),
                "what the lender wants; kept in the history",
                needed=True,
                column="state",
            ),
        )

    def tried(self, values: Values) -> Any:
        """What can be asked again."""
        return self._do(values, only_try=True)

    def _do(self, values: Values, only_try: bool = False) -> Any:
        from tracker.actions.draw_steps import return_draw

        return return_draw(self.desk.project, self.number, values["why"], self.desk.today, only_try)

    def told(self, found: Any) -> Sequence[Section]:
        """What can be asked again."""
        again: list[Line | str] = [
            f"{amount(cents):>14}  {line}" for line, cents in found.claimable.items()
        ]
        return [Section(f"Draw {self.number} counts for nothing; the next one can ask", again)]

    def choices(self, found: Any) -> Sequence[Choice]:
        """One way."""
        return (Choice("k", "it came back", "keep"),)

    def keep(self, values: Values, choice: str) -> Any:
        """Keep it."""
        return self._do(values)

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """What is next."""
        return f"Draw {self.number} came back. n prepares the next one, u takes it back.", ()


class PaperMarked(AtOnce):
    """A paper of a draw's package."""

    HELP = (
        "Each paper of the package is present, missing, or waived with the reason why the lender"
        " does not need it. A PDF that is attached is bound behind the print; the original stays"
        " where it lies. Ctrl S keeps it."
    )

    def __init__(self, desk: OpenProject, number: int, what: str = "") -> None:
        super().__init__(desk)
        self.number, self.what = number, what
        self.seen: Any = None

    def heading(self) -> str:
        """Which package."""
        return f"The package of draw {self.number}{': ' + self.what if self.what else ''}"

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """Which paper, its state, what shows it."""
        own = {p.what: p for p in rows.get("draw_papers", ()) if p.draw == self.number}
        self.seen = own.get(self.what)
        others = tuple(what for what in own if what not in PAPERS)
        which = (
            ()
            if self.what
            else (Ask("paper", OneOf((*PAPERS, *others)), "", needed=True, column="what"),)
        )
        start = self.seen
        before = f"; it was {start.state}: {start.reason}" if start and start.reason else ""
        return (
            *which,
            Ask("state", OneOf(STATES), "", "present", True),
            Ask(
                "reason",
                Text(),
                f"needed where it is waived; what is still to come where it is missing{before}",
            ),
            Ask(
                "evidence",
                Text(),
                "what it is and where it lies; or a file below",
                start.evidence if start else "",
            ),
            Ask("file", Text(), "path of a PDF, to be bound behind the print"),
        )

    def keep(self, values: Values, choice: str) -> Any:
        """Mark it."""
        from tracker.actions.draw_steps import mark_paper

        return mark_paper(
            self.desk.project,
            self.number,
            self.what or values["paper"],
            values["state"],
            reason=values["reason"],
            evidence=values["evidence"],
            paper=path_of(values["file"]) if values["file"].strip() else None,
            expected=self.seen,
        )

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """How it stands now."""
        return f"Draw {self.number}: {result.row.what} is {result.row.state}. u takes it back.", ()
