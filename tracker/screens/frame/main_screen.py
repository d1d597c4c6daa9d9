"""The main screen: the project's line, the nine views by key, and the view that is open."""

from __future__ import annotations

import datetime as dt
from importlib import import_module
from importlib.util import find_spec

from textual import events
from textual.app import ComposeResult
from textual.containers import Container
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from tracker.screens.entry.typed_text import FULL_DAY
from tracker.screens.frame.keymap import VIEWS, bindings
from tracker.screens.frame.open_project import OpenProject
from tracker.screens.frame.project_screen import ProjectScreen
from tracker.screens.frame.table_help import TABLES_OF_VIEWS
from tracker.screens.frame.view import View
from tracker.screens.table.plain import fit, plain, width


class ViewNames(Widget):
    """The names of the nine views with their keys, the open one underlined; a click on one opens
    it.

    In a narrow pane only the open view is named, the others keep their key.
    """

    def __init__(self) -> None:
        super().__init__(id="view-names")
        self.open = ""
        self.places: list[tuple[int, int, str]] = []

    def put(self, code: str) -> None:
        """This view is open now."""
        self.open = code
        self.refresh()

    def render(self) -> Content:
        """As much of each name as there is room for."""
        whole = sum(width(name) + 3 for _, name, _ in VIEWS) - 1 <= self.size.width
        parts: list[Content | tuple[str, str]] = []
        at, self.places = 0, []
        for key, (code, name, _) in enumerate(VIEWS, 1):
            words = f"{key} {name}" if whole or code == self.open else str(key)
            parts += [
                (words, "$text bold underline" if code == self.open else "$text-muted"),
                (" ", ""),
            ]
            self.places.append((at, at + width(words), code))
            at += width(words) + 1
        return Content.assemble(*parts)

    def on_click(self, event: events.Click) -> None:
        """Open the view that was clicked on."""
        at = event.get_content_offset(self)
        for start, end, code in self.places:
            if at is not None and start <= at.x < end and isinstance(self.screen, MainScreen):
                self.screen.action_open_view(code)


class HeadLine(Static):
    """The project's name on the left, status date and today on the right."""

    def __init__(self) -> None:
        super().__init__("", id="headline")
        self.words = ("", "")

    def put(self, left: str, right: str) -> None:
        """Show these words."""
        self.words = (left, right)
        self._draw()

    def on_resize(self, event: events.Resize) -> None:
        """Share the line out anew."""
        self._draw()

    def _draw(self) -> None:
        """Cut the name so that the dates stay in sight; in a narrow pane the name goes first."""
        left, right = self.words
        room = self.content_size.width or self.app.size.width
        right = right if width(right) + 8 <= room else ""
        self.update(
            plain(
                fit(left, max(0, room - width(right) - (1 if right else 0)))
                + (" " + right if right else "")
            )
        )


