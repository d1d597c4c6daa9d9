"""The entries for what happened on site: the day's line of the site log, and a delay event."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tracker.approvals.cautions import BY_ID
from tracker.schedule.records import CAUSES
from tracker.screens.entry.entering import Ask, AtOnce, Values
from tracker.screens.entry.typed_text import FULL_DAY
from tracker.screens.frame.open_project import OpenProject
from tracker.values.kinds import Cents, Choice, Code, Day, Number, Party, Text
from tracker.values.records import Rows


class SiteLogToday(AtOnce):
    """Today's line of the site log; what stands there already is shown, and can be changed."""

    BEGIN = "note"
    HELP = (
        "What happened on site today, the weather, and who was there. The crews that the plan has"
        " under way are filled in."
    )

    def __init__(self, desk: OpenProject) -> None:
        super().__init__(desk)
        self.old: Any = None

    def heading(self) -> str:
        """Which day."""
        return f"Site log for {self.desk.today.strftime(FULL_DAY)}: what happened, who was there?"

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """What happened first; weather and crew."""
        self.old = next(
            (row for row in rows.get("site_log", ()) if row.date == self.desk.today), None
        )
        note, weather = (self.old.note, self.old.weather) if self.old else ("", "")
        crew = self.old.crew if self.old else crew_of(rows)
        return (
            Ask("note", Text(), "what happened", start=note),
            Ask("weather", Text(), "as it was on site", start=weather),
            Ask("crew", Text(), "who was there, and how many", start=crew),
        )

    def keep(self, values: Values, choice: str) -> Any:
        """Keep the line; what somebody else wrote meanwhile is not written over."""
        cells = {name: str(values[name]).strip() for name in ("note", "weather", "crew")}
        return self.desk.save("site_log", self.desk.today.isoformat(), cells, expected=self.old)

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """That it is kept."""
        return (
            f"Site log of {self.desk.today.strftime(FULL_DAY)} kept. u takes it back.",
            result.notes,
        )


def crew_of(rows: Rows) -> str:
    """The contractors whose work is under way, by name, in row order."""
    contractor = {c.code: c.contractor for c in rows.get("contracts", ())}
    names = {c.code: c.name or c.code for c in rows.get("contractors", ())}
    under_way = [
        a
        for a in rows.get("activities", ())
        if a.actual_start and not a.actual_finish and a.kind in ("", "work")
    ]
    codes = dict.fromkeys(contractor[a.contract] for a in under_way if a.contract in contractor)
    return ", ".join(names.get(code, code) for code in codes)


class DelayEntry(AtOnce):
    """A delay event."""

    HELP = (
        "What cost time on site, why, and through whom. Slip holds it against the days by which the"
        " plan moved; a delay that nobody entered is told there as not explained."
    )

    def __init__(self, desk: OpenProject, activity: str = "") -> None:
        super().__init__(desk)
        self.activity, self.code = activity, ""

    def heading(self) -> str:
        """What it is."""
        return f"Delay event {self.code}: what cost time, why, and through whom?"

    def cautions(self) -> Sequence[str]:
        """Before anybody is blamed in writing."""
        return (BY_ID["dispute"].text,)

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """The work, its days, cause and party."""
        from tracker.actions.effects import next_delay_code

        self.code = next_delay_code(rows)
        return (
            Ask("activity", Code(), start=self.activity, needed=True, refers="activities"),
            Ask("first", Day(), start=self.desk.today.isoformat(), needed=True),
            Ask("last", Day(), "blank: the first day"),
            Ask("days", Number(0, 9_999), "working days lost", needed=True),
            Ask("cause", Choice(CAUSES), needed=True),
            Ask("party", Party(), Party.hint, start=party_of(rows, self.activity), needed=True),
            Ask("direct_cost", Cents(), "dollars that it cost by itself"),
            Ask("note", Text()),
            Ask("evidence", Text(), "photo, letter, minutes"),
        )

    def keep(self, values: Values, choice: str) -> Any:
        """Put it into the site log."""
        from tracker.screens.entry.entering import column_of

        columns = {ask.name: column_of(ask) for ask in self._asks}
        cells = {name: column.kind.write(values[name]) for name, column in columns.items()}
        return self.desk.save("delays", self.code, cells)

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """That it is kept."""
        return f"Delay event {self.code} is in the site log. u takes it back.", result.notes


def party_of(rows: Rows, activity: str) -> str:
    """Who does an activity, as a party; blank where it has no contract."""
    contract = next((a.contract for a in rows.get("activities", ()) if a.code == activity), "")
    found = next(
        (c.contractor for c in rows.get("contracts", ()) if contract and c.code == contract), ""
    )
    return f"contractor:{found}" if found else ""
