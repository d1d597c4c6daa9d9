"""The cautions of a view or print, placed beside the work that is still to be done."""

from __future__ import annotations

from tracker.approvals.cautions import CautionLine, standing
from tracker.values.records import Rows


def cautions_of(view: str, rows: Rows) -> tuple[CautionLine, ...]:
    """The cautions of a view or print, with the activities ahead that each is about."""
    ahead = [a for a in rows.get("activities", ()) if a.actual_finish is None]
    return standing(view, [(a.name or a.code, a.trade) for a in ahead])
