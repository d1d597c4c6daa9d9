"""The code study: what does the building code ask? Opened from Rezoning."""

from __future__ import annotations

from textual import on
from textual.app import ComposeResult

from tracker.pages.registry import BY_CODE
from tracker.screens.frame.keymap import bindings
from tracker.screens.frame.project_screen import ProjectScreen
from tracker.screens.table.parts_view import PartsView
from tracker.screens.table.rows_table import RowsTable


class StudyView(PartsView):
    """What is over or close, each topic, layouts of fire walls, people by space, everything
    entered.
    """

    CODE = "study"
    CAUTION = "A first look, not advice: the adopted code and the officials govern."
    HELP = (
        "Each line lies under, close to (the last tenth) or over the figure of a model code, or"
        " asks. ? beside a line: its figure is of another edition, from memory, or old. Enter opens"
        " the answer that the line hangs on; a space takes its function, and a layout its walls. A"
        " local figure is the answer local.ROW, with the row's code."
    )

    @property
    def title(self) -> str:
        """The view's name."""
        return "Code study"

    @property
    def question(self) -> str:
        """The question that the view answers."""
        return BY_CODE[self.CODE].question

    @property
    def tables(self) -> tuple[str, ...]:
        """The tables behind the view."""
        return ("answers", "spaces", "fire_layouts")

    @on(RowsTable.Asked)
    def asked_answer(self, event: RowsTable.Asked) -> None:
        """Open an answer; one that is not there yet begins with its question.

        Everything else is as in every view of parts.
        """
        row = self.row
        if (
            event.table is self.names
            or event.what != "open"
            or row is None
            or row.table != "answers"
        ):
            return
        event.stop()
        event.prevent_default()
        if any(one.question == row.key and one.on_record for one in self.answer.inputs):
            self.app.open_form("answers", row.key)  # type: ignore[attr-defined]
        else:
            self.app.open_form("answers", None, {"question": row.key})  # type: ignore[attr-defined]


class StudyScreen(ProjectScreen):
    """The code study on a screen of its own."""

    BINDINGS = bindings("study")
    HELP = StudyView.HELP

    def compose_body(self) -> ComposeResult:
        """The study."""
        yield StudyView(self.desk)

    def on_mount(self) -> None:
        """Work it out."""
        view = self.query_one(StudyView)
        self.set_focus(view.first_focus())
        view.reload()

    def refresh_shown(self) -> None:
        """The project changed: work it out anew."""
        self.query_one(StudyView).reload()
