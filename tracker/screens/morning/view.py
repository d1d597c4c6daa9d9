"""Morning: what must happen next?"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from textual import events, on
from textual.app import ComposeResult
from textual.widgets import Static

from tracker.approvals.cautions import for_view
from tracker.pages.morning import as_of_line
from tracker.screens.entry.typed_text import FULL_DAY
from tracker.screens.frame.keymap import bindings
from tracker.screens.frame.main_screen import MainScreen
from tracker.screens.frame.view import View
from tracker.screens.morning import words
from tracker.screens.table.plain import plain_lines
from tracker.screens.table.rows_table import RowsTable
from tracker.values.problems import ProblemError
from tracker.values.records import Rows

if TYPE_CHECKING:
    from tracker.actions.rows import Saved
    from tracker.screens.entry.typed_text import Near
    from tracker.screens.morning.entry import DayEntry

TEACHES = (
    "Nothing is planned yet. Press a to make the first activity, p for the project itself; "
    "2 Path links activities, 3 Cost takes the budget, 4 Rezoning the checklist.\n"
    "Or begin with a plan for your kind of conversion: `tracker templates` lists them, "
    "`tracker new FILE --template NAME` makes a file from one."
)
CALM = (
    "Nothing waits this morning: no calls, filings, inspections or papers within their time. l"
    " writes today's site log."
)


class MorningList(RowsTable):
    """The list of what waits; the cursor passes over the titles of sections."""

    titles: frozenset[int] = frozenset()

    def go_to(self, row: int) -> None:
        """Put the cursor on a row; on a title, on the next row in the same direction, or the other
        way at the end.
        """
        last = len(self.rows) - 1
        wanted = max(0, min(row, last))
        step = -1 if wanted < self.cursor else 1
        place = wanted
        while place in self.titles and 0 <= place + step <= last:
            place += step
        if place in self.titles:
            place = next((at for at in range(last + 1) if at not in self.titles), place)
        super().go_to(place)
        if place - 1 in self.titles and place - 1 < self.scroll_offset.y:
            self.scroll_to(y=place - 1, animate=False, force=True, immediate=True)


class MorningView(View):
    """What waits today, section by section, and short entries for what came of it."""

    CODE = "morning"
    CAUTION = "No work without its permit; no moving in without a certificate of occupancy."
    BINDINGS = bindings("morning")
    HELP = (
        "What follows for today from everything that is entered. Enter goes to the view and the row"
        " that a line is about. w enters the word that a contractor gives, c that somebody came, r"
        " marks an inspection as asked for, v enters what the inspector said, o what came of a"
        " hearing, l today's site log, L shows all of its days, d a delay event, p the project"
        " itself, P prints; t shows overrides and attached papers. Each of them can be undone.\n"
        + " ".join(caution.text for caution in for_view("morning"))
    )

    def compose_body(self) -> ComposeResult:
        """The opening and what it costs above; the list; the line under the cursor in full."""
        yield Static("", id="morning-head")
        yield Static("", id="morning-old")
        yield MorningList(id="morning-list")
        yield Static("", id="morning-empty")
        yield Static("", id="morning-detail")

    def load(self) -> Any:
        """The answer of Morning, and whether anything is planned at all."""
        from tracker.answers.morning import answer, with_file_words

        planned = bool(self.project.tables().get("activities"))
        return with_file_words(answer(self.project, self.today), self.desk.file_words), planned

    def show(self, answer: Any) -> None:
        """Put it on the screen."""
        morning, planned = answer
        old = self.query_one("#morning-old", Static)
        old.update(plain_lines(as_of_line(morning, self.size.width < words.FULL_FROM)))
        old.set_class(morning.as_of is not None, "-shown")
        self._lines = words.lines_of(morning)
        self._fill(morning, planned)

    def _fill(self, morning: Any, planned: bool) -> None:
        """Show head and list at the width that there is, or what to do first."""
        table, width = self._list, self.size.width
        head = words.head_lines(morning, width)
        self.query_one("#morning-head", Static).update(plain_lines("\n".join(head)))
        table.titles = frozenset(
            place for place, line in enumerate(self._lines) if line.item is None
        )
        table.offers = ("open",) if planned or self._lines else ("add",)
        keys = [line.key for line in self._lines]
        rows = [words.cells_of(line, width) for line in self._lines]
        table.fill(words.columns(width), rows, keys=keys, frozen=0)
        if table.cursor in table.titles:
            table.go_to(table.cursor)
        table.set_class(not self._lines, "-empty")
        empty = self.query_one("#morning-empty", Static)
        empty.update(plain_lines(CALM if planned else TEACHES))
        empty.set_class(not self._lines, "-shown")
        self.query_one("#morning-detail").display = bool(self._lines)
        self._show_detail()

    @property
    def _list(self) -> MorningList:
        """The list of what waits."""
        return self.query_one("#morning-list", MorningList)

    @property
    def line(self) -> words.Line | None:
        """The line under the cursor; None where there is none, or it is a title."""
        lines = getattr(self, "_lines", [])
        found = lines[self._list.cursor] if 0 <= self._list.cursor < len(lines) else None
        return found if found and found.item else None

    def _show_detail(self) -> None:
        """The line under the cursor in full; the keys that it takes."""
        self.query_one("#morning-detail", Static).update(
            plain_lines("\n".join(words.detail_lines(self.line, self.screen.has_class("-low"))))
        )
        self.refresh_bindings()

    @on(RowsTable.Moved, "#morning-list")
    def other_line(self, event: RowsTable.Moved) -> None:
        """The cursor stands on another line."""
        event.stop()
        self._show_detail()

    @on(RowsTable.Asked, "#morning-list")
    def asked(self, event: RowsTable.Asked) -> None:
        """Go to the view and row that a line is about; make the first activity."""
        event.stop()
        line = self.line
        if event.what == "add":
            self.app.open_form("activities")  # type: ignore[attr-defined]
        elif (
            line is not None
            and line.item is not None
            and line.item.view
            and isinstance(self.screen, MainScreen)
        ):
            self.screen.open_row(line.item.view, line.item.key, line.table, line.row)

    def on_resize(self, event: events.Resize) -> None:
        """The columns follow the width."""
        if self.answer is not None:
            self._fill(*self.answer)

    def action_next_block(self) -> None:
        """The next line that blocks something now."""
        place = words.next_block(self._lines, self._list.cursor)
        if place is not None:
            self._list.go_to(place)

    # Short entries

    def action_word_given(self) -> None:
        """The word that somebody gives for the planned day, or another one."""
        line = self.line
        if not words.takes_word(line) or line is None or line.item is None:
            return
        who, work, day = (
            getattr(line.item, "contractor", ""),
            getattr(line.item, "activity", ""),
            line.item.day,
        )
        planned = day if line.section == "Calls to make" else None
        from tracker.screens.morning.entry import word_given

        about, start = words.whom(line), words.word_day(line, self.today)
        self._with_days(lambda near: word_given(self.desk, near, who, work, start, planned, about))

    def action_asked_for(self) -> None:
        """An inspection is asked for today."""
        line = self.line
        if not words.takes_request(line) or line is None or line.item is None:
            return
        from tracker.screens.morning.entry import asked_for

        code, about = line.row, words.whom(line)
        day = getattr(line.item, "planned", None) or self.today
        self._with_days(lambda near: asked_for(self.desk, near, code, max(day, self.today), about))

    def action_came(self) -> None:
        """Somebody who gave a word came."""
        line = self.line
        if not words.takes_coming(line) or line is None or line.item is None:
            return
        from tracker.screens.morning.entry import came

        code, about = line.row, words.whom(line)
        day = min(line.item.day or self.today, self.today)
        self._with_days(lambda near: came(self.desk, near, code, day, about), self._ask_under_way)

    def _ask_under_way(self, saved: Saved) -> None:
        """Who came has begun, or is done: ask whether the plan shall say so."""
        from tracker.screens.entry.dialogs import Question

        framed, word = self.framed, saved.row

        def found(rows: Rows) -> None:
            work = next((a for a in rows.get("activities", ()) if a.code == word.activity), None)
            cell = words.follows_coming(word, work)
            if not cell or work is None:
                return
            state, day = "under way" if cell == "actual_start" else "done", word.came_on

            def answered(yes: bool | None) -> None:
                if yes:
                    framed.in_thread(
                        lambda: self.desk.save("activities", work.code, {cell: day.isoformat()}),
                        lambda kept: framed.opens.kept(
                            f"{work.code} is {state} since {day:{FULL_DAY}}.", kept.notes
                        ),
                        framed.complain,
                    )

            question = f"Mark {work.name or work.code} as {state} since {day.strftime(FULL_DAY)}?"
            self.app.push_screen(Question(question, state, "not yet"), answered)

        framed.in_thread(self.desk.rows, found, framed.complain)

    def action_inspected(self) -> None:
        """The inspector came: enter what they said."""
        from tracker.screens.permits.inspection_result import inspection_result

        line = self.line
        if words.takes_result(line) and line is not None:
            self.framed.enter(inspection_result(line.row, ""))

    def action_outcome(self) -> None:
        """A body met: enter what came of the case."""
        from tracker.screens.rezoning.hearing_result import hearing_result

        line = self.line
        if words.takes_outcome(line) and line is not None:
            self.framed.enter(hearing_result(line.row, "by what the body said"))

    def action_site_log(self) -> None:
        """Today's line of the site log."""
        from tracker.screens.morning.site_entries import site_log

        self.framed.enter(site_log(self.desk.today))

    def action_site_days(self) -> None:
        """The site log by day."""
        from tracker.screens.morning.site_days import SiteDays

        self.app.push_screen(SiteDays(self.desk))

    def action_delay(self) -> None:
        """A delay event, of the work under the cursor if there is one."""
        from tracker.screens.morning.site_entries import delay_event

        item = self.line.item if self.line else None
        work = getattr(item, "activity", "") or (
            item.key if item is not None and item.table == "activities" else ""
        )
        self.framed.enter(delay_event(work))

    def action_project(self) -> None:
        """The project's own row: name, status date, promised opening, what a day costs."""
        self.app.open_form("project", "-")  # type: ignore[attr-defined]

    def _with_days(
        self, make: Callable[[Near], DayEntry], then: Callable[[Saved], None] | None = None
    ) -> None:
        """Make an entry that counts dates by the project's calendar, and ask it. then: what follows
        once it is kept.
        """
        from tracker.screens.entry.typed_days import near_of

        self.framed.in_thread(
            lambda: near_of(self.desk.rows(), self.desk.today),
            lambda near: self._ask(make(near), then),
            self.framed.complain,
        )

    def _ask(self, entry: DayEntry, then: Callable[[Saved], None] | None = None) -> None:
        """Ask a short entry and keep it; where it is refused, ask again with what was typed."""
        from tracker.screens.morning.entry import DayLine

        framed = self.framed

        def answered(text: str | None) -> None:
            if text is None:
                return
            value = entry.value(text)

            def refused(error: ProblemError) -> None:
                framed.complain(error)
                self._ask(entry.again(text), then)

            def kept(saved: Saved) -> None:
                framed.opens.kept(entry.kept(value), saved.notes)
                if then:
                    then(saved)

            framed.in_thread(lambda: entry.keep(value), kept, refused)

        self.app.push_screen(DayLine(entry), answered)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """A key that the line under the cursor does not take does not show."""
        takes = {
            "word_given": words.takes_word,
            "asked_for": words.takes_request,
            "came": words.takes_coming,
        }
        takes |= {"inspected": words.takes_result, "outcome": words.takes_outcome}
        if action == "next_block":
            return words.next_block(getattr(self, "_lines", []), -1) is not None
        return takes[action](self.line) if action in takes and self.is_mounted else True
