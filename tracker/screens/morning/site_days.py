"""The site log by day: weather, crews, what happened, delay events, who came."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual import on
from textual.app import ComposeResult
from textual.widgets import Static

from tracker.screens.entry.effect_words import delay_words
from tracker.screens.entry.typed_text import FULL_DAY, days_words
from tracker.screens.frame.keymap import bindings
from tracker.screens.frame.open_project import OpenProject
from tracker.screens.frame.project_screen import ProjectScreen
from tracker.screens.table.plain import plain
from tracker.screens.table.rows_table import Cell, Col, RowsTable
from tracker.screens.table.sections import Line, Section, SectionsPane

if TYPE_CHECKING:
    from tracker.answers.site_log import SiteDay, SiteLogAnswer


class SiteDays(ProjectScreen):
    """All days, the last one first; below the one under the cursor, whole."""

    CSS_PATH = "site_days.tcss"
    BINDINGS = bindings("site")
    HELP = (
        "What happened on site, by day. Enter opens the day, a makes the line of another day, l"
        " writes today's, d a delay event."
    )

    def __init__(self, desk: OpenProject) -> None:
        super().__init__(desk)
        self.answer: SiteLogAnswer | None = None

    def compose_body(self) -> ComposeResult:
        """A title, the days, the day under the cursor."""
        yield Static("Site log", classes="screen-title", id="site-title")
        yield RowsTable(offers=("open", "add"), id="site-days")
        yield SectionsPane(id="site-detail")

    def on_mount(self) -> None:
        """Read it."""
        self.refresh_shown()
        self.query_one("#site-days", RowsTable).focus()

    def refresh_shown(self) -> None:
        """Show the log as it stands now."""
        from tracker.answers.site_log import answer

        self.in_thread(
            lambda: answer(self.desk.project, self.desk.today), self._show, self.complain
        )

    def _show(self, answer: SiteLogAnswer) -> None:
        """Put it on the screen."""
        self.answer = answer
        today = "" if answer.today_logged else " · today has no line yet, l writes it"
        self.query_one("#site-title", Static).update(
            plain(
                f"Site log: {len(answer.days):,} days, {answer.lost:,} working days lost through"
                f" delay events{today}"
            )
        )
        columns = [
            Col("day", width=15),
            Col("weather", most=14),
            Col("lost", right=True),
            Col("who was there", most=40),
        ]
        rows: list[list[Cell]] = [
            [
                day.date.strftime(FULL_DAY),
                day.weather,
                str(day.lost) if day.lost else "",
                day.crew,
                day.note,
            ]
            for day in answer.days
        ]
        table = self.query_one("#site-days", RowsTable)
        table.fill(
            [*columns, Col("what happened", grow=True)],
            rows,
            keys=[day.date.isoformat() for day in answer.days],
            frozen=1,
        )
        self._detail()

    def _detail(self) -> None:
        """Show the day under the cursor."""
        nothing = Section("", ["Nothing here yet. l writes today's line, d a delay event."])
        day = self._day
        self.query_one("#site-detail", SectionsPane).put(sections_of(day) if day else [nothing])

    @property
    def _day(self) -> SiteDay | None:
        """The day under the cursor; None where there is none."""
        place = self.query_one("#site-days", RowsTable).cursor
        days = self.answer.days if self.answer else ()
        return days[place] if 0 <= place < len(days) else None

    @on(RowsTable.Moved)
    def moved(self, event: RowsTable.Moved) -> None:
        """The cursor stands on another day."""
        event.stop()
        self._detail()

    @on(RowsTable.Asked)
    def asked(self, event: RowsTable.Asked) -> None:
        """Open a day, or make the line of another one."""
        event.stop()
        if event.what == "add":
            self.opens.open_form("site_log")
        elif event.what == "open" and (day := self._day) is not None:
            key = day.date.isoformat()
            if day.logged:
                self.opens.open_form("site_log", key)
            else:
                self.opens.open_form("site_log", None, {"date": key})

    def action_site_log(self) -> None:
        """Today's line."""
        from tracker.screens.morning.site_entries import site_log

        self.enter(site_log(self.desk.today))

    def action_delay(self) -> None:
        """A delay event."""
        from tracker.screens.morning.site_entries import delay_event

        self.enter(delay_event())


def sections_of(day: SiteDay) -> list[Section]:
    """A day, whole."""
    lost = [f"{days_words(day.lost)} of work lost"] if day.lost else []
    return [
        Section(
            day.date.strftime(FULL_DAY),
            [part for part in (day.weather, day.crew, day.note) if part] or ["no line in the log"],
        ),
        Section(
            "Delay events that began",
            [*(Line(delay_words(delay), "warn") for delay in day.delays), *lost],
        ),
        Section("Words given", list(day.words)),
    ]
