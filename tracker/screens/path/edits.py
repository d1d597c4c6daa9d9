"""What-if changes as they pile up, and an activity's links as one line of text that can be typed
over.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from tracker.values.records import Rows, columns_of, key_text

if TYPE_CHECKING:
    from tracker.answers.path import PathActivity
    from tracker.tables.row_edits import Edit

TYPES = ("FS", "SS", "FF", "SF")
UNITS = ("working", "calendar", "cutoff")


def with_edits(edits: Sequence[Edit], more: Sequence[Edit], rows: Rows) -> tuple[Edit, ...]:
    """The changes with more of them; cells of one row come together, and what is as it stands in
    the rows falls away.
    """
    made = list(edits)
    for table, key, cells in more:
        place = next((at for at, old in enumerate(made) if old[:2] == (table, key)), None)
        if place is None or cells is None or made[place][2] is None:
            made.append((table, key, cells))
        else:
            made[place] = (table, key, {**(made[place][2] or {}), **cells})
    return tuple(edit for edit in made if not says_nothing(edit, rows))


def says_nothing(edit: Edit, rows: Rows) -> bool:
    """Whether a change leaves its row as it stands."""
    table, key, cells = edit
    row = next((row for row in rows.get(table, ()) if key_text(row) == key), None)
    if row is None or cells is None or table == "links":
        return False
    kinds = {c.name: c for c in columns_of(type(row))}
    return all(
        name in kinds and kinds[name].kind.write(getattr(row, kinds[name].attribute)) == text
        for name, text in cells.items()
    )


def a_day_more(a: PathActivity, by: int) -> Edit | None:
    """The change that makes an activity longer by days (shorter, where negative); of work under way
    what remains of it.

    None where it is done, or has nothing to shorten.
    """
    under_way = a.state == "under way" or a.remaining != a.duration
    days = (a.remaining if under_way else a.duration) + by
    if a.state == "done" or a.kind == "milestone" or days < 1:
        return None
    return ("activities", a.code, {"remaining" if under_way else "duration": str(days)})


def links_text(links: Sequence[Any]) -> str:
    """What an activity waits for, as one types it: CODE, or CODE/SS, CODE/FS/3, CODE/FS/3/calendar,
    CODE/FS/cutoff.
    """
    return " ".join(link_text(link) for link in links)


def link_text(link: Any) -> str:
    """One link as one types it."""
    lag = "" if link.lag is None else str(link.lag)
    parts = [part for part in (lag, link.lag_unit) if part]
    kind = link.type if parts or link.type != "FS" else ""
    return "/".join(part for part in (link.from_, kind, *parts) if part)


def read_links(text: str) -> dict[tuple[str, str], dict[str, str]]:
    """From typed links to the cells of each, by predecessor and type.

    ValueError is the end of a sentence.
    """
    found: dict[tuple[str, str], dict[str, str]] = {}
    for word in re.split(r"[\s,;]+", text.strip(" ,;")):
        if not word:
            continue
        code, *rest = word.split("/")
        kind, cells = "FS", {"lag": "", "lag_unit": ""}
        for part in rest:
            if part.upper() in TYPES:
                kind = part.upper()
            elif part in UNITS:
                cells["lag_unit"] = part
            elif re.fullmatch(r"[+-]?[0-9]{1,4}", part):
                cells["lag"] = str(int(part))
            else:
                raise ValueError(
                    f"can't be read at {word}: write CODE, CODE/SS, CODE/FS/3 or CODE/FS/3/calendar"
                )
        if (code, kind) in found:
            raise ValueError(f"has {code} twice")
        found[code, kind] = cells
    return found


def link_edits(code: str, before: Sequence[Any], text: str) -> tuple[Edit, ...]:
    """The changes from an activity's links to those that were typed. ValueError as read_links."""
    was = {(link.from_, link.type): cells_of(link) for link in before}
    now = read_links(text)
    gone: list[Edit] = [
        ("links", f"{p}/{code}/{kind}", None) for p, kind in was if (p, kind) not in now
    ]
    return (
        *gone,
        *(
            ("links", f"{p}/{code}/{kind}", cells)
            for (p, kind), cells in now.items()
            if was.get((p, kind)) != cells
        ),
    )


def unknown_codes(text: str, known: Mapping[str, Any]) -> list[str]:
    """The predecessors that were typed and don't exist."""
    return [code for code, _ in read_links(text) if code not in known]


def cells_of(link: Any) -> dict[str, str]:
    """The cells of a link besides its key."""
    return {"lag": "" if link.lag is None else str(link.lag), "lag_unit": link.lag_unit}


def edit_words(edit: Edit) -> str:
    """A change of a what-if in a line."""
    table, key, cells = edit
    if table == "links":
        before, after, kind = key.split("/")
        extra = " ".join(text for text in (cells or {}).values() if text)
        kind = "" if kind == "FS" and not extra else f" ({kind}{' ' + extra if extra else ''})"
        return f"{after} {'no longer waits' if cells is None else 'waits'} for {before}{kind}"
    told = ", ".join(
        f"{name.replace('_', ' ')} {text or 'blank'}" for name, text in (cells or {}).items()
    )
    return f"{key}: {told}"
