"""Choosing the state whose law, as far as it is on record, the project shall hold."""

from __future__ import annotations

from tracker.actions import state_law
from tracker.actions.folders import Imported
from tracker.screens.entry.dialogs import Question
from tracker.screens.entry.picking import Picking
from tracker.screens.frame.project_screen import ProjectScreen
from tracker.values.records import Rows


def choose(screen: ProjectScreen) -> None:
    """Choose a state, see what would be replaced, keep it."""
    known = state_law.on_record()

    def chosen(name: str | None) -> None:
        if name:
            screen.in_thread(
                screen.desk.rows, lambda rows: ask(screen, known[name], rows), screen.complain
            )

    names = {name: f"{record.state}: {record.about}" for name, record in known.items()}
    screen.app.push_screen(Picking("states on record", names), chosen)


def ask(screen: ProjectScreen, record: state_law.Record, rows: Rows) -> None:
    """Say what would be replaced, and keep it if that is wanted."""
    gone = state_law.replaced(rows, record)
    words = (
        f"Bring the record of {record.name} into the project: {len(record.answers)} answers, each"
        " with its source and day."
    )
    if gone:
        words += f"\nReplaced: {', '.join(gone)}."
    words += (
        "\nA record is no advice: statutes change, and your town may ask for more. u takes it back."
    )

    def answered(yes: bool | None) -> None:
        if yes:
            screen.in_thread(
                lambda: state_law.bring(screen.desk.project, record.name), kept, screen.complain
            )

    def kept(done: Imported) -> None:
        said = (
            f"{done.added} answers added, {done.changed} changed."
            if done.step
            else "The project holds all of it already."
        )
        screen.opens.kept(said, done.notes)

    screen.app.push_screen(Question(words, "bring it", "go back"), answered)
