"""Slip: why are we late, through whom, at what cost?"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from textual import on
from textual.message import Message
from textual.worker import Worker, get_current_worker

from tracker.answers.slip_offers import OfferRow, for_unexplained
from tracker.screens.frame.keymap import bindings
from tracker.screens.table.parts_view import PartsView
from tracker.screens.table.rows_table import RowsTable
from tracker.screens.table.sections import SectionsPane

if TYPE_CHECKING:
    from tracker.answers.slip import SlipAnswer
    from tracker.schedule.records import Snapshot


class Stopped(Exception):
    """The reader does not want to wait any longer."""


class SlipView(PartsView):
    """What nobody explained, the opening over time, days by cause, party, window and activity, what
    to do next time.
    """

    CODE = "slip"
    CAUTION = (
        "An account of what happened, no opinion on who owes what: contracts and an attorney decide"
        " that."
    )
    BINDINGS = bindings("slip")
    HELP = (
        "The slip is measured between closed status dates. Each window is split: progress is what"
        " went otherwise than the plan then said, revision is what was changed in the plan itself."
        " Delay events of the site log explain the days of their activity; what is left stands"
        " under not explained, and days that were won under made up. All parts add up. c closes a"
        " status date: the plan as it stands is kept, for good; u takes it back as long as it is"
        " the last change. b marks a snapshot as the baseline, or takes the mark away; the slip"
        " counts from the latest one. e enters a delay event that the records suggest, or for days"
        " that nobody explained. Enter on a window goes to its activities."
    )

    class Measured(Message):
        """So many windows of so many are worked out."""

        def __init__(self, done: int, of: int, worker: Worker[Any]) -> None:
            super().__init__()
            self.done, self.of, self.worker = done, of, worker

    def load(self) -> SlipAnswer:
        """The answer of Slip; says how far it is, and stops where nobody waits for it any more."""
        from tracker.answers.slip import answer

        worker = get_current_worker()

        def watch(done: int, of: int) -> None:
            if worker.is_cancelled:
                raise Stopped
            self.post_message(self.Measured(done, of, worker))

        return answer(self.project, self.today, watch)

    @on(Measured)
    def tell_measured(self, event: Measured) -> None:
        """How many windows are worked out, once that takes a while."""
        event.stop()
        if (
            event.worker is self._work
            and event.worker.is_running
            and self.query_one("#note-slip").has_class("-shown")
        ):
            self.note(f"Working it out … {event.done} of {event.of} windows · Esc stops it.")

    began = False

    def show(self, answer: SlipAnswer) -> None:
        """Put it on the screen; at first the cursor stands on the latest window of the plot."""
        super().show(answer)
        if not self.began and answer.windows and self.part and self.part.code == "plot":
            self.began = True
            self.list.go_to(len(self.part.rows) - 1)

    @on(RowsTable.Asked)
    def asked_row(self, event: RowsTable.Asked) -> None:
        """Enter on a row that stands for no row of a table goes to what is known of it."""
        row = self.row
        if event.table is self.list and event.what == "open" and row and not row.table:
            event.prevent_default()
            event.stop()
            self.query_one(".parts-detail", SectionsPane).focus()

    @property
    def _snapshot(self) -> Snapshot | None:
        """The head of the snapshot under the cursor; None where there is none."""
        row = self.row_shown
        if row is None or self.part is None or self.part.code != "snapshots":
            return None
        return next((one for one in self.answer.heads if one.date.isoformat() == row.at), None)

    @property
    def _offer(self) -> OfferRow | None:
        """The delay event that could be entered for the row under the cursor; None where there is
        none.
        """
        row, part = self.row_shown, self.part
        if row is None or part is None:
            return None
        if part.code == "offers":
            offers: Sequence[OfferRow] = self.answer.offers
            return offers[self.list.cursor]
        return (
            for_unexplained(self.answer.windows, row.key, row.at)
            if part.code == "not_explained"
            else None
        )

    def action_close_date(self) -> None:
        """Close a status date."""
        from tracker.screens.slip.entries import closing

        self.framed.enter(closing())

    def action_baseline(self) -> None:
        """Mark the snapshot as a baseline, or take the mark away."""
        from tracker.actions.snapshots import mark_baseline

        head = self._snapshot
        if head is None:
            return

        def kept(result: Any) -> None:
            words = "is a baseline now" if result.head.baseline else "is no baseline any more"
            self.app.kept(f"The snapshot of {head.date.isoformat()} {words}. u takes it back.", ())  # type: ignore[attr-defined]

        self.framed.in_thread(
            lambda: mark_baseline(self.project, head.date, not head.baseline),
            kept,
            self.framed.complain,
        )

    def action_enter_event(self) -> None:
        """Enter the delay event that is offered, or for days not explained; every field can be
        changed first.
        """
        from tracker.screens.slip.entries import offered_delay

        if offer := self._offer:
            self.framed.enter(offered_delay(offer))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """A key that the row under the cursor does not take does not show."""
        if action == "baseline":
            return self.is_mounted and self._snapshot is not None
        if action == "enter_event":
            return self.is_mounted and self._offer is not None
        return True
