"""An entry with a table of lines below its fields; what follows from the lines stands beside them
before it is kept.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import PurePath
from typing import Any, ClassVar

from textual import on
from textual.containers import VerticalScroll
from textual.timer import Timer
from textual.widget import Widget

from tracker.screens.entry.entering import HERE, Entering, Values
from tracker.screens.entry.line_sheet import LineSheet, SheetCol, SheetLine
from tracker.screens.entry.typed_days import near_of
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows

PAUSE = 0.25
"""Seconds after the last key in which the figures are worked out anew."""


class EnteringLines(Entering):
    """One entry with lines.

    `values["lines"]` holds by line and column what differs from what was there.
    """

    CSS_PATH: ClassVar[list[str | PurePath]] = [*Entering.CSS_PATH, HERE / "line_sheet.tcss"]

    # What each kind of entry says of itself

    def sheet_columns(self) -> Sequence[SheetCol]:
        """The columns that are typed into."""
        raise NotImplementedError

    def sheet_lines(self, rows: Rows) -> Sequence[SheetLine]:
        """The lines; called after `asks`."""
        raise NotImplementedError

    def follows(self) -> tuple[str, int]:
        """The title of the figures behind the cells, and their width."""
        return "due", 12

    def figures(self, found: Any) -> Mapping[str, str]:
        """By line, the figure that follows."""
        return {}

    def total(self, found: Any) -> str:
        """The line below the table."""
        return ""

    def about(self, key: str, found: Any | None) -> Sequence[str]:
        """What is known of the line in which one types; found: what it would do, None where that
        can't be worked out.
        """
        return ()

    def as_typed(self, texts: Mapping[str, str]) -> Values | None:
        """The fields for working out the figures while one types: None where they are not complete
        yet.
        """
        return None

    # The rest is the same for all

    def __init__(self, desk: Any) -> None:
        super().__init__(desk)
        self._timer: Timer | None = None
        self._lines: Sequence[SheetLine] = ()
        self._near: Any = None
        self._found: Any = None
        self._here = ""

    def _read(self, rows: Rows) -> None:
        """Make the fields, then the lines."""
        self._rows = rows
        self._near = near_of(rows, self.desk.today)
        super()._read(rows)

    async def _fill_in(self, made: Sequence[Widget]) -> None:
        """The lines stand below the fields."""
        self._lines = self.sheet_lines(self._rows)
        sheet = LineSheet(
            self.sheet_columns(), self._lines, self._near, self.follows(), self.names_cells()
        )
        await self.query_one("#fields", VerticalScroll).mount(*made, sheet)
        await super()._fill_in(())
        if sheet.cells and all(one.typed for one in self.shown if hasattr(one, "typed")):
            sheet.cells[0].focus()
        self.work_out()

    def names_cells(self) -> int:
        """Cells for the names of lines: what the width leaves."""
        taken = sum(col.cells + 1 for col in self.sheet_columns()) + self.follows()[1] + 1
        return max(10, min(34, self.size.width - 4 - taken))

    @property
    def sheet(self) -> LineSheet:
        """The table of lines."""
        return self.query_one(LineSheet)

    def loses_text(self) -> bool:
        """Whether something was typed that is not kept."""
        return super().loses_text() or (bool(self.query(LineSheet)) and self.sheet.unkept)

    def check_then(self, go_on: Callable[[Values], Any]) -> None:
        """Check fields and lines; if all are fine, go on with what was entered."""
        wrong = self.sheet.check()
        if wrong is not None:
            try:
                self.sheet.typed()
            except ValueError as error:
                self.problems(f"Please look at it again: {error}.")
            wrong.focus()
            return
        super().check_then(go_on)

    def values(self) -> dict[str, Any]:
        """What was entered, with the lines."""
        return {**super().values(), "lines": self.sheet.typed()}

    @on(LineSheet.Changed)
    def sheet_changed(self) -> None:
        """Work the figures out anew, once nobody types for a moment."""
        if self._timer is not None:
            self._timer.stop()
        self._timer = self.set_timer(PAUSE, self.work_out)

    @on(LineSheet.At)
    def at_line(self, event: LineSheet.At) -> None:
        """Words on the line in which one types."""
        self._here = event.key
        self._tell_about()

    def _tell_about(self) -> None:
        """What is known of the line in which one types."""
        if self._here:
            self.sheet.tell(self.about(self._here, self._found))

    def work_out(self) -> None:
        """What follows from what is typed, beside the lines; where that can't be, why."""
        if not self.is_attached or not self.query(LineSheet):
            return
        try:
            lines = self.sheet.typed()
        except ValueError as error:
            self._not_worked_out(ProblemError(Problem(str(error), "type it again")))
            return
        fields = self.as_typed(self._texts())
        if fields is not None:
            values = {**fields, "lines": lines}
            self.in_thread(lambda: self.tried(values), self._worked_out, self._not_worked_out)

    def _worked_out(self, found: Any) -> None:
        """Show the figures."""
        if not self.query(LineSheet):
            return
        self._found = found
        self.problems("")
        self.sheet.show(self.figures(found), self.total(found))
        self._tell_about()

    def _not_worked_out(self, error: ProblemError) -> None:
        """Say why there are no figures; what was typed stays."""
        self._found = None
        self.sheet.show({}, "")
        self.problems("\n".join(problem.sentence() for problem in error.problems[:2]))
        self._tell_about()
