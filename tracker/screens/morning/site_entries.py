"""The entries for what happened on site: the day's line of the site log, and a delay event."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace

from tracker.actions.effects import next_delay_code
from tracker.actions.rows import Saved, save
from tracker.approvals.cautions import BY_ID
from tracker.schedule.records import CAUSES, Delay
from tracker.screens.entry.declared import EntryField, Given, Opened, ShortEntry
from tracker.screens.entry.typed_text import FULL_DAY
from tracker.trades.records import SiteLogDay
from tracker.values.kinds import Cents, Choice, Code, Day, Number, Party, Text
from tracker.values.records import Rows, columns_of


def written(given: Given, fields: Sequence[EntryField]) -> dict[str, str]:
    """The cells of what was entered."""
    return {one.name: one.kind.write(given[one.name]) for one in fields if one.kind}


def site_log(day: dt.date) -> ShortEntry[Saved]:
    """Today's line of the site log; what stands there already is shown, and can be changed."""
    today = day.strftime(FULL_DAY)

    def fields(opened: Opened) -> Sequence[EntryField]:
        old = opened.found(SiteLogDay, date=opened.today)
        crew = old.crew if old else crew_of(opened.rows)
        return (
            EntryField("note", Text(), "what happened", old.note if old else ""),
            EntryField("weather", Text(), "as it was on site", old.weather if old else ""),
            EntryField("crew", Text(), "who was there, and how many", crew),
        )

    def act(given: Given) -> Saved:
        """What somebody else wrote meanwhile is not written over."""
        cells = {name: text.strip() for name, text in given.values.items()}
        old = given.found(SiteLogDay, date=given.today)
        key = given.today.isoformat()
        return save(given.project, "site_log", key, cells, expected=old, today=given.today)

    return ShortEntry(
        title=f"Site log for {today}: what happened, who was there?",
        help=(
            "What happened on site today, the weather, and who was there. The crews that the plan"
            " has under way are filled in."
        ),
        fields=fields,
        begin="note",
        act=act,
        kept=lambda done: (f"Site log of {today} kept. u takes it back.", done.notes),
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


def delay_event(
    activity: str = "",
    known: Delay | None = None,
    why: str = "what cost time, why, and through whom?",
) -> ShortEntry[Saved]:
    """A delay event of an activity. known: what is filled in of it, and why it is offered."""

    def title(opened: Opened) -> str:
        code = next_delay_code(opened.rows)
        return f"Delay event {code}, {why}" if known else f"Delay event {code}: {why}"

    def act(given: Given) -> Saved:
        cells = written(given, delay_fields(given, activity, known))
        code = next_delay_code(given.rows)
        return save(given.project, "delays", code, cells, today=given.today)

    return ShortEntry(
        title="Delay event",
        titled=title,
        help=(
            "What cost time on site, why, and through whom. Slip holds it against the days by which"
            " the plan moved; a delay that nobody entered is told there as not explained."
        ),
        cautions=(BY_ID["dispute"].text,),
        fields=lambda opened: delay_fields(opened, activity, known),
        act=act,
        kept=lambda done: (
            f"Delay event {done.row.code} is in the site log. u takes it back.",
            done.notes,
        ),
    )


def delay_fields(opened: Opened, activity: str, known: Delay | None) -> list[EntryField]:
    """The work, its days, cause and party; filled in with what is known."""
    party = party_of(opened.rows, activity)
    fields = [
        EntryField("activity", Code(), "", activity, True, "activities"),
        EntryField("first", Day(), "", opened.today, True),
        EntryField("last", Day(), "blank: the first day"),
        EntryField("days", Number(0, 9_999), "working days lost", needed=True),
        EntryField("cause", Choice(CAUSES), needed=True),
        EntryField("party", Party(), Party.hint, party, True),
        EntryField("direct_cost", Cents(), "dollars that it cost by itself"),
        EntryField("note", Text()),
        EntryField("evidence", Text(), "photo, letter, minutes"),
    ]
    if known is None:
        return fields
    cells = {c.name: getattr(known, c.attribute) for c in columns_of(Delay)}
    return [
        replace(one, start=cells[one.name]) if cells[one.name] not in (None, "") else one
        for one in fields
    ]


def party_of(rows: Rows, activity: str) -> str:
    """Who does an activity, as a party; blank where it has no contract."""
    contract = next((a.contract for a in rows.get("activities", ()) if a.code == activity), "")
    found = next(
        (c.contractor for c in rows.get("contracts", ()) if contract and c.code == contract), ""
    )
    return f"contractor:{found}" if found else ""
