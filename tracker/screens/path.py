"""Path: When do we open, and what drives it?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.timer import Timer
from textual.widgets import Input, Static

from tracker.answers import path, what_if
from tracker.answers.baseline import baseline_finishes
from tracker.answers.path import PathActivity, PathAnswer
from tracker.answers.what_if import WhatIfAnswer
from tracker.schedule.plan import Plan, compute
from tracker.screens.actions import bindings
from tracker.screens.days import near_of
from tracker.screens.dialogs import Question
from tracker.screens.fields import CleanInput
from tracker.screens.path_edits import a_day_more, with_edits
from tracker.screens.path_remarks import Chosen, Remarks
from tracker.screens.path_table import PathTable, Shown
from tracker.screens.path_words import Around, around, detail, effect_words, opening_words, what_if_words
from tracker.screens.plain import plain_lines
from tracker.screens.rows_table import RowsTable
from tracker.screens.teaching import empty_words
from tracker.screens.view import View
from tracker.tables.row_edits import Edit
from tracker.values.problems import ProblemError
from tracker.values.records import Rows

RESTS = 0.04
"""Seconds that the cursor rests before the activity under it is told of in full."""


@dataclass(frozen=True)
class Loaded:
    """What the view shows: the answer, the rows and the plan behind it, and the what-if if there is one.

    wrong: why the what-if no longer goes with the project, in a sentence.
    """

    rows: Rows
    today: dt.date
    baseline: dict[str, dt.date]
    plan: Plan
    answer: PathAnswer
    effect: WhatIfAnswer | None = None
    wrong: str = ""


class PathView(View):
    """When do we open, and what drives it?"""

    CODE = "path"
    BINDINGS: ClassVar[list[BindingType]] = bindings("path")

    answer: Loaded | None

    def __init__(self, desk: Any) -> None:
        super().__init__(desk)
        self.edits: tuple[Edit, ...] = ()
        self.effect: WhatIfAnswer | None = None
        self.driving = False
        self.trade = ""
        self.words = ""
        self.by_start = False
        self.about: Around | None = None
        self._resting: Timer | None = None

    def compose_body(self) -> ComposeResult:
        """The opening in words, words to find, activities and bars, the activity under the cursor in full."""
        yield Static("", id="path-top")
        yield CleanInput(compact=True, placeholder="words to find; Enter goes to the rows, Esc shows all", id="path-find")
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
        """The schedule as it is, and what the what-if would make of it."""
        rows = self.project.tables()
        baseline = baseline_finishes(self.project, self.today)
        plan = compute(rows)
        answer = path.from_plan(plan, rows, self.today, baseline)
        if not self.edits:
            return Loaded(rows, self.today, baseline, plan, answer)
        there = {a.code for a in rows.get("activities", ())}
        gone = [key for table, key, _ in self.edits if table == "activities" and key not in there]
        if gone:
            return Loaded(rows, self.today, baseline, plan, answer, None, f"{gone[0]} is no longer there")
        try:
            effect = what_if.from_rows(rows, self.edits, self.today, baseline, plan)
        except ProblemError as error:
            return Loaded(rows, self.today, baseline, plan, answer, None, error.problems[0].sentence())
        return Loaded(rows, self.today, baseline, plan, answer, effect)

    def show(self, answer: Loaded) -> None:
        """Put the schedule on the screen."""
        self.effect = answer.effect
        if answer.wrong:
            self.edits = ()
            self.note(f"The what-if no longer goes with the project and was dropped: {answer.wrong}")
        self._show_all()

    @property
    def path(self) -> PathAnswer | None:
        """The schedule that is shown: of the what-if if there is one."""
        if self.effect:
            return self.effect.path
        return self.answer.answer if self.answer else None

    def _show_all(self) -> None:
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
        was = {a.code: a.early_finish for a in self.answer.answer.activities} if self.effect else self.answer.baseline
        self.set_class(self.effect is not None, "-what-if")
        activities = self._chosen(shown.activities)
        if not self.table.placed:
            self.table.cursor = next((at for at, a in enumerate(activities) if a.on_longest_path and a.state != "done"), 0)
        self.table.put(Shown(activities, shown.status_date, was))
        self.query_one("#path-top", Static).update(plain_lines("\n".join(self._top(shown, len(activities)))))
        self._show_detail()
        self.refresh_bindings()

    def _chosen(self, activities: Sequence[PathActivity]) -> list[PathActivity]:
        """The activities that the filters leave, in the order that is wanted."""
        kept = [
            a
            for a in activities
            if (not self.driving or (a.on_longest_path and a.state != "done"))
            and (not self.trade or a.trade == self.trade)
            and (not self.words or self.words in f"{a.code} {a.name} {a.trade}".lower())
        ]
        return sorted(kept, key=lambda a: (a.early_start, a.early_finish, a.code)) if self.by_start else kept

    def _top(self, shown: PathAnswer, count: int) -> list[str]:
        """The opening in words, and what is left out of the table."""
        lines = what_if_words(self.effect, len(self.edits)) if self.effect else opening_words(shown)
        parts = [
            "only what drives the opening" if self.driving else "",
            f"only {self.trade}" if self.trade else "",
            f"only what holds “{self.words}”" if self.words else "",
        ]
        said = [part for part in parts if part]
        if said:
            said.append(f"{count:,} of {len(shown.activities):,} activities")
        if self.by_start:
            said.append("by early start")
        return [*lines, " · ".join(said)] if said else lines

    def _tell(self) -> None:
        """Tell of the activity under the cursor once the cursor rests, so that a held key never waits for it."""
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
        self.query_one("#path-about", Static).update(plain_lines("\n".join(lines)), layout=self.has_class("-more"))

    # What comes from the table

    @on(RowsTable.Asked)
    def asked(self, event: RowsTable.Asked) -> None:
        """Open, add, remove or find."""
        event.stop()
        app: Any = self.app
        key = self.table.key
        if event.what == "add":
            app.open_form("activities")
        elif event.what == "open" and key is not None:
            app.open_form("activities", str(key))
        elif event.what == "remove" and key is not None:
            app.ask_remove("activities", str(key))
        elif event.what == "find":
            find = self.query_one("#path-find", Input)
            find.add_class("-shown")
            find.focus()

    @on(Input.Changed, "#path-find")
    def finding(self, event: Input.Changed) -> None:
        """Show only what holds these words."""
        event.stop()
        self.words = event.value.strip().lower()
        self._show_all()

    @on(Input.Submitted, "#path-find")
    def found(self, event: Input.Submitted) -> None:
        """On to the rows that were found."""
        event.stop()
        self.table.focus()

    def show_key(self, key: str, table: str = "") -> bool:
        """Put the cursor on an activity, which no filter hides then."""
        if self.path and table in ("", "activities") and any(a.code == key for a in self.path.activities):
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
        self.driving = not self.driving
        self._show_all()

    def action_only_trade(self) -> None:
        """Choose a trade, or show all again."""
        if self.trade or self.path is None:
            self.trade = ""
            self._show_all()
            return
        from tracker.screens.picking import Picking

        counts: dict[str, int] = {}
        for a in self.path.activities:
            if a.trade:
                counts[a.trade] = counts.get(a.trade, 0) + 1
        names = {trade: "1 activity" if n == 1 else f"{n} activities" for trade, n in sorted(counts.items())}

        def taken(trade: str | None) -> None:
            if trade:
                self.trade = trade
                self._show_all()

        self.app.push_screen(Picking("trades", names), taken)

    def action_order(self) -> None:
        """Row order, or by early start."""
        self.by_start = not self.by_start
        self._show_all()

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
        """Remarks and clashes."""
        if self.path is None:
            return

        def chosen(one: Chosen | None) -> None:
            if one is None:
                return
            if one.edits:
                self._try(one.edits, one.code)
            else:
                self.show_key(one.code)

        self.app.push_screen(Remarks(self.path), chosen)

    def _show_everything(self) -> None:
        """No filter any more."""
        self.driving, self.trade, self.words = False, "", ""
        find = self.query_one("#path-find", Input)
        with self.prevent(Input.Changed):
            find.value = ""
        find.remove_class("-shown")
        self._show_all()
        self.table.focus()

    # What if

    def action_what_if(self) -> None:
        """Open the fields of the activity under the cursor."""
        key = self.table.key
        if key is None or self.answer is None:
            return
        from tracker.screens.path_what_if import WhatIfForm

        def tried(edits: tuple[Edit, ...] | None) -> None:
            if edits is not None and edits != self.edits:
                self._set(edits)

        self.app.push_screen(WhatIfForm(self.answer, self.edits, str(key), near_of(self.answer.rows, self.today)), tried)

    def action_longer(self, by: int) -> None:
        """A day more or less for the activity under the cursor."""
        activities = self.table.shown.activities
        if not activities:
            return
        edit = a_day_more(activities[self.table.cursor], by)
        if edit is None:
            self._frame.say("Nothing to shorten or lengthen here: it is done, takes no time, or has a single day left.")
            return
        self._try((edit,))

    def _try(self, more: Sequence[Edit], code: str = "") -> None:
        """Add changes to the what-if."""
        if self.answer is not None:
            self._set(with_edits(self.edits, more, self.answer.rows), code)

    def _set(self, edits: tuple[Edit, ...], code: str = "") -> None:
        """Work the what-if out with these changes, and show it; the one before stands if they can't be."""
        loaded = self.answer
        assert loaded is not None
        before = self.edits
        self.edits = edits

        def then(effect: WhatIfAnswer | None) -> None:
            if self.edits == edits and loaded is self.answer:
                self.effect = effect
                self._show_all()
                if code:
                    self.show_key(code)

        def failed(error: ProblemError) -> None:
            if self.edits == edits:
                self.edits = before
            self._frame.complain(error)

        self._frame.in_thread(
            lambda: what_if.from_rows(loaded.rows, edits, loaded.today, loaded.baseline, loaded.plan) if edits else None,
            then,
            failed,
        )

    @property
    def _frame(self) -> Any:
        """The screen that the view lies in."""
        return self.app.screen_stack[0]

    def action_one_back(self) -> None:
        """Without the last change."""
        self._set(self.edits[:-1])

    def action_drop(self) -> None:
        """Drop the what-if after a question; without one, show all activities."""
        if not self.edits:
            self._show_everything()
            return

        def answered(yes: bool | None) -> None:
            if yes:
                self._set(())

        changes = "the change" if len(self.edits) == 1 else f"all {len(self.edits)} changes"
        self.app.push_screen(Question(f"Drop {changes} of this what-if? The project is as it was.", "drop", "go on"), answered)

    def action_keep(self) -> None:
        """Keep the what-if after a question, in one step."""
        if not self.effect or self.answer is None:
            return
        edits, seen = self.edits, self.answer.rows
        app: Any = self.app

        def kept(saved: Any) -> None:
            self.edits, self.effect = (), None
            app.kept("Kept the what-if. u takes it back.", getattr(saved, "notes", ()))

        def answered(yes: bool | None) -> None:
            if yes:
                from tracker.actions.what_if import keep

                self._frame.in_thread(lambda: keep(self.project, edits, seen), kept, self._frame.complain)

        lines = [edit_words(edit) for edit in edits[:8]]
        if len(edits) > 8:
            lines.append(f"and {len(edits) - 8} more")
        question = "\n".join([f"Keep this what-if? The opening: {effect_words(self.effect)}.", *lines])
        self.app.push_screen(Question(question, "keep it", "not yet"), answered)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """What has no use now does not show, so that its keys keep their other meaning."""
        if action in ("keep", "one_back"):
            return bool(self.edits)
        if action == "drop":
            return bool(self.edits or self.driving or self.trade or self.words or self.query("#path-find.-shown"))
        return True


def edit_words(edit: Edit) -> str:
    """A change of a what-if in a line."""
    table, key, cells = edit
    if table == "links":
        before, after, kind = key.split("/")
        extra = " ".join(text for text in (cells or {}).values() if text)
        kind = "" if kind == "FS" and not extra else f" ({kind}{' ' + extra if extra else ''})"
        return f"{after} {'no longer waits' if cells is None else 'waits'} for {before}{kind}"
    told = ", ".join(f"{name.replace('_', ' ')} {text or 'blank'}" for name, text in (cells or {}).items())
    return f"{key}: {told}"
