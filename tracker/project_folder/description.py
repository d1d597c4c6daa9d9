"""datapackage.json: what a project folder holds, as the open Data Package and Table Schema
standards (v1) describe it.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from typing import Any

from tracker.tables import BY_NAME
from tracker.tables.cells import must_be_given
from tracker.values import kinds
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Column, Rows, columns_of, key_columns, table_of

HOLIDAYS_KEPT = "holidays_kept_as_days"
"""Our own property of the calendars: by calendar, the holiday sets whose days are among
calendar_days already.
"""


def description(rows: Rows) -> str:
    """The text of datapackage.json for these tables. The same rows always give the same text."""
    written = [table for table in BY_NAME if rows.get(table)]
    package = {
        "profile": "tabular-data-package",
        "name": "project",
        "title": next((p.name for p in rows.get("project", ()) if p.name), "project"),
        "description": (
            "A conversion project; snapshots/DATE holds the same tables as they stood on that"
            " status date."
        ),
        "resources": [_resource(BY_NAME[table], written, rows) for table in written],
    }
    return json.dumps(package, indent=1, ensure_ascii=False) + "\n"


def holidays_kept(text: str, file: str) -> dict[str, str]:
    """By calendar, the holiday sets that a description says are kept as days.

    ProblemError if it is not JSON.
    """
    try:
        resources = json.loads(text).get("resources")
    except (ValueError, AttributeError, RecursionError):
        do = "take the file out (it is written anew by each export), or correct it"
        raise ProblemError(Problem(what="is not a JSON object", do=do, file=file)) from None
    kept: dict[str, str] = {}
    for resource in resources if isinstance(resources, list) else ():
        given = resource.get(HOLIDAYS_KEPT) if isinstance(resource, Mapping) else None
        if isinstance(given, Mapping):
            kept.update({code: sets for code, sets in given.items() if isinstance(sets, str)})
    return kept


def _resource(kind: type[Any], written: Iterable[str], rows: Rows) -> dict[str, Any]:
    """One table."""
    resource: dict[str, Any] = {
        "profile": "tabular-data-resource",
        "name": table_of(kind),
        "path": f"{table_of(kind)}.csv",
        "description": str(kind.ABOUT),
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "schema": _schema(kind, written),
    }
    if table_of(kind) == "calendars":
        resource[HOLIDAYS_KEPT] = {
            c.code: " ".join(c.holidays) for c in rows["calendars"] if c.holidays
        }
    return resource


def _schema(kind: type[Any], written: Iterable[str]) -> dict[str, Any]:
    """Fields, key, and references to other tables that are written."""
    schema: dict[str, Any] = {"fields": [_field(c) for c in columns_of(kind)]}
    if keys := [c.name for c in key_columns(kind)]:
        schema["primaryKey"] = keys
    if references := [
        _reference(kind, c) for c in columns_of(kind) if _is_foreign_key(c) and c.refers in written
    ]:
        schema["foreignKeys"] = references
    return schema


def _is_foreign_key(column: Column) -> bool:
    """Whether the standard can say it: one code in the cell; of several columns together, none that
    may be blank.
    """
    return (
        bool(column.refers)
        and not isinstance(column.kind, kinds.Codes)
        and (column.required or not column.refers_with)
    )


def _reference(kind: type[Any], column: Column) -> dict[str, Any]:
    """A foreign key; the standard wants an empty name for the table itself."""
    resource = "" if column.refers == table_of(kind) else column.refers
    target = [c.name for c in key_columns(BY_NAME[column.refers])]
    return {
        "fields": [*column.refers_with, column.name],
        "reference": {"resource": resource, "fields": target},
    }


def _field(column: Column) -> dict[str, Any]:
    """One column."""
    field: dict[str, Any] = {"name": column.name, "type": column.kind.json_type}
    if column.help:
        field["description"] = column.help
    if isinstance(column.kind, kinds.YesNo):
        field |= {"trueValues": ["yes"], "falseValues": ["no"]}
    if constraints := _constraints(column):
        field["constraints"] = constraints
    return field


def _constraints(column: Column) -> dict[str, Any]:
    """What the standard can say about the values of a column."""
    kind = column.kind
    found: dict[str, Any] = {"required": True} if must_be_given(column) else {}
    if isinstance(kind, kinds.Choice):
        found["enum"] = list(kind.options)
    elif isinstance(kind, kinds.Weekdays):
        day = f"({'|'.join(kinds.WEEKDAYS)})"
        found["pattern"] = f"{day}( {day})*"
    elif isinstance(kind, kinds.LineCode):
        found["pattern"] = kinds.LINE_CODE.pattern
    elif isinstance(kind, kinds.Codes):
        found["pattern"] = f"{kinds.CODE.pattern}( {kinds.CODE.pattern})*"
    elif isinstance(kind, kinds.Code):
        found["pattern"] = kinds.CODE.pattern
    elif isinstance(kind, kinds.Day):
        found |= {"minimum": kinds.EARLIEST.isoformat(), "maximum": kinds.LATEST.isoformat()}
    elif isinstance(kind, kinds.Number):
        found |= _bounds(kind)
    return found


def _bounds(kind: kinds.Number) -> dict[str, int]:
    """The bounds of a number in the unit of the file, where they are whole."""
    unit = (
        100
        if isinstance(kind, kinds.Cents)
        else 1000
        if isinstance(kind, kinds.Rate | kinds.Correlation)
        else 1
    )
    least, most = (0, 1000) if isinstance(kind, kinds.Correlation) else (kind.least, kind.most)
    bounds = {"minimum": least, "maximum": most}
    return {name: bound // unit for name, bound in bounds.items() if bound % unit == 0}
