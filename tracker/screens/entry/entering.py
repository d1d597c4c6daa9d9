"""An entry about a thing that happened: what is asked, what it would do, and only then what is
kept.

Other than the form of a row, an entry is about an event: an inspector came, a body met. Its fields
are not the columns of a table. Ctrl S tries it and tells what it would do to the plan and to the
money; only the answer to that keeps it, as one step.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path, PurePath
from typing import Any, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widget import Widget
from textual.widgets import Input, Select, Static

from tracker.screens.entry.fields import Field, known_rows
from tracker.screens.entry.filling import Filling
from tracker.screens.entry.lines_field import LinesField
from tracker.screens.entry.told import Choice, Told
from tracker.screens.frame.desk import Desk
from tracker.screens.frame.keymap import bindings
from tracker.screens.table.plain import plain, plain_lines
from tracker.screens.table.sections import Section
from tracker.tables.cells import parse_cell
from tracker.values.kinds import Kind
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Column, Rows

HERE = Path(__file__).parent

Values = Mapping[str, Any]
"""What was entered, by field: values of each field's kind, tuples of texts for lines."""


@dataclass(frozen=True)
class Ask:
    """One field. kind: what may stand in it; None: several lines of text. start: what stands there
    at first.

    refers: the table of which it names a row. column: the column that a problem of it names, where
    that is not its name. when: whether it is asked, given the texts in the other fields.
    """

    name: str
    kind: Kind | None
    help: str = ""
    start: str = ""
    needed: bool = False
    refers: str = ""
    column: str = ""
    when: Callable[[Mapping[str, str]], bool] = field(default=lambda texts: True)
    called: str = ""

    @property
    def label(self) -> str:
        """The field's name as people read it."""
        return self.called or self.name.replace("_", " ")


