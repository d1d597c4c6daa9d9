"""What-if in the Path view: changes pile up, the opening moves, and they are kept in one step or
dropped.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from tracker.screens.frame.view import View
from tracker.screens.path.edits import a_day_more, edit_words, with_edits
from tracker.screens.path.loaded import Loaded, effect_of
from tracker.screens.path.words import effect_words
from tracker.values.problems import ProblemError

if TYPE_CHECKING:
    from tracker.answers.what_if import WhatIfAnswer
    from tracker.screens.path.table import PathTable
    from tracker.tables.row_edits import Edit

SHOWN = 8
"""How many changes a question lists."""


class Trying(View):
    """A view of the schedule on which changes are tried before they are kept. edits: those so far;
    effect: what they do.
    """

    answer: Loaded | None

    def __init__(self, desk: Any) -> None:
        super().__init__(desk)
        self.edits: tuple[Edit, ...] = ()
        self.effect: WhatIfAnswer | None = None

    # For the view to write

    @property
    def table(self) -> PathTable:
        """The activities with their bars."""
        raise NotImplementedError

    def show_all(self) -> None:
        """Put on the screen what is there now."""
        raise NotImplementedError

    # The actions

    def action_what_if(self) -> None:
        """Open the fields of the activity under the cursor."""
        key = self.table.key
        if key is None or self.answer is None:
            return
        from tracker.screens.entry.typed_days import near_of
        from tracker.screens.path.what_if import WhatIfForm

        def tried(edits: tuple[Edit, ...] | None) -> None:
            if edits is not None and edits != self.edits:
                self.set_edits(edits)

        self.app.push_screen(
            WhatIfForm(self.answer, self.edits, str(key), near_of(self.answer.rows, self.today)),
            tried,
        )

    def action_progress(self, done: bool) -> None:
        """Mark the activity under the cursor as begun or done; the form tells what the opening is
        then, before it is kept.
        """
        key, loaded = self.table.key, self.answer
        if key is None or loaded is None:
            return
        from tracker.screens.entry.typed_days import near_of
        from tracker.screens.path.progress import ProgressForm

        def entered(edits: tuple[Edit, ...] | None) -> None:
            if edits:
                self.keep(
                    edits, f"Kept: {edit_words(edits[0])}. u takes it back.", "entered progress"
                )

        self.app.push_screen(
            ProgressForm(loaded, str(key), near_of(loaded.rows, self.today), done), entered
        )

    def action_longer(self, by: int) -> None:
        """A day more or less for the activity under the cursor."""
        activities = self.table.shown.activities
        if not activities:
            return
        edit = a_day_more(activities[self.table.cursor], by)
        if edit is None:
            self.frame.say(
                "Nothing to shorten or lengthen here: it is done, takes no time, or has a single"
                " day left."
            )
            return
        self.try_more((edit,))

    def action_one_back(self) -> None:
        """Without the last change."""
        self.set_edits(self.edits[:-1])

    def drop(self) -> None:
        """Drop the what-if after a question."""
        from tracker.screens.entry.dialogs import Question

        def answered(yes: bool | None) -> None:
            if yes:
                self.set_edits(())

        changes = "the change" if len(self.edits) == 1 else f"all {len(self.edits)} changes"
        self.app.push_screen(
            Question(f"Drop {changes} of this what-if? The project is as it was.", "drop", "go on"),
            answered,
        )

    def action_keep(self) -> None:
        """Keep the what-if after a question, in one step."""
        if not self.effect or self.answer is None:
            return
        from tracker.screens.entry.dialogs import Question

        edits = self.edits

        def answered(yes: bool | None) -> None:
            if yes:
                self.keep(edits, "Kept the what-if. u takes it back.")

        lines = [edit_words(edit) for edit in edits[:SHOWN]]
        if len(edits) > SHOWN:
            lines.append(f"and {len(edits) - SHOWN} more")
        question = "\n".join(
            [f"Keep this what-if? The opening: {effect_words(self.effect)}.", *lines]
        )
        self.app.push_screen(Question(question, "keep it", "not yet"), answered)

    # Behind them

    def keep(self, edits: Sequence[Edit], words: str, what: str = "kept a what-if") -> None:
        """Keep changes as one step of the history; words: what is said then; what: how the history
        calls it.
        """
        assert self.answer is not None
        seen, app = self.answer.rows, self.app

        def work() -> Any:
            from tracker.actions.what_if import keep

            return keep(self.project, edits, seen, what=what, today=self.today)

        def kept(saved: Any) -> None:
            if edits == self.edits:
                self.edits, self.effect = (), None
            app.kept(words, getattr(saved, "notes", ()))  # type: ignore[attr-defined]

        self.frame.in_thread(work, kept, self.frame.complain)

    def try_more(self, more: Sequence[Edit], code: str = "") -> None:
        """Add changes to the what-if; code: the activity to show then."""
        if self.answer is not None:
            self.set_edits(with_edits(self.edits, more, self.answer.rows), code)

    def set_edits(self, edits: tuple[Edit, ...], code: str = "") -> None:
        """Work the what-if out with these changes, and show it; the one before stands if they can't
        be.
        """
        loaded = self.answer
        assert loaded is not None
        before = self.edits
        self.edits = edits

        def then(effect: WhatIfAnswer | None) -> None:
            if self.edits == edits and loaded is self.answer:
                self.effect = effect
                self.show_all()
                if code:
                    self.show_key(code)

        def failed(error: ProblemError) -> None:
            if self.edits == edits:
                self.edits = before
            self.frame.complain(error)

        self.frame.in_thread(lambda: effect_of(loaded, edits), then, failed)

    @property
    def frame(self) -> Any:
        """The screen that the view lies in."""
        return self.app.screen_stack[0]
