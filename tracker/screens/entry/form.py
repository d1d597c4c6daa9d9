"""The form of one row of any table, made from the table's declared columns."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any

from textual import events, on
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widget import Widget
from textual.widgets import Input, Select, Static

from tracker.screens.entry.dialogs import Question
from tracker.screens.entry.fields import Field, Known, known_rows, name_of
from tracker.screens.entry.filling import Filling
from tracker.screens.frame.keymap import bindings
from tracker.screens.frame.open_project import OpenProject
from tracker.screens.frame.table_help import about, title_of
from tracker.screens.table.plain import plain, plain_text
from tracker.tables import BY_NAME
from tracker.values.kinds import Codes
from tracker.values.problems import BusyError, Problem, ProblemError
from tracker.values.records import Column, Rows, columns_of, key_columns, key_text


class RowForm(Filling):
    """One row to look at, change or make. Dismisses with what was saved, or None."""

    CSS_PATH = "form.tcss"
    BINDINGS = bindings("form")
    AUTO_FOCUS = ""

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

    def compose_body(self) -> ComposeResult:
        """What the form is for, what is wrong with it as a whole, the fields."""
        yield Static("", id="form-title")
        yield Static("", id="form-problems")
        yield VerticalScroll(id="fields", can_focus=False)

    def on_mount(self) -> None:
        """Read the row and the rows that it may refer to."""
        self.in_thread(self.desk.rows, self._opened, self.complain)

    def _opened(self, rows: Rows) -> None:
        """Make the fields."""
        from tracker.screens.entry.typed_days import near_of

        self.rows = rows
        self.row = next(
            (row for row in rows.get(self.table, ()) if key_text(row) == self.key), None
        )
        near = near_of(rows, self.desk.today)
        fields = []
        for column in columns_of(self.kind):
            locked = column.key and self.row is not None
            known = known_rows(column, rows, "" if locked else self.table)
            fields.append(Field(column, self._start(column), near, known, locked))
        self._title()
        self.call_later(self._fill_in, fields)

    async def _fill_in(self, fields: list[Field]) -> None:
        """Put the fields on the screen; they are complete before anything is shown in them."""
        await self.query_one("#fields", VerticalScroll).mount(*fields)
        self._ready()

    def _ready(self) -> None:
        """The first field that can be typed into has the focus; each says what it holds."""
        for field in self.fields:
            if self.row is None and field.column.name in self.preset:
                field.give(self.preset[field.column.name])
        self._follow_keys()
        for field in self.fields:
            field.check()
        first = next((field for field in self.fields if not field.locked and not field.typed), None)
        first = (
            first
            if self.row is None and first
            else next((field for field in self.fields if not field.locked), None)
        )
        if first:
            first.control.focus()

    def _start(self, column: Column) -> str:
        """The cell with which a field begins."""
        if self.row is not None:
            return column.kind.write(getattr(self.row, column.attribute))
        return ""

    def _title(self) -> None:
        """What the form is for."""
        if self.row is None:
            words = f"New row in {title_of(self.table)}: {about(self.table)}"
        else:
            name = name_of(self.row)
            words = (
                f"{title_of(self.table)}"
                f" {'' if self.key == '-' else self.key}{'  ' + name if name else ''}"
            )
        self.query_one("#form-title", Static).update(plain(words))

    @property
    def fields(self) -> list[Field]:
        """The fields in their order."""
        return list(self.query(Field))

    def field(self, name: str) -> Field | None:
        """The field of a column, by the column's name."""
        return next((field for field in self.fields if field.column.name == name), None)

    def loses_text(self) -> bool:
        """Whether something was typed that is not kept."""
        return any(field.unkept for field in self.fields)

    # While one types

    @on(Input.Changed)
    @on(Select.Changed)
    def typed(self, event: Input.Changed | Select.Changed) -> None:
        """Show back what the field will be kept as."""
        field = event.control.query_ancestor(Field)
        self._follow_keys()
        field.check()

    def _follow_keys(self) -> None:
        """Tell fields whose reference needs earlier cells what stands in those."""
        cells = {field.column.attribute: field.typed for field in self.fields}
        for field in self.fields:
            parts = [cells.get(name, "") for name in field.column.refers_with]
            if parts and "/".join(parts) != field.before:
                field.before = "/".join(parts)
                if isinstance(field.control, Input) and field.known:
                    from tracker.screens.entry.fields import CodeSuggester

                    field.control.suggester = CodeSuggester(
                        tuple(field.codes()), isinstance(field.column.kind, Codes)
                    )

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """The field in which one types stays in sight."""
        field = next((node for node in event.widget.ancestors if isinstance(node, Field)), None)
        if field:
            field.scroll_visible(animate=False)
        self.refresh_bindings()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """A row that is not there yet can't be removed; a field without rows to choose from has
        nothing to choose.
        """
        if action == "remove":
            return self.row is not None and bool(key_columns(self.kind))
        if action == "pick":
            return self._field_of(self.focused) is not None and bool(
                self._known(self._field_of(self.focused))
            )
        return True

    def _field_of(self, widget: Widget | None) -> Field | None:
        """The field to which a widget belongs."""
        return (
            next((node for node in widget.ancestors if isinstance(node, Field)), None)
            if widget
            else None
        )

    def _known(self, field: Field | None) -> Known | None:
        """The rows from which a field is chosen."""
        return field.known if field else None

    def action_pick(self) -> None:
        """Choose a code from the rows that are there."""
        from tracker.screens.entry.picking import Picking

        field = self._field_of(self.focused)
        if not field or not field.known:
            return

        def chosen(code: str | None) -> None:
            if code:
                field.put_code(code)

        self.app.push_screen(
            Picking(field.column.refers or self.table, field.known.under(field.before)), chosen
        )

    # Keeping

    def action_save(self) -> None:
        """Check every field; if all are fine, keep the row."""
        wrong = [field for field in self.fields if not field.check(insist=True)]
        if wrong:
            names = ", ".join(field.column.label() for field in wrong)
            self.problems(f"Not kept: please look at {names} again.")
            wrong[0].control.focus()
            return
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
            self._refused,
        )

    def _key_cells(self) -> list[str]:
        """The cells of the key; one with a default takes it."""
        return [
            field.cell() or field.column.kind.write(field.column.empty)
            for field in self.fields
            if field.column.key
        ]

    def _kept(self, saved: Any) -> None:
        """The row is in the file."""
        notes = tuple(getattr(saved, "notes", ()))
        self.app.kept(
            f"Kept {title_of(self.table)} {self.key or '/'.join(self._key_cells())}.", notes
        )
        self.dismiss(saved)

    def _refused(self, error: ProblemError) -> None:
        """Show each problem beside its field; what was typed stays."""
        if isinstance(error, BusyError):
            self._stale(error)
            return
        said = []
        for problem in error.problems:
            field = (
                self.field(problem.column)
                if problem.table in ("", self.table) and self._is_here(problem)
                else None
            )
            if field:
                field.say(_without_place(problem))
                said.append(f"{field.column.label()} {_without_place(problem)}")
            else:
                said.append(problem.sentence())
        more = f"\nand {len(said) - 3} more" if len(said) > 3 else ""
        self.problems("Not kept: " + "\n".join(said[:3]) + more)
        first = next((field for field in self.fields if field.reason and not field.locked), None)
        if first:
            first.control.focus()
        from tracker.screens.permits.inspection_step import offer_override

        offer_override(self, error)

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
        named = [field for field in self.fields if field.touched and field.column.name in columns]
        fields = named or [field for field in self.fields if field.touched]
        return (
            "; ".join(f"{field.column.label()} {field.typed or 'blank'}" for field in fields)
            or "nothing"
        )

    def _save_over(self, rows: Rows) -> None:
        """Save over the row as it stands now."""
        now = next((row for row in rows.get(self.table, ()) if key_text(row) == self.key), None)
        if now is None:
            self.problems("Not kept: somebody else removed this row. Esc goes back.")
            return
        self._save(now)

    # Leaving and removing

    def action_remove(self) -> None:
        """Remove the row, after a question."""
        self.app.ask_remove(self.table, str(self.key), self._gone)

    def _gone(self, saved: Any) -> None:
        """The row is gone, and its form with it."""
        self.dismiss(saved)


def _without_place(problem: Problem) -> str:
    """A problem as it stands beside its field: what is wrong, the value, what to do."""
    shown = f" ({problem.value})" if problem.value else ""
    return plain_text(f"{problem.what}{shown}" + (f"; {problem.do}" if problem.do else ""))
