"""Rezoning: may we use it this way?"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from tracker.screens.frame.keymap import bindings
from tracker.screens.table.parts_view import PartsView

if TYPE_CHECKING:
    from tracker.answers.rezoning import Item
    from tracker.approvals.hearings import Case

WITH_FILES = ("checklist", "hearings")
"""Tables of this view whose rows have evidence."""


class RezoningView(PartsView):
    """Stages and items of the change of use, the hearing calendar, cases, the protest."""

    CODE = "rezoning"
    CAUTION = "Reminders, not advice: local ordinance and the officials' decisions govern."
    BINDINGS = bindings("rezoning")
    HELP = (
        "On the left what can be worked on now, the hearing calendar, cases and each stage; on the"
        " right its rows, below what each is about. s changes an item's state: proven asks for its"
        " evidence, not needed for the reason. o enters what came of a hearing: one entry moves its"
        " gate and tells what that costs. f attaches a file, e opens what is attached. c shows the"
        " code study, l brings a state's law. a makes an item of your own, Enter opens the row."
    )

    # What happens to the row under the cursor

    @property
    def _item(self) -> Item | None:
        """The item under the cursor; None where there is none."""
        row = self.row if self.answer is not None else None
        if row is None or row.table != "checklist":
            return None
        return next((item for item in self.answer.items if item.code == row.key), None)

    @property
    def _case(self) -> Case | None:
        """The case without an outcome under the cursor, or the first one before the body under it;
        None where there is none.
        """
        row = self.row if self.answer is not None else None
        if row is None or row.table not in ("hearings", "calendars"):
            return None
        waiting = [case for case in self.answer.cases if not case.outcome]
        return next((case for case in waiting if row.key in (case.code, case.calendar)), None)

    def action_item_state(self) -> None:
        """Choose a state; proven asks for the evidence, not needed for the reason."""
        from tracker.pages.checklist import STATES
        from tracker.screens.entry.picking import Picking

        item = self._item
        if item is None:
            return

        def chosen(state: str | None) -> None:
            from tracker.screens.rezoning.checklist_state import not_needing, proven

            if state == "proven":
                self.framed.enter(proven(item.code, item.title))
            elif state == "not needed":
                self.framed.enter(not_needing(item.code, item.title, item.reason))
            elif state:
                self._set(item, state)

        self.app.push_screen(Picking("checklist states", STATES), chosen)

    def _set(self, item: Item, state: str) -> None:
        """Keep a state that needs neither evidence nor reason."""
        from tracker.actions.checklist import set_state

        def kept(saved: Any) -> None:
            self.app.kept(f"{item.code} is {state}. u takes it back.", saved.notes)  # type: ignore[attr-defined]

        self.framed.in_thread(
            lambda: set_state(self.project, item.code, state), kept, self.framed.complain
        )

    def action_code_study(self) -> None:
        """Show what the building code asks."""
        from tracker.screens.rezoning.study import StudyScreen

        self.app.push_screen(StudyScreen(self.desk))

    def action_state_law(self) -> None:
        """Bring what is on record of a state's law into the project."""
        from tracker.screens.rezoning.state_law import choose

        choose(self.framed)

    def action_outcome(self) -> None:
        """Enter what a body said in a case."""
        from tracker.screens.rezoning.hearing_result import hearing_result

        if case := self._case:
            before = f"before {case.calendar}"
            self.framed.enter(hearing_result(case.code, before))

    def action_evidence(self) -> None:
        """Open what is attached to the row."""
        from tracker.screens.entry.evidence import show_evidence

        if self.row:
            show_evidence(self.framed, self.row.table, self.row.key)

    def action_attach(self) -> None:
        """Attach a file to the row."""
        from tracker.screens.entry.evidence import attaching

        if self.row:
            name = self._item.title if self._item else ""
            self.framed.enter(attaching(self.row.table, self.row.key, name))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """A key that the row under the cursor does not take does not show."""
        if not self.is_mounted or self.answer is None:
            return action not in ("item_state", "outcome", "evidence", "attach")
        if action == "item_state":
            return self._item is not None
        if action == "outcome":
            return self._case is not None
        if action in ("evidence", "attach"):
            return self.row is not None and self.row.table in WITH_FILES
        return True