class MainScreen(ProjectScreen):
    """The nine views."""

    BINDINGS = bindings("view")

    def __init__(self, desk: OpenProject, first: str = "morning") -> None:
        super().__init__(desk)
        self.first = first
        self.open = ""
        self.before: list[str] = []
        self.wanted: tuple[str, str, str] | None = None
        self.then = ""

    @property
    def help_words(self) -> str:
        """What one does in the view that is open."""
        return self.view.HELP

    def compose_body(self) -> ComposeResult:
        """Project line, names of the views, the view."""
        yield HeadLine()
        yield Static("", id="standing")
        yield ViewNames()
        yield Container(id="views")

    def on_mount(self) -> None:
        """The frame is painted first, before the view's own module is imported and anything is
        read.
        """
        self.query_one(ViewNames).put(self.first)
        self.call_after_refresh(self.show_view, self.first)

    def _headline(self) -> None:
        """Read the project's own row and show its name and dates."""
        self.in_thread(self.desk.project_row, self._show_headline, self.complain)

    def _show_headline(self, row: object) -> None:
        """Name and dates of the project; what is wrong with its file."""
        standing = self.query_one("#standing", Static)
        standing.update(plain(f"! {self.desk.file_words}" if self.desk.file_words else ""))
        standing.set_class(bool(self.desk.file_words), "-shown")
        name = getattr(row, "name", "") or "A project without a name yet"
        self.query_one(HeadLine).put(name, self._days(getattr(row, "status_date", None)))

    def _days(self, status: dt.date | None) -> str:
        """Status date and today in words; whether today is the project's own day and not the
        clock's.
        """
        today, pinned = self.desk.today, "pinned to " if self.desk.is_pinned else ""
        if pinned and status == today:
            return f"today {pinned}its status date, {today.strftime(FULL_DAY)}"
        status_words = (
            f"status date {status.strftime(FULL_DAY)} · " if status else "no status date yet · "
        )
        return f"{status_words}today {pinned}{today.strftime(FULL_DAY)}"

    @property
    def view(self) -> View:
        """The view that is open."""
        return self.query_one(f"#view-{self.open}", View)

    def show_view(self, code: str) -> None:
        """Open a view; it is made when it is first asked for."""
        if code == self.open:
            return
        if self.open:
            for other in self.query(View):
                other.display = False
        self.open = code
        self.query_one(ViewNames).put(code)
        found = self.query(f"#view-{code}")
        if found:
            self.view.display = True
            self._opened()
        else:
            self.call_later(self._add, _made(code, self.desk))

    async def _add(self, view: View) -> None:
        """Put a new view on the screen; it is complete before anything is shown in it."""
        await self.query_one("#views").mount(view)
        view.display = self.open == view.CODE
        if view.display:
            self._opened()

    def _opened(self) -> None:
        """The view is there: focus it and load it if it is stale."""
        view = self.view
        self.set_focus(view.first_focus())
        if view.stale:
            view.reload()
        if not self.query_one(HeadLine).words[0]:
            self._headline()
        if self.wanted:
            wanted, self.wanted = self.wanted, None
            view.want(*wanted)
        if self.then:
            then, self.then = self.then, ""
            view.then_do(then)
        self.refresh_bindings()

    def refresh_shown(self) -> None:
        """The project changed: every view is stale, the open one is loaded anew."""
        for view in self.query(View):
            view.stale = True
        self._headline()
        if self.query(f"#view-{self.open}"):
            self.view.reload()

    # Actions

    def action_open_view(self, code: str) -> None:
        """Open a view and remember where one came from."""
        if self.open and code != self.open:
            self.before.append(self.open)
            del self.before[:-20]
        self.show_view(code)

    def action_back(self) -> None:
        """Stop what is still being worked out, else go back to the view before."""
        if self.query(f"#view-{self.open}") and self.view.stop():
            return
        if self.before:
            self.show_view(self.before.pop())

    def action_reload(self) -> None:
        """Read the project again."""
        self.refresh_shown()

    def action_tables(self, table: str = "") -> None:
        """The tables behind the open view."""
        if self.view.show_tables(table):
            return
        from tracker.screens.frame.tables_screen import TablesScreen

        self.app.push_screen(
            TablesScreen(
                self.desk, f"{self.view.title}: the tables behind it", self.view.tables, table
            )
        )

    def action_print(self) -> None:
        """Print what belongs to the open view."""
        from tracker.screens.entry.print_entry import documents_of, printing

        if documents_of(self.open):
            self.enter(printing(self.open, *self.view.to_print))
        else:
            self.say(f"{self.view.title} has no print yet.", wrong=True)

    def open_row(self, code: str, key: str, table: str = "", row: str = "") -> None:
        """Open a view on the row of a key; where the view has no such row, open the form of the
        table's row over it.
        """
        if code == self.open:
            self.view.want(key, table, row)
            return
        self.wanted = (key, table, row)
        self.action_open_view(code)

    def do_in_view(self, code: str, action: str) -> None:
        """Open a view and do one of its actions there."""
        if code == self.open:
            self.view.then_do(action)
        else:
            self.then = action
            self.action_open_view(code)

    def open_table(self, table: str) -> None:
        """Show the rows of a table, in the view that it stands behind."""
        code = next(code for code, tables in TABLES_OF_VIEWS.items() if table in tables)
        self.action_open_view(code)
        self.call_after_refresh(self.call_after_refresh, self.action_tables, table)


def _made(code: str, desk: OpenProject) -> View:
    """A view's own screen; a view without one shows its page."""
    own = f"tracker.screens.{code}"
    if find_spec(own) is None:
        from tracker.screens.table.parts_view import PageView

        return PageView(desk, code)
    view: View = getattr(import_module(f"{own}.view"), f"{code.title()}View")(desk)
    return view
