"""The form of one row of any table, made from the table's declared columns."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any

from textual.widgets import Input

from tracker.actions.rows import Saved
from tracker.screens.entry.dialogs import Question
from tracker.screens.entry.fields import CodeSuggester, Field, known_rows, name_of
from tracker.screens.entry.typed_days import near_of
from tracker.screens.entry.typing_screen import AnyField, TypingScreen
from tracker.screens.frame.keymap import bindings
from tracker.screens.frame.open_project import OpenProject
from tracker.screens.frame.table_help import about, title_of
from tracker.screens.table.plain import plain_text
from tracker.tables import BY_NAME
from tracker.values.kinds import Codes
from tracker.values.problems import BusyError, Problem, ProblemError
from tracker.values.records import Column, Rows, columns_of, key_columns, key_text


class RowForm(TypingScreen):
    """One row to look at, change or make. Dismisses with what was saved, or None."""

    BINDINGS = bindings("form")
    LOOK_AGAIN = "Not kept: please"

    def __init__(
        self,
        desk: OpenProject,
        table: str,
        key: str | None = None,
        preset: Mapping[str, str] | None = None,
        why: str = "",
    ) -> None:
        """key: of the row to change; None makes a new one, with the cells of preset filled in. why:
        for the history.
        """
        super().__init__(desk)
        self.table, self.key, self.preset, self.why = table, key, dict(preset or {}), why
        self.kind = BY_NAME[table]
        self.row: Any = None
        self.rows: Rows = {}

    def heading(self) -> str:
        """What the form is for."""
        if not self.rows:
            return ""
        if self.row is None:
            return f"New row in {title_of(self.table)}: {about(self.table)}"
        name, key = name_of(self.row), "" if self.key == "-" else self.key
        return f"{title_of(self.table)} {key}{'  ' + name if name else ''}"

    def opened(self, rows: Rows) -> None:
        """Make the fields."""
        self.rows = rows
        self.row = self._row_of(rows)
        near = near_of(rows, self.desk.today)
        fields = []
        for column in columns_of(self.kind):
            locked = column.key and self.row is not None
            known = known_rows(column, rows, "" if locked else self.table)
            fields.append(Field(column, self._start(column), near, known, locked))
        self.call_later(self._put, fields)

    @property
    def fields(self) -> list[Field]:
        """The fields in their order."""
        return list(self.query(Field))

    def _row_of(self, rows: Rows) -> Any:
        """The row of the form's key; None where there is none."""
        return next((row for row in rows.get(self.table, ()) if key_text(row) == self.key), None)

    async def _put(self, fields: list[Field]) -> None:
        """Put them on the screen; the first one that can be typed into has the focus."""
        await self.put_fields(fields)
        for field in fields if self.row is None else ():
            if field.key in self.preset:
                field.give(self.preset[field.key])
        self.follow(False)
        for field in fields:
            field.check()
        free = [field for field in fields if not field.locked]
        empty = [field for field in free if not field.typed] if self.row is None else []
        for field in (empty or free)[:1]:
            field.control.focus()

    def _start(self, column: Column) -> str:
        """The cell with which a field begins."""
        if self.row is not None:
            return column.kind.write(getattr(self.row, column.attribute))
        return ""

    def follow(self, chosen: bool) -> None:
        """Tell fields whose reference needs earlier cells what stands in those."""
        fields = self.fields
        cells = {field.column.attribute: field.typed for field in fields}
        for field in fields:
            parts = [cells.get(name, "") for name in field.column.refers_with]
            if parts and "/".join(parts) != field.before:
                field.before = "/".join(parts)
                if isinstance(field.control, Input) and field.known:
                    many = isinstance(field.column.kind, Codes)
                    field.control.suggester = CodeSuggester(tuple(field.codes()), many)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """A row that is not there yet can't be removed."""
        if action == "remove":
            return self.row is not None and bool(key_columns(self.kind))
        return super().check_action(action, parameters)

    # Keeping

    def save(self) -> None:
        """Keep the row."""
        self._save(self.row)

    def _save(self, expected: Any) -> None:
        """Keep the row in a thread."""
        cells = {field.column.name: field.cell() for field in self.fields if field.touched}
        key = self.key or "/".join(self._key_cells())
        if self.row is None:
            if any(key_text(row) == key for row in self.rows.get(self.table, ())):
                self.problems(
                    f"Not kept: there is a row with the key {key} already. Give it another one."
                )
                return
        elif not cells:
            self.dismiss(None)
            return
        self.problems("Keeping …")
        self.in_thread(
            lambda: self.desk.save(self.table, key, cells, expected, self.why),
            self._kept,
            self.refused,
        )

    def _key_cells(self) -> list[str]:
        """The cells of the key; one with a default takes it."""
        return [
            field.cell() or field.column.kind.write(field.column.empty)
            for field in self.fields
            if field.column.key
        ]

    def _kept(self, saved: Saved) -> None:
        """The row is in the file."""
        key = self.key or "/".join(self._key_cells())
        self.opens.kept(f"Kept {title_of(self.table)} {key}.", saved.notes)
        self.dismiss(saved)

    def refused(self, error: ProblemError) -> None:
        """Show each problem beside its field; what was typed stays."""
        if isinstance(error, BusyError):
            self._stale(error)
            return
        super().refused(error)
        for field in [one for one in self.fields if one.reason and not one.locked][:1]:
            field.control.focus()
        self.opens.offer_another_way(self, error)

    def place_of(self, problem: Problem) -> AnyField | None:
        """The field that a problem of this row is about."""
        here = problem.table in ("", self.table) and self._is_here(problem)
        return self.field(problem.column) if here else None

    def beside(self, problem: Problem) -> str:
        """What is wrong, the value, what to do."""
        shown = f" ({problem.value})" if problem.value else ""
        return plain_text(f"{problem.what}{shown}" + (f"; {problem.do}" if problem.do else ""))

    def above(self, problem: Problem, place: AnyField | None) -> str:
        """A problem of a field goes by that field's name."""
        return f"{place.label} {self.beside(problem)}" if place else problem.sentence()

    def _is_here(self, problem: Problem) -> bool:
        """Whether a problem is one of this row."""
        return not problem.key or problem.key == (self.key or "/".join(self._key_cells()))

    def _stale(self, error: BusyError) -> None:
        """Somebody else changed the row: show both versions and let the person say which
        one stays.
        """
        words = "\n".join(problem.sentence() for problem in error.problems)
        self.problems(f"Not kept: {words}")
        if self.row is None:
            return

        def answered(mine: bool | None) -> None:
            if mine:
                self.in_thread(self.desk.rows, self._save_over, self.complain)

        question = (
            f"{words}\n\nYours:"
            f" {self._yours({problem.column for problem in error.problems})}\n\nKeep what you typed"
            " over it?"
        )
        self.app.push_screen(Question(question, "keep mine", "go back to the form"), answered)

    def _yours(self, columns: Collection[str]) -> str:
        """What was typed, field by field: of these columns, or of all where none is named."""
        touched = [field for field in self.fields if field.touched]
        fields = [field for field in touched if field.key in columns] or touched
        return "; ".join(f"{field.label} {field.typed or 'blank'}" for field in fields) or "nothing"

    def _save_over(self, rows: Rows) -> None:
        """Save over the row as it stands now."""
        now = self._row_of(rows)
        if now is None:
            self.problems("Not kept: somebody else removed this row. Esc goes back.")
            return
        self._save(now)

    # Leaving and removing

    def action_remove(self) -> None:
        """Remove the row, after a question."""
        self.opens.ask_remove(self.table, str(self.key), self._gone)

    def _gone(self, saved: Saved) -> None:
        """The row is gone, and its form with it."""
        self.dismiss(saved)
