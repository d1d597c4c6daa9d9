"""The fields of a form, made from a table's columns: what is typed, what it will be kept as, and
why it can't be.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.suggester import Suggester
from textual.widgets import Input, Select, Static

from tracker.screens.entry.typed_text import Near, in_full, to_cell
from tracker.screens.table.plain import plain, plain_text
from tracker.tables.cells import is_blank, must_be_given, parse_cell
from tracker.values.kinds import Choice, Code, Codes, Day, Text, YesNo
from tracker.values.records import Column

DAY_HINT = "2027-03-05, 3/5, +10, fri"
"""How a date may be typed, in a few words; the help has them all."""


BREAK = "\N{DOWNWARDS ARROW WITH CORNER LEFTWARDS}"
"""Stands for a line break in a text of several lines while it is changed."""


class CleanInput(Input):
    """An input that never holds a character which could act on the terminal, wherever it
    came from.
    """

    def validate_value(self, value: str) -> str:
        """Replace such characters, one by one, so that the cursor stays where it is."""
        return plain_text(value)

    async def on_key(self, event: events.Key) -> None:
        """Keys that move or delete work in their turn among the letters, before the next of them is
        taken.
        """
        for one in (
            () if event.key == "enter" else self._bindings.key_to_bindings.get(event.key, ())
        ):
            if await self.app.run_action(one.action, self):
                event.stop()
                event.prevent_default()
                return


class CodeSuggester(Suggester):
    """Suggests codes that exist; in a list of codes it completes the last one."""

    def __init__(self, codes: Sequence[str], many: bool) -> None:
        super().__init__(case_sensitive=True)
        self.codes, self.many = codes, many

    async def get_suggestion(self, value: str) -> str | None:
        """The typed text with its last code completed."""
        head, space, last = value.rpartition(" ") if self.many else ("", "", value)
        if not last:
            return None
        found = next((code for code in self.codes if code.startswith(last)), None) or next(
            (code for code in self.codes if code.lower().startswith(last.lower())), None
        )
        return f"{head}{space}{found}" if found else None


class Known:
    """The codes of one table and the names that go with them. codes that need more than one part
    are joined by "/".
    """

    def __init__(self, rows: Sequence[Any], parts: int = 1) -> None:
        self.names: dict[str, str] = {}
        for row in rows:
            columns = [c for c in row.COLUMNS if c.key]
            key = "/".join(c.kind.write(getattr(row, c.attribute)) for c in columns)
            self.names[key] = name_of(row)

    def under(self, before: str) -> dict[str, str]:
        """The last part of the keys that begin with these parts, and their names."""
        if not before:
            return self.names
        head = before + "/"
        return {key[len(head) :]: name for key, name in self.names.items() if key.startswith(head)}


def name_of(row: Any) -> str:
    """What a row is called, besides its code."""
    for attribute in ("name", "title", "kind", "text"):
        value = getattr(row, attribute, "")
        if isinstance(value, str) and value:
            return plain_text(value)
    return ""


class Labeled(Horizontal):
    """A label with what one types in; the label stands out while keys come here."""

    def on_descendant_focus(self) -> None:
        """Keys come here."""
        self.add_class("-here")

    def on_descendant_blur(self) -> None:
        """Keys go elsewhere."""
        self.remove_class("-here")


class Field(Labeled):
    """One column: its label, what is typed, and beside it what that will be kept as or what is
    wrong with it.
    """

    def __init__(
        self,
        column: Column,
        start: str,
        near: Near,
        known: Known | None,
        locked: bool = False,
        label: str = "",
    ) -> None:
        """start: the cell as it stands. known: the rows that a code may refer to. locked: a key
        that stays as it is. label: how people call it, where that is not the column's name.
        """
        super().__init__(id=f"field-{column.attribute}", classes="field")
        self.column, self.start, self.near = column, start, near
        self.known, self.locked = known, locked
        self.key, self.label = column.name, label or column.label()
        self.before = ""
        self.given = ""
        self.reason = ""

    def compose(self) -> ComposeResult:
        """Label, control, echo."""
        label = self.label + (" *" if must_be_given(self.column) else "")
        yield Static(plain(label), classes="field-label")
        yield self._control()
        yield Static("", classes="field-echo")

    def _control(self) -> Input | Select[str]:
        """The widget in which one types or chooses."""
        kind = self.column.kind
        if isinstance(kind, (Choice, YesNo)):
            options = kind.options if isinstance(kind, Choice) else ("yes", "no")
            value: Any = self.start if self.start in options else Select.NULL
            blank = "–" if is_blank(self.column.empty) else f"– ({kind.write(self.column.empty)})"
            return Select(
                [(plain(option), option) for option in options],
                value=value,
                prompt=blank,
                compact=True,
                disabled=self.locked,
            )
        suggester = (
            CodeSuggester(tuple(self.codes()), isinstance(kind, Codes)) if self.known else None
        )
        typed = CleanInput(self.shown, compact=True, suggester=suggester, disabled=self.locked)
        typed.cursor_position = 0
        return typed

    @property
    def has_breaks(self) -> bool:
        """Whether the text came in several lines; a text that holds the sign for it by itself is
        taken as it stands.
        """
        return "\n" in self.start and BREAK not in self.start

    @property
    def shown(self) -> str:
        """The cell as it stands, in one line."""
        text = (
            self.start.replace("\r\n", "\n").replace("\n", BREAK) if self.has_breaks else self.start
        )
        return plain_text(text)

    def _loses(self) -> bool:
        """Whether a text that was changed can't be kept as it came: a break or a sign of it does
        not stand here.
        """
        kept = self.shown.replace(BREAK, "\n") if self.has_breaks else self.shown
        return (
            self.touched
            and isinstance(self.column.kind, Text)
            and kept != self.start.replace("\r\n", "\n")
        )

    @property
    def control(self) -> Input | Select[str]:
        """The widget in which one types or chooses."""
        return self.query_one("Input, Select")  # type: ignore[return-value]

    @property
    def typed(self) -> str:
        """What stands in the field."""
        control = self.control
        if isinstance(control, Input):
            return control.value
        return control.value if isinstance(control.value, str) else ""

    @property
    def touched(self) -> bool:
        """Whether it differs from what was there."""
        return self.typed != self.shown

    @property
    def unkept(self) -> bool:
        """Whether leaving would lose what somebody typed here."""
        return self.touched and self.typed != self.given

    def give(self, text: str) -> None:
        """Fill in a cell that follows from where the form was opened."""
        self.given = text
        self.put(text)

    def codes(self) -> Iterator[str]:
        """The codes that may stand here."""
        if self.known:
            yield from self.known.under(self.before)

    def put(self, text: str) -> None:
        """Put a text into the field, as if it had been typed."""
        control = self.control
        if isinstance(control, Input):
            control.value = text
            control.cursor_position = len(text)
        else:
            control.value = text if text else Select.NULL

    def put_code(self, code: str) -> None:
        """Put a chosen code into the field; a list of codes gets one more."""
        if isinstance(self.column.kind, Codes) and self.typed.strip():
            given = self.typed.split()
            self.put(" ".join([*given, code] if code not in given else given))
        else:
            self.put(code)

    def cell(self) -> str:
        """The cell that would be kept. ValueError says what is wrong, as the end of a sentence."""
        if not self.touched:
            if not self.start and must_be_given(self.column):
                raise ValueError("is empty, and every row needs it")
            return self.start
        cell = to_cell(self.column.kind, self.typed, self.near)
        cell = cell.replace(BREAK, "\n") if self.has_breaks else cell
        value = parse_cell(self.column, cell)
        if missing := self._missing(value):
            raise ValueError(f"has no such row in {self.column.refers}: {missing}")
        return cell

    def _missing(self, value: Any) -> str:
        """The first code that refers to nothing."""
        if not self.known or is_blank(value) or not self.column.refers:
            return ""
        there = set(self.codes())
        codes = value if isinstance(value, tuple) else (self.column.kind.write(value),)
        return next((str(code) for code in codes if code not in there), "")

    def check(self, insist: bool = False) -> bool:
        """Show what the field will be kept as, or what is wrong. insist: an empty field that is
        needed is wrong too.
        """
        try:
            cell = self.cell()
        except ValueError as error:
            if not self.typed and not insist:
                self._echo(self.column.help or "needed", "")
                return False
            self._echo(f"! {error}", "-wrong")
            return False
        self._echo(self._words(cell), "-kept" if cell else "")
        return True

    def say(self, words: str) -> None:
        """Show what somebody else found wrong with it."""
        self._echo(f"! {words}", "-wrong")

    def _words(self, cell: str) -> str:
        """What the field will be kept as; for an empty one, what belongs here."""
        kind = self.column.kind
        if not cell:
            default = kind.write(self.column.empty) if not is_blank(self.column.empty) else ""
            hint = self.column.help or self._hint()
            return f"{hint}{'; ' if hint else ''}empty: {default}" if default else hint
        value = parse_cell(self.column, cell)
        if self.known and isinstance(kind, Codes):
            names = self.known.under(self.before)
            return "→ " + ", ".join(names.get(code) or code for code in value)
        if self.known:
            return f"→ {self.known.under(self.before).get(cell) or cell}"
        if self._loses():
            return (
                "~ kept as it is shown here, which is not all that was there; Esc leaves it as"
                " it was"
            )
        if self.has_breaks:
            return f"{BREAK} is a line break"
        full = in_full(kind, value)
        return f"→ {full}" if full != self.typed else self.column.help

    def _hint(self) -> str:
        """What may be typed, where the column's own help does not say it."""
        kind = self.column.kind
        if isinstance(kind, Day):
            return DAY_HINT
        return kind.words() if isinstance(kind, (Code, Codes)) and not self.column.refers else ""

    def _echo(self, words: str, tone: str) -> None:
        """Write beside the field."""
        echo = self.query_one(".field-echo", Static)
        echo.update(plain(words))
        self.reason = words if tone == "-wrong" else ""
        self.set_class(tone == "-wrong", "-wrong")
        self.set_class(tone == "-kept", "-kept")


def known_rows(column: Column, rows: Mapping[str, Sequence[Any]], table: str = "") -> Known | None:
    """The rows that a column may refer to; None where it refers to nothing.

    A new cost line may take one of the standard codes that is not there yet, a new answer one of
    the questions that are asked; or any other.
    """
    if column.key and (offered := offered_codes(table)):
        there = {getattr(row, column.attribute) for row in rows.get(table, ())}
        known = Known(())
        known.names = {code: title for code, title in offered.items() if code not in there}
        return known
    return Known(rows.get(column.refers, ())) if column.refers else None


def offered_codes(table: str) -> Mapping[str, str]:
    """Codes that a new row of a table may well take, and what each is."""
    if table == "cost_lines":
        from tracker.money.cost_codes import UNIFORMAT

        return UNIFORMAT
    if table == "answers":
        from tracker.approvals import questions
        from tracker.money.questions import QUESTIONS

        return {**{one.code: one.meaning for one in questions.QUESTIONS}, **QUESTIONS}
    return {}
