"""Any answer as sheets, from the names of its fields: for answers that have no sheets of
their own.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Sequence
from typing import Any

from tracker.command_line.sheets import Col, Sheet, dollars, facts, number, percent, short_day


def sheets(answer: Any) -> list[Sheet]:
    """The plain facts of an answer first, then a sheet for each list in it."""
    return _of(answer, "")


def _of(value: Any, title: str) -> list[Sheet]:
    """The sheets of one frozen value."""
    found: list[Sheet] = []
    plain: list[tuple[str, str]] = []
    for field in dataclasses.fields(value):
        part = getattr(value, field.name)
        name = label(field.name)
        if dataclasses.is_dataclass(part):
            found.extend(_of(part, f"{title}{name}"))
        elif _is_list(part):
            found.extend(_list(part, f"{title}{name}"))
        elif isinstance(part, dict):
            plain.extend((f"{name} {key}", cell(field.name, inner)) for key, inner in part.items())
        else:
            plain.append((name, cell(field.name, part)))
    head = [facts(title.capitalize(), plain)] if any(shown for _, shown in plain) else []
    return head + found


def _list(parts: Sequence[Any], title: str) -> list[Sheet]:
    """A list as a sheet; lists inside of its rows as sheets of their own."""
    fields = dataclasses.fields(parts[0])
    found = [sheet_of(parts, title.capitalize())]
    for part in parts:
        name = str(getattr(part, fields[0].name))
        for field in fields:
            inner = getattr(part, field.name)
            if _is_list(inner):
                found.extend(_list(inner, f"{title} {name}: {label(field.name)}"))
            elif dataclasses.is_dataclass(inner):
                found.extend(_of(inner, f"{title} {name}: {label(field.name)}"))
    return found


def sheet_of(parts: Sequence[Any], title: str) -> Sheet:
    """The plain fields of a list's rows; a field that is empty in all of them is left out."""
    fields = dataclasses.fields(parts[0])
    flat = [f for f in fields if not any(_is_nested(getattr(p, f.name)) for p in parts)]
    used = [f for f in flat if any(cell(f.name, getattr(p, f.name)) for p in parts)]
    columns = tuple(
        Col(label(f.name), right=_is_number(f.name, [getattr(p, f.name) for p in parts]))
        for f in used
    )
    rows = tuple(tuple(cell(f.name, getattr(p, f.name)) for f in used) for p in parts)
    return Sheet(title, columns, rows)


def _is_list(value: Any) -> bool:
    """Whether a value is a list of rows."""
    return isinstance(value, tuple) and bool(value) and dataclasses.is_dataclass(value[0])


def _is_nested(value: Any) -> bool:
    """Whether a value has fields of its own."""
    return _is_list(value) or dataclasses.is_dataclass(value)


def _is_number(name: str, values: Sequence[Any]) -> bool:
    """Whether a column holds numbers."""
    whole = [
        isinstance(value, int) and not isinstance(value, bool)
        for value in values
        if value is not None
    ]
    return name.endswith(("_cents", "_bp")) or (bool(whole) and all(whole))


def label(name: str) -> str:
    """A field's name as people read it."""
    return name.rstrip("_").removesuffix("_cents").removesuffix("_bp").replace("_", " ")


def cell(name: str, value: Any) -> str:
    """A value as people read it; its unit follows from the field's name."""
    if value is None or value == ():
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int):
        return (
            dollars(value)
            if name.endswith("_cents")
            else percent(value)
            if name.endswith("_bp")
            else number(value)
        )
    if isinstance(value, dt.date):
        return short_day(value)
    if isinstance(value, tuple):
        return " ".join(map(str, value))
    return str(value)
