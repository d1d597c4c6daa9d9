"""Path: When do we open, and what drives it?"""

from __future__ import annotations

import threading
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.timer import Timer
from textual.widgets import Input, Static

from tracker.pages.path import opening_words
from tracker.pages.path_details import Around, around, detail
from tracker.schedule.records import Activity
from tracker.screens.entry.fields import CleanInput
from tracker.screens.frame.keymap import BY_ID, bindings
from tracker.screens.frame.table_help import empty_words
from tracker.screens.path.filters import Filters
from tracker.screens.path.loaded import Loaded, load
from tracker.screens.path.table import PathTable, Shown
from tracker.screens.path.trying import Trying
from tracker.screens.path.words import what_if_words
from tracker.screens.table.plain import plain_lines
from tracker.screens.table.rows_table import RowsTable

if TYPE_CHECKING:
    from tracker.answers.path import PathAnswer
    from tracker.screens.path.remarks import Chosen

RESTS = 0.04
"""Seconds that the cursor rests before the activity under it is told of in full."""
NAMES_FIRST = 0.3
"""Seconds at the most that the working out of the dates waits until the names are painted."""
WORKING_OUT = "Working out the dates …\n"


class PathView(Trying):
    """When do we open, and what drives it?"""

    CODE = "path"
    CAUTION = (
        f"What protects life ({BY_ID['remarks'].keys}): structure, falls, digging, asbestos, power,"
        " gas, fire"
    )
    HELP = (
        "Each activity on a time axis; what drives the opening is drawn heavy. w, ] and [ try a"
        " change: the opening moves on the screen, and nothing is kept before Ctrl s. r and x mark"
        " work as begun or done. The cost of a day is gross: what a later opening saves is not"
        " taken off."
    )
    BINDINGS: ClassVar[list[BindingType]] = bindings("path")

    def __init__(self, desk: Any) -> None:
        super().__init__(desk)
        self.filters = Filters()
        self.about: Around | None = None
        self._resting: Timer | None = None

    def compose_body(self) -> ComposeResult:
        """The opening in words, words to find, activities and bars, the activity under the cursor
        in full.
        """
        yield Static("", id="path-top")
        yield CleanInput(
            compact=True,
            placeholder="words to find; Enter goes to the rows, Esc shows all",
            id="path-find",
        )
        yield Static(plain_lines(empty_words("activities")), id="path-empty")
        yield PathTable(self._tell)
        with VerticalScroll(id="path-detail", can_focus=False):
            yield Static("", id="path-about")

    @property
    def table(self) -> PathTable:
        """The activities with their bars."""
        return self.query_one(PathTable)

    # The answer

    def load(self) -> Loaded:
        """The schedule as it is, and what the what-if would make of it.

        The first time, the names are painted before.
        """
        if self.answer is None:
            painted = threading.Event()
            self.call_later(self._show_names, self.project.rows(Activity), painted)
            painted.wait(NAMES_FIRST)
        return load(self.project, self.today, self.edits)

    def _show_names(self, activities: Sequence[Activity], painted: threading.Event) -> None:
        """Codes and names while the dates are worked out, from the first activity that is
        not done.
        """
        if self.answer is None and activities:
            self.table.cursor = next(
                (at for at, a in enumerate(activities) if a.actual_finish is None), 0
            )
            self.table.put(Shown(names=activities))
            self.table.begin_at_cursor()
            self.query_one("#path-top", Static).update(plain_lines(WORKING_OUT))
        self.call_after_refresh(painted.set)

    def show(self, answer: Loaded) -> None:
        """Put the schedule on the screen."""
        self.effect = answer.effect
        if answer.wrong:
            self.edits = ()
            self.note(
                f"The what-if no longer goes with the project and was dropped: {answer.wrong}"
            )
        self.show_all()

    @property
    def path(self) -> PathAnswer | None:
        """The schedule that is shown: of the what-if if there is one."""
        if self.effect:
            return self.effect.path
        return self.answer.answer if self.answer else None

    def show_all(self) -> None:
        """Words, table and detail anew."""
        if self.answer is None or self.path is None:
            return
        shown = self.path
        links = self.answer.rows.get("links", ())
        if self.edits:
            from tracker.tables.row_edits import edited

            links = edited(self.answer.rows, self.edits).get("links", ())
        self.about = around(shown, links)
        self.set_class(not shown.activities, "-empty")
        was = (
            {a.code: a.early_finish for a in self.answer.answer.activities}
            if self.effect
            else self.answer.baseline
        )
        self.set_class(self.effect is not None, "-what-if")
        activities = self.filters.chosen(shown.activities)
        if not self.table.placed and not self.table.went:
            self.table.cursor = next(
                (at for at, a in enumerate(activities) if a.on_longest_path and a.state != "done"),
                0,
            )
        first = not self.table.placed
        self.table.put(Shown(activities, shown.status_date, was))
        if first and not self.table.went:
            self.table.begin_at_cursor()
        lines = what_if_words(self.effect, len(self.edits)) if self.effect else opening_words(shown)
        said = self.filters.said(len(activities), len(shown.activities))
        self.query_one("#path-top", Static).update(
            plain_lines("\n".join([*lines, said] if said else lines))
        )
        self._show_detail()
        self.refresh_bindings()

    def _tell(self) -> None:
        """Tell of the activity under the cursor once the cursor rests, so that a held key never
        waits for it.
        """
        if self._resting is None:
            self._resting = self.set_interval(RESTS, self._show_detail)
        self._resting.reset()
        self._resting.resume()

    def _show_detail(self) -> None:
        """The activity under the cursor in full."""
        if self._resting:
            self._resting.pause()
        activities = self.table.shown.activities
        lines: list[str] = []
        if activities and self.about:
            lines = detail(activities[min(self.table.cursor, len(activities) - 1)], self.about)
        elif self.path and self.path.activities:
            lines = ["No activity is left by what you chose to see. Esc shows all."]
        self.query_one("#path-about", Static).update(
            plain_lines("\n".join(lines)), layout=self.has_class("-more")
        )

    # What comes from the table

    @on(RowsTable.Asked)
    def asked(self, event: RowsTable.Asked) -> None:
        """Open, add, remove or find."""
        event.stop()
        if event.what == "find":
            find = self.query_one("#path-find", Input)
            find.add_class("-shown")
            find.focus()
        else:
            self.ask_row(event, "activities")

    @on(Input.Changed, "#path-find")
    def finding(self, event: Input.Changed) -> None:
        """Show only what holds these words."""
        event.stop()
        self.filters.words = event.value.strip().lower()
        self.show_all()

    @on(Input.Submitted, "#path-find")
    def found(self, event: Input.Submitted) -> None:
        """On to the rows that were found."""
        event.stop()
        self.table.focus()

    def show_key(self, key: str, table: str = "") -> bool:
        """Put the cursor on an activity, which no filter hides then."""
        if (
            self.path
            and table in ("", "activities")
            and any(a.code == key for a in self.path.activities)
        ):
            if key not in self.table.keys:
                self._show_everything()
            self.table.go_to(self.table.keys.index(key))
            self.table.action_to_bar()
            self.table.focus()
            return True
        return False

    # What is shown

    def action_only_driving(self) -> None:
        """Only what drives the opening, or all."""
        self.filters.driving = not self.filters.driving
        self.show_all()

    def action_only_trade(self) -> None:
        """Choose a trade, or show all again."""
        if self.filters.trade or self.path is None:
            self.filters.trade = ""
            self.show_all()
            return
        from tracker.screens.entry.picking import Picking

        counts: dict[str, int] = {}
        for a in self.path.activities:
            if a.trade:
                counts[a.trade] = counts.get(a.trade, 0) + 1
        names = {
            trade: "1 activity" if n == 1 else f"{n} activities"
            for trade, n in sorted(counts.items())
        }

        def taken(trade: str | None) -> None:
            if trade:
                self.filters.trade = trade
                self.show_all()

        self.app.push_screen(Picking("trades", names), taken)

    def action_order(self) -> None:
        """Row order, or by early start."""
        self.filters.by_start = not self.filters.by_start
        self.show_all()

    def action_about_it(self) -> None:
        """Everything about the activity, or less."""
        self.toggle_class("-more")
        self._show_detail()

    def action_zoom(self, by: int) -> None:
        """Finer or coarser."""
        self.table.action_zoom(by)

    def action_to_bar(self) -> None:
        """The bar of the activity under the cursor."""
        self.table.action_to_bar()

    def action_to_status(self) -> None:
        """The status date."""
        self.table.action_to_status()

    def action_wide_bars(self) -> None:
        """More room for the bars."""
        self.table.action_wide_bars()

    def action_remarks(self) -> None:
        """Remarks, clashes and cautions."""
        if self.path is None:
            return
        from tracker.screens.path.remarks import Remarks

        def chosen(one: Chosen | None) -> None:
            if one is None:
                return
            if one.edits:
                self.try_more(one.edits, one.code)
            else:
                self.show_key(one.code)

        self.app.push_screen(Remarks(self.path), chosen)

    def action_risk(self) -> None:
        """How sure the opening is, with the what-if if there is one."""
        from tracker.screens.path.risk import RiskScreen

        self.app.push_screen(RiskScreen(self.desk, self.edits))

    def action_drop(self) -> None:
        """Drop the what-if after a question; without one, show all activities."""
        if self.edits:
            self.drop()
        else:
            self._show_everything()

    def _show_everything(self) -> None:
        """No filter any more."""
        self.filters.none()
        find = self.query_one("#path-find", Input)
        with self.prevent(Input.Changed):
            find.value = ""
        find.remove_class("-shown")
        self.show_all()
        self.table.focus()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """What has no use now does not show, so that its keys keep their other meaning."""
        if action in ("keep", "one_back"):
            return bool(self.edits)
        if action == "drop":
            return bool(self.edits or self.filters.any or self.query("#path-find.-shown"))
        return True
