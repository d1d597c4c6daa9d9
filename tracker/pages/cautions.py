"""Cautions on a page: beside what they are about, in a list of their own, at a print's foot."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.approvals.cautions import CautionLine
from tracker.pages.marks import ASKS
from tracker.pages.page import ON_SCREEN, Column, Part, Row, Section, told
from tracker.values.records import Rows


def texts_of(view: str, rows: Rows) -> tuple[str, ...]:
    """The cautions of a view or print, placed beside the work that is still to be done."""
    from tracker.answers.work_ahead import cautions_of

    return tuple(one.text for one in cautions_of(view, rows))


def beside(cautions: Sequence[CautionLine], *ids: str) -> Section:
    """The cautions of these names, beside what they are about; text has all of them at its foot."""
    return Section("Caution", [line.text for line in cautions if line.id in ids], ON_SCREEN)


def listed(cautions: Sequence[CautionLine], notice: str, about: Sequence[Section] = ()) -> Part:
    """The cautions of a view, a row each, in a part of their own on the screen."""
    rows = tuple(
        Row((one.text,), "", one.id, mark=ASKS, about=told(Section("", [one.text])))
        for one in cautions
    )
    return Part(
        "cautions",
        "cautions",
        (Column("caution", "caution", grow=True),),
        rows,
        count=str(len(rows)),
        marked=True,
        about=(Section("", [notice]), *about),
        offers=(),
        on=ON_SCREEN,
    )
