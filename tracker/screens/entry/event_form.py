"""The form of every entry: asks for its fields, tells what it would do, and only then keeps it, as
one step.

Ctrl S tries the entry and tells what it would do to the plan and to the money; only the answer to
that keeps it. A short entry is kept at once.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, Generic

from textual import on
from textual.timer import Timer
from textual.widget import Widget

from tracker.screens.entry.declared import Entry, Given, Lines, Opened, Result, ShortEntry
from tracker.screens.entry.fields import Field, known_rows
from tracker.screens.entry.line_sheet import LineSheet
from tracker.screens.entry.lines_field import LinesField
from tracker.screens.entry.preview_dialog import Choice, PreviewDialog
from tracker.screens.entry.typed_days import near_of
from tracker.screens.entry.typing_screen import AnyField, TypingScreen
from tracker.screens.frame.keymap import bindings
from tracker.screens.frame.open_project import OpenProject
from tracker.tables.cells import parse_cell
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows

PAUSE = 0.25
"""Seconds after the last key in which the figures are worked out anew."""


class EventForm(TypingScreen, Generic[Result]):
    """The form of one entry."""

    BINDINGS = bindings("entry")

    def __init__(self, desk: OpenProject, entry: ShortEntry[Result]) -> None:
        super().__init__(desk)
        self.entry = entry
        self.lines: Lines[Result] | None = entry.lines if isinstance(entry, Entry) else None
        self._opened: Opened | None = None
        self._timer: Timer | None = None
        self._found: Result | None = None
        self._here = ""

    @property
    def help_words(self) -> str:
        """What one does here."""
        return self.entry.help

    def heading(self) -> str:
        """What is entered."""
        if self._opened is not None and self.entry.titled is not None:
            return self.entry.titled(self._opened)
        return self.entry.title

    def cautions(self) -> Sequence[str]:
        """What can hurt or lose a right here."""
        return self.entry.cautions

    # The fields

    def opened(self, rows: Rows) -> None:
        """Make the fields, and the lines below them."""
        near = near_of(rows, self.desk.today)
        self._opened = Opened(self.desk.project, rows, self.desk.today, near)
        made: list[Widget] = []
        try:
            self._asked = self.entry.fields(self._opened)
            for one in self._asked:
                if one.kind is None:
                    made.append(LinesField(one.name, one.label, one.help, one.needed))
                else:
                    start = one.kind.blank if one.start is None else one.start
                    column, cell = one.as_column, one.kind.write(start)
                    known = known_rows(column, rows)
                    made.append(Field(column, cell, near, known, label=one.called))
            if self.lines is not None:
                made.append(self._sheet_of(self.lines, self._opened))
        except ProblemError as error:
            self.unable(error)
            return
        self.call_later(self.put_fields, made)

    def unable(self, error: ProblemError) -> None:
        """Nothing can be entered here: say why, and go back."""
        self.complain(error)
        self.dismiss(None)

    async def put_fields(self, made: Sequence[Widget]) -> None:
        """One begins in the field that is named, in the lines where all fields are filled in, or
        in the first empty field.
        """
        await super().put_fields(made)
        empty = [one for one in self.shown if isinstance(one, LinesField) or not one.typed]
        first = self.field(self.entry.begin) or next(iter(empty), self.shown[0])
        sheet = self.sheet
        if sheet is not None and sheet.cells and not empty:
            sheet.cells[0].focus()
        else:
            first.control.focus()
        self.work_out()

    def follow(self, chosen: bool) -> None:
        """Ask only what belongs to what was chosen."""
        texts = self._texts()
        if chosen and self.entry.follows is not None:
            for name, text in self.entry.follows(texts).items():
                if isinstance(one := self.field(name), Field):
                    one.put(text)
        for asked in self._asked:
            if asked.when is not None and (place := self.field(asked.name)):
                place.display = asked.when(texts)

    def _texts(self) -> dict[str, str]:
        """What stands in each field."""
        return {
            one.key: one.typed if isinstance(one, Field) else "\n".join(one.texts)
            for one in self.fields
        }

    def values(self) -> dict[str, Any]:
        """What was entered; a field that is not asked counts as empty."""
        made: dict[str, Any] = {}
        for one in self.fields:
            if isinstance(one, LinesField):
                made[one.key] = one.texts if one.display else ()
            else:
                empty = one.column.empty
                made[one.key] = parse_cell(one.column, one.cell()) if one.display else empty
        return made if self.sheet is None else {**made, "lines": self.sheet.typed()}

    def place_of(self, problem: Problem) -> AnyField | None:
        """The field that a problem is about."""
        names = {one.column or one.name: one.name for one in self._asked}
        place = self.field(names.get(problem.column, "")) if problem.column else None
        return place if place is not None and place.display else None

    # Previewing and keeping

    def action_save(self) -> None:
        """Check lines and fields; if all are fine, tell what it would do."""
        wrong = self.sheet.check() if self.sheet is not None else None
        if wrong is None:
            super().action_save()
            return
        try:
            assert self.sheet is not None
            self.sheet.typed()
        except ValueError as error:
            self.problems(f"Please look at it again: {error}.")
        wrong.focus()

    def save(self) -> None:
        """Tell what it would do; a short entry is kept at once."""
        self.problems("Working it out …")
        given = self._given(self.values())
        if not isinstance(self.entry, Entry):
            self._keep(given, "keep")
            return
        self._act(given, lambda found: self._preview(given, found), self.refused)

    def _given(self, values: dict[str, Any], **how: Any) -> Given:
        """What was entered, on the project as it was opened."""
        assert self._opened is not None
        return Given(**vars(self._opened), values=values, **how)

    def _act(
        self,
        given: Given,
        then: Callable[[Result], None],
        failed: Callable[[ProblemError], None],
    ) -> None:
        """Call the action in a thread."""
        self.in_thread(lambda: self.entry.act(given), then, failed)

    def _preview(self, given: Given, found: Result) -> None:
        """Tell what it would do, and ask how to keep it."""
        assert isinstance(self.entry, Entry)
        self.problems("")

        def answered(choice: str | None) -> None:
            if choice:
                self.problems("Keeping …")
                self._keep(given, choice, found)

        keep = self.entry.keep
        choices = (Choice("k", keep, "keep"),) if isinstance(keep, str) else keep(found)
        self.app.push_screen(PreviewDialog(self.entry.preview(found), choices), answered)

    def _keep(self, given: Given, choice: str, found: Result | None = None) -> None:
        """Keep it, in the way that was chosen."""
        how = {"only_try": False, "choice": choice, "previewed": found}
        self._act(self._given(dict(given.values), **how), self._kept, self.refused)

    def _kept(self, result: Result) -> None:
        """It is in the file."""
        said = self.entry.kept(result)
        words, notes = (said, ()) if isinstance(said, str) else said
        self.opens.kept(words, notes)
        self.dismiss(result)

    # The lines

    @property
    def sheet(self) -> LineSheet | None:
        """The table of lines; None where there is none."""
        return next(iter(self.query(LineSheet)), None)

    def _sheet_of(self, lines: Lines[Result], opened: Opened) -> LineSheet:
        """The table of lines; their names take what the width leaves."""
        wide = self.size.width
        columns = lines.columns(wide)
        taken = sum(col.cells + 1 for col in columns) + lines.behind[1] + 1
        names = max(10, min(34, wide - 4 - taken))
        return LineSheet(columns, lines.lines(opened), opened.near, lines.behind, names)

    def loses_text(self) -> bool:
        """Whether something was typed that is not kept."""
        return super().loses_text() or (self.sheet is not None and self.sheet.unkept)

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

    def work_out(self) -> None:
        """What follows from what is typed, beside the lines; where that can't be, why."""
        lines, opened, sheet = self.lines, self._opened, self.sheet
        if not self.is_attached or lines is None or opened is None or sheet is None:
            return
        try:
            typed = sheet.typed()
        except ValueError as error:
            self._not_worked_out(ProblemError(Problem(str(error), "type it again")))
            return
        try:
            fields = lines.as_typed(self._texts(), opened)
        except ValueError:
            return
        given = self._given({**fields, "lines": typed})
        self._act(given, lambda found: self._show(found, ""), self._not_worked_out)

    def _not_worked_out(self, error: ProblemError) -> None:
        """Say why there are no figures; what was typed stays."""
        self._show(None, "\n".join(problem.sentence() for problem in error.problems[:2]))

    def _show(self, found: Result | None, wrong: str) -> None:
        """Show the figures of what was found, None where there are none; wrong: why."""
        if self.sheet is None or self.lines is None:
            return
        self._found = found
        self.problems(wrong)
        if found is None:
            self.sheet.show({}, "")
        else:
            self.sheet.show(self.lines.figures(found), self.lines.total(found))
        self._tell_about()

    def _tell_about(self) -> None:
        """What is known of the line in which one types."""
        sheet, lines = self.sheet, self.lines
        here = next((one for one in sheet.lines if one.key == self._here), None) if sheet else None
        if sheet is not None and lines is not None and here is not None:
            sheet.tell(lines.about(here, self._found))


class ShortForm(EventForm[Result]):
    """The form of an entry that is kept at once."""

    BINDINGS = bindings("once")


def form_of(desk: OpenProject, entry: ShortEntry[Result]) -> EventForm[Result]:
    """The form that asks for an entry."""
    kind = entry.form or (EventForm if isinstance(entry, Entry) else ShortForm)
    return kind(desk, entry)