class Entering(Filling):
    """One entry. A kind of it says what is asked, what it would do, and how it is kept."""

    CSS_PATH: ClassVar[list[str | PurePath]] = [HERE / "form.tcss", HERE / "entering.tcss"]
    """Whole: a kind of entry in another folder looks the same."""

    BINDINGS = bindings("entry")
    AUTO_FOCUS = ""
    BEGIN: ClassVar[str] = ""
    """The field in which one begins; blank: the first empty one."""
    HELP = (
        "Fill in what happened; Ctrl S tells what that does to the plan and to the money before"
        " anything is kept."
    )

    # What each kind of entry says of itself

    def heading(self) -> str:
        """What is entered."""
        return ""

    def cautions(self) -> Sequence[str]:
        """What can hurt or lose a right here."""
        return ()

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """The fields. rows: all tables; called once, when they are read.

        ProblemError where nothing can be entered.
        """
        raise NotImplementedError

    def tried(self, values: Values) -> Any:
        """What it would do. Runs in a thread; writes nothing. ProblemError where it can't be."""

    def told(self, found: Any) -> Sequence[Section]:
        """What it would do, in words."""
        return ()

    def choices(self, found: Any) -> Sequence[Choice]:
        """The ways to keep it."""
        return (Choice("k", "keep it", "keep"),)

    def keep(self, values: Values, choice: str) -> Any:
        """Keep it. Runs in a thread."""
        raise NotImplementedError

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """What is said once it is kept, and notes on it."""
        return "Kept.", ()

    # The rest is the same for all

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._asks: Sequence[Ask] = ()

    def compose_body(self) -> ComposeResult:
        """What is entered, cautions, what is wrong, the fields."""
        yield Static(plain(self.heading()), id="form-title")
        yield Static(plain_lines("\n".join(self.cautions())), id="entry-cautions")
        yield Static("", id="form-problems")
        yield VerticalScroll(id="fields", can_focus=False)

    def on_mount(self) -> None:
        """Read what the fields need."""
        self.query_one("#entry-cautions").display = bool(self.cautions())
        self.in_thread(self.desk.rows, self._read, self._unable)

    def _unable(self, error: ProblemError) -> None:
        """Nothing can be entered here: say why, and go back."""
        self.complain(error)
        self.dismiss(None)

    def _read(self, rows: Rows) -> None:
        """Make the fields."""
        from tracker.screens.entry.typed_days import near_of

        try:
            self._asks = self.asks(rows)
        except ProblemError as error:
            self._unable(error)
            return
        self.query_one("#form-title", Static).update(plain(self.heading()))
        near = near_of(rows, self.desk.today)
        made: list[Field | LinesField] = []
        for ask in self._asks:
            if ask.kind is None:
                made.append(LinesField(ask.name, ask.label, ask.help, ask.needed))
            else:
                column = column_of(ask)
                made.append(Field(column, ask.start, near, known_rows(column, rows), False))
        self.call_later(self._fill_in, made)

    async def _fill_in(self, made: Sequence[Widget]) -> None:
        """Put the fields on the screen; they are complete before anything is shown in them."""
        await self.query_one("#fields", VerticalScroll).mount(*made)
        self._follow()
        for one in self.fields:
            one.check()
        empty = (one for one in self.shown if isinstance(one, LinesField) or not one.typed)
        first = self.field(self.BEGIN) if self.BEGIN else next(empty, None)
        (first or self.shown[0]).control.focus()

    @property
    def fields(self) -> list[Field | LinesField]:
        """All fields in their order."""
        return [one for one in self.query(".field") if isinstance(one, (Field, LinesField))]

    @property
    def shown(self) -> list[Field | LinesField]:
        """The fields that are asked now."""
        return [one for one in self.fields if one.display]

    def field(self, name: str) -> Any:
        """The field of a name."""
        return self.query_one(f"#field-{name}")

    def loses_text(self) -> bool:
        """Whether something was typed that is not kept."""
        return any(one.unkept for one in self.shown)

    def _texts(self) -> dict[str, str]:
        """What stands in each field."""
        return {
            name_of(one): one.typed if isinstance(one, Field) else "\n".join(one.texts)
            for one in self.fields
        }

    def _follow(self) -> None:
        """Ask only what belongs to what was chosen."""
        texts = self._texts()
        for ask in self._asks:
            self.field(ask.name).display = ask.when(texts)

    @on(Input.Changed)
    @on(Select.Changed)
    def typing(self, event: Input.Changed | Select.Changed) -> None:
        """Show back what will be kept; ask what belongs to it."""
        self._follow()
        for one in event.control.ancestors:
            if isinstance(one, (Field, LinesField)):
                one.check()

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """The field in which one types stays in sight."""
        event.widget.scroll_visible(animate=False)
        self.refresh_bindings()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """A field without rows to choose from has nothing to choose."""
        return self._choosing() is not None if action == "pick" else True

    def _choosing(self) -> Field | None:
        """The field under the cursor whose code is chosen from rows."""
        above = self.focused.ancestors if self.focused else ()
        found = next((one for one in above if isinstance(one, Field)), None)
        return found if found and found.known else None

    def action_pick(self) -> None:
        """Choose a code from the rows that are there."""
        from tracker.screens.entry.picking import Picking

        field = self._choosing()
        if field is None or field.known is None:
            return

        def chosen(code: str | None) -> None:
            if code:
                field.put_code(code)

        self.app.push_screen(Picking(field.column.refers, field.known.names), chosen)

    # Trying and keeping

    def action_save(self) -> None:
        """Check every field; if all are fine, tell what it would do."""
        self.check_then(
            lambda values: self.in_thread(
                lambda: self.tried(values), lambda found: self._tell(values, found), self._refused
            )
        )

    def check_then(self, go_on: Callable[[Values], Any]) -> None:
        """Check every field; if all are fine, go on with what was entered."""
        wrong = [one for one in self.shown if not one.check(insist=True)]
        if wrong:
            names = ", ".join(label_of(one) for one in wrong)
            self.problems(f"Please look at {names} again.")
            wrong[0].control.focus()
            return
        self.problems("Working it out …")
        go_on(self.values())

    def values(self) -> dict[str, Any]:
        """What was entered; a field that is not asked counts as empty."""
        made: dict[str, Any] = {}
        for ask in self._asks:
            one = self.field(ask.name)
            if isinstance(one, LinesField):
                made[ask.name] = one.texts if one.display else ()
            else:
                made[ask.name] = (
                    parse_cell(one.column, one.cell()) if one.display else one.column.empty
                )
        return made

    def _tell(self, values: Values, found: Any) -> None:
        """Tell what it would do, and ask how to keep it."""
        self.problems("")

        def answered(choice: str | None) -> None:
            if choice:
                self.problems("Keeping …")
                self.in_thread(lambda: self.keep(values, choice), self._kept, self._refused)

        self.app.push_screen(Told(self.told(found), self.choices(found)), answered)

    def _kept(self, result: Any) -> None:
        """It is in the file."""
        words, notes = self.kept_words(result)
        self.app.kept(words, notes)
        self.dismiss(result)

    def _refused(self, error: ProblemError) -> None:
        """Say what is wrong, beside its field where it is about one; what was typed stays."""
        said = []
        for problem in error.problems:
            found = self._place_of(problem)
            if found is not None:
                found.say(f"{problem.what}; {problem.do}" if problem.do else problem.what)
            said.append(problem.sentence())
        more = f"\nand {len(said) - 3} more" if len(said) > 3 else ""
        self.problems("Not kept: " + "\n".join(said[:3]) + more)

    def _place_of(self, problem: Problem) -> Field | LinesField | None:
        """The field that a problem is about."""
        names = {ask.column or ask.name: ask.name for ask in self._asks}
        name = names.get(problem.column, "") if problem.column else ""
        return next((one for one in self.shown if name_of(one) == name), None)


class AtOnce(Entering):
    """An entry that moves nothing in the plan: Ctrl S keeps it without telling first what
    it does.
    """

    BINDINGS = bindings("once")

    def action_save(self) -> None:
        """Check every field; if all are fine, keep it."""
        self.check_then(
            lambda values: self.in_thread(
                lambda: self.keep(values, "keep"), self._kept, self._refused
            )
        )


def column_of(ask: Ask) -> Column:
    """A field as a form knows it."""
    assert ask.kind is not None
    return Column(
        name=ask.called or ask.name,
        attribute=ask.name,
        kind=ask.kind,
        key=False,
        required=ask.needed,
        empty=ask.kind.blank,
        refers=ask.refers,
        refers_with=(),
        help=ask.help,
    )


def name_of(one: Field | LinesField) -> str:
    """The name of a field."""
    return one.column.attribute if isinstance(one, Field) else one.called


def label_of(one: Field | LinesField) -> str:
    """The name of a field as people read it."""
    return one.column.label() if isinstance(one, Field) else one.label
