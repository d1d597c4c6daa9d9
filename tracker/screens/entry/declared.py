"""What an entry is: the fields that it asks for, what it would do, and how it is kept.

An entry is about an event: an inspector came, a bill is paid. It is declared as a value of data
and a few pure functions; one form (event_form.py) asks, previews and keeps all of them.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Generic, TypeVar

from tracker.values.kinds import Kind
from tracker.values.records import Column, Rows, row_of

if TYPE_CHECKING:
    from tracker.actions.opening import ProjectFile
    from tracker.screens.entry.event_form import EventForm
    from tracker.screens.entry.line_sheet import SheetCol, SheetLine
    from tracker.screens.entry.preview_dialog import Choice
    from tracker.screens.entry.typed_text import Near
    from tracker.screens.table.sections import Section

Result = TypeVar("Result")
"""What the action of an entry returns."""

Row = TypeVar("Row")

Values = Mapping[str, Any]
"""What was entered, by field: values of each field's kind, tuples of texts for lines."""

Texts = Mapping[str, str]
"""What stands in each field, as it is typed."""

HELP = (
    "Fill in what happened; Ctrl S tells what that does to the plan and to the money before"
    " anything is kept."
)


@dataclass(frozen=True)
class EntryField:
    """One field. kind: what may stand in it; None: several lines of text. start: the value that
    stands there at first.

    refers: the table of which it names a row. column: the column that a problem of it names, where
    that is not its name. when: whether it is asked, given the texts in the other fields; None:
    always. called: its name as people read it, where that is not its name.
    """

    name: str
    kind: Kind | None
    help: str = ""
    start: object = None
    needed: bool = False
    refers: str = ""
    column: str = ""
    when: Callable[[Texts], bool] | None = None
    called: str = ""

    @property
    def label(self) -> str:
        """The field's name as people read it."""
        return self.called or self.name.replace("_", " ")

    @property
    def as_column(self) -> Column:
        """The field as a form knows it; not for several lines of text."""
        assert self.kind is not None
        return Column(
            name=self.name,
            attribute=self.name,
            kind=self.kind,
            key=False,
            required=self.needed,
            empty=self.kind.blank,
            refers=self.refers,
            refers_with=(),
            help=self.help,
        )


@dataclass(frozen=True)
class Opened:
    """The project as it was when the entry was opened. near: the days near which dates are
    typed.
    """

    project: ProjectFile
    rows: Rows
    today: dt.date
    near: Near

    def found(self, kind: type[Row], **values: object) -> Row | None:
        """The row of a table that has these values; None where there is none."""
        return row_of(self.rows, kind, **values)


@dataclass(frozen=True)
class Given(Opened):
    """What was entered. only_try: tell what it would do, and write nothing. choice: the way to
    keep it that was chosen. previewed: what trying it returned.
    """

    values: Values
    only_try: bool = True
    choice: str = ""
    previewed: object = None

    def __getitem__(self, name: str) -> Any:
        return self.values[name]


@dataclass(frozen=True, kw_only=True)
class ShortEntry(Generic[Result]):
    """An entry that moves nothing in the plan: kept at once.

    fields: what is asked; ProblemError where nothing can be entered. act: calls the action, in a
    thread. kept: what is said then, alone or with notes on it. begin: the field in which one
    begins; blank: the first empty one. titled: the title once the rows are read. follows: texts
    that other fields take when something is chosen. form: the form, where it has keys of its own.
    """

    title: str
    fields: Callable[[Opened], Sequence[EntryField]]
    act: Callable[[Given], Result]
    kept: Callable[[Result], str | tuple[str, Sequence[str]]]
    help: str = HELP
    cautions: Sequence[str] = ()
    begin: str = ""
    titled: Callable[[Opened], str] | None = None
    follows: Callable[[Texts], Texts] | None = None
    form: type[EventForm[Any]] | None = None


@dataclass(frozen=True, kw_only=True)
class Lines(Generic[Result]):
    """A table below the fields that is typed into; what follows stands beside it as one types.

    The entry's `values["lines"]` holds by line and column what differs from what was there.
    columns: those that are typed into, in a screen so many cells wide. lines: its lines. behind:
    title and cells of the figures behind them. figures: by line, the figure. total: the line below.
    about: what is known of the line in which one types, and of what the entry would do, None where
    that can't be worked out. as_typed: the fields while one types; ValueError where they are not
    complete yet.
    """

    columns: Callable[[int], Sequence[SheetCol]]
    lines: Callable[[Opened], Sequence[SheetLine]]
    behind: tuple[str, int]
    figures: Callable[[Result], Mapping[str, str]]
    total: Callable[[Result], str]
    about: Callable[[SheetLine, Result | None], Sequence[str]]
    as_typed: Callable[[Texts, Opened], Values]


@dataclass(frozen=True, kw_only=True)
class Entry(ShortEntry[Result]):
    """An entry that is previewed before it is kept.

    preview: what it would do, in words. keep: the label of the one way to keep it, or the ways,
    which may be none.
    """

    preview: Callable[[Result], Sequence[Section]]
    keep: str | Callable[[Result], Sequence[Choice]] = "keep it"
    lines: Lines[Result] | None = None
