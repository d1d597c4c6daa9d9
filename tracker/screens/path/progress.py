"""Work that has begun or is done: the days on which it was so, and what the opening is then, before
it is kept.
"""

from __future__ import annotations

from collections.abc import Sequence

from textual.widgets import Static

from tracker.schedule.progress import is_point
from tracker.screens.entry.dialogs import LEAVING
from tracker.screens.entry.fields import Field
from tracker.screens.entry.typed_text import Near
from tracker.screens.path.effect_form import EffectForm
from tracker.screens.path.loaded import Loaded
from tracker.screens.table.plain import plain

OUTCOME_OF_HEARING = "What the body decided is entered in Rezoning. "


class ProgressForm(EffectForm):
    """Actual start, actual finish, what remains.

    Dismisses with the change that shall be kept, or None.

    A day that is not entered yet is filled in, to be typed over: today; for the start of what is
    done, the planned one, unless that lies after today.
    """

    TITLE_WORDS = "Begun or done"
    HINT = "Enter keeps it · Esc goes back"
    LEAVING = LEAVING

    def __init__(self, loaded: Loaded, code: str, near: Near, done: bool) -> None:
        """done: it is to be marked as done; else as begun."""
        super().__init__(loaded, (), code, near)
        self.done = done
        self.point = is_point(self.activity)

    def columns(self) -> Sequence[str]:
        """A milestone takes no time: one day says all."""
        return ("actual_finish",) if self.point else ("actual_start", "actual_finish", "remaining")

    def hint(self) -> str:
        """What the keys do; of an inspection or a hearing, where its outcome is entered."""
        outcomes = (
            ("inspections", "What the inspector said is entered in Permits. "),
            ("hearings", OUTCOME_OF_HEARING),
        )
        said = next(
            (
                words
                for table, words in outcomes
                for row in self.rows.get(table, ())
                if row.activity == self.code
            ),
            "",
        )
        return said + self.HINT

    def first_field(self) -> str:
        """The day that is asked for; of work under way what remains."""
        if self.point or self.done:
            return "actual_finish"
        return "actual_start" if self.activity.actual_start is None else "remaining"

    def on_mount(self) -> None:
        """Fill in the likely day where one is asked for and none is known."""
        super().on_mount()
        today = self.near.today
        planned = next(
            (a.early_start for a in self.loaded.answer.activities if a.code == self.code), today
        )
        likely = {
            "actual_start": min(planned, today) if self.done else today,
            "actual_finish": today,
        }
        asked = [name for name in ("actual_start", "actual_finish") if name in self.columns()]
        for name in asked if self.done else asked[:1]:
            field = self.query_one(f"#field-{name}", Field)
            if not field.start:
                field.give(likely[name].isoformat())

    def action_take(self) -> None:
        """Keep it, once there is a change and the screen has told what it does."""
        waits = self._work is not None and not self._work.is_finished
        if waits or self.changes() == ():
            words = "Working out what the opening is then …" if waits else "Nothing has changed yet"
            self.query_one(".hint", Static).update(plain(f"{words} · Esc goes back"))
            return
        super().action_take()
