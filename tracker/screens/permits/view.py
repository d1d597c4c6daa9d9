"""Permits: What must be inspected, and what did the inspector say?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tracker.screens.frame.keymap import bindings
from tracker.screens.frame.project_screen import ProjectScreen
from tracker.screens.table.parts_view import PartsView

if TYPE_CHECKING:
    from tracker.answers.permits_rows import CorrectionItem, InspectionRow, PermitsAnswer
    from tracker.approvals.inspections import Uncovered

OVER = ("passed", "failed", "called off")
"""States after which nobody comes for this inspection."""

WITH_FILES = ("permits", "inspections", "inspection_items")
"""Tables of this view whose rows have evidence."""


class PermitsView(PartsView):
    """Permits with their clocks, inspections in order, what may not be covered, what the
    certificate lacks.
    """

    CODE = "permits"
    CAUTION = "Do not cover work before its inspection passed; the inspector decides."
    BINDINGS = bindings("permits")
    HELP = (
        "On the left inspections in their order, what may not be covered up yet, corrections that"
        " are open, permits, deliveries with their five dates, other gates, what a certificate of"
        " occupancy lacks, and the cautions. On an inspection r marks it as asked for and v enters"
        " what the inspector said; a failed one puts its correction and re-inspection into the"
        " plan. c closes a correction, o lets work be covered up before its inspection for a"
        " reason, f attaches a file, e opens it. Enter opens the row, t shows all tables."
    )

    began = False

    def show(self, answer: PermitsAnswer) -> None:
        """Put it on the screen; at first the cursor stands on the first inspection that is not
        over.
        """
        super().show(answer)
        if not self.began and self.part and self.part.code == "inspections":
            self.began = True
            ahead = next(
                (at for at, one in enumerate(answer.inspections) if one.state not in OVER), None
            )
            if ahead is not None:
                self.list.go_to(ahead)
                self.list.scroll_to(y=max(0, ahead - 2), animate=False, force=True)
                self._show_detail()

    # What happens to the row under the cursor

    @property
    def _inspection(self) -> InspectionRow | None:
        """The inspection that the row under the cursor is about; None where it is about none."""
        row = self.row if self.answer is not None else None
        if row is None or row.table not in ("inspections", "inspection_items"):
            return None
        code = row.key.rsplit("/", 1)[0] if row.table == "inspection_items" else row.key
        return next((one for one in self.answer.inspections if one.code == code), None)

    @property
    def _to_close(self) -> CorrectionItem | None:
        """The open correction under the cursor, or the first open one of the inspection under it;
        None where there is none.
        """
        one, row = self._inspection, self.row
        if one is None or row is None:
            return None
        item = row.key.rsplit("/", 1)[1] if row.table == "inspection_items" else ""
        return next((i for i in one.items if i.open and item in ("", i.item)), None)

    @property
    def _to_override(self) -> Uncovered | None:
        """What may not be covered under the cursor, or the first such of the inspection under it;
        None where there is none.
        """
        one, row = self._inspection, self.row
        if one is None or row is None:
            return None
        held = [c for c in self.answer.not_to_cover if c.inspection == one.code and not c.excused]
        return next(
            (c for c in held if c.activity == row.at), held[0] if held and not row.at else None
        )

    def action_asked_for(self) -> None:
        """The inspection is asked for today."""
        from tracker.screens.permits.inspection_step import asked_for

        if one := self._inspection:
            day = max(one.day or self.today, self.today)
            self.framed.enter(asked_for(one.code, one.name, day))

    def action_came(self) -> None:
        """The inspector came."""
        from tracker.screens.permits.inspection_result import inspection_result

        if one := self._inspection:
            self.framed.enter(inspection_result(one.code, one.name))

    def action_close_item(self) -> None:
        """A correction is done."""
        from tracker.screens.permits.inspection_step import item_closed

        one, item = self._inspection, self._to_close
        if one and item:
            self.framed.enter(item_closed(one.code, item.item, item.text))

    def action_override(self) -> None:
        """Cover up before the inspection, for a reason."""
        from tracker.screens.permits.inspection_step import covered

        if cover := self._to_override:
            self.framed.enter(covered([cover.inspection], cover.activity))

    def action_evidence(self) -> None:
        """Open what is attached to the row."""
        from tracker.screens.entry.evidence import show_evidence

        screen = self.screen
        if self.row and isinstance(screen, ProjectScreen):
            show_evidence(screen, self.row.table, self.row.key)

    def action_attach(self) -> None:
        """Attach a file to the row."""
        from tracker.screens.entry.evidence import attaching

        if self.row:
            name = self._inspection.name if self._inspection else ""
            self.framed.enter(attaching(self.row.table, self.row.key, name))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """A key that the row under the cursor does not take does not show."""
        if action in ("asked_for", "came"):
            one = self._inspection if self.is_mounted else None
            return one is not None and one.state not in OVER
        if action in ("evidence", "attach"):
            return self.is_mounted and self.row is not None and self.row.table in WITH_FILES
        if action == "close_item":
            return self.is_mounted and self._to_close is not None
        if action == "override":
            return self.is_mounted and self._to_override is not None
        return True
