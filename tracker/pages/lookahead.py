"""The look-ahead: what goes on or begins within three weeks, whom to call, and what it waits on.

A sheet for the site.
"""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

from tracker.pages.cells import day
from tracker.pages.page import CODE, DAY, Cell, Column, Paper, Part, cells_of, plain_rows
from tracker.pages.path import events, state_of
from tracker.values.records import Rows

if TYPE_CHECKING:
    from tracker.answers.path import PathActivity

DAYS = 21
"""Calendar days ahead: three weeks, common practice, no source."""

COLUMNS = (
    Column("early_start", "starts", DAY),
    Column("early_finish", "ends", DAY),
    Column("name", "what"),
    Column("who", "who"),
    Column("phone", "phone", CODE),
    Column("state", "state"),
    Column("waits", "after"),
    Column("word", "word given"),
    Column("opening", "opening"),
)


def lookahead(rows: Rows, today: dt.date) -> Paper:
    """Three weeks from a day, by date and by trade."""
    from tracker.answers.path import from_rows
    from tracker.approvals.cautions import SITE, standing
    from tracker.trades.words import sentence

    until = today + dt.timedelta(days=DAYS)
    answer = from_rows(rows, today)
    names = {a.code: a.name for a in answer.activities if a.state != "done"}
    people = {c.code: c for c in rows.get("contractors", ())}
    who = {c.code: people.get(c.contractor) for c in rows.get("contracts", ())}
    given = rows.get("words_given", ())

    def cells(one: PathActivity) -> tuple[Cell, ...]:
        person = who.get(one.contract)
        said = (
            w for w in given if person and (w.activity, w.contractor) == (one.code, person.code)
        )
        last = max(said, key=lambda w: w.said_on or dt.date.min, default=None)
        return cells_of(
            one,
            COLUMNS,
            who=person.name if person else one.trade,
            phone=person.phone if person else "",
            state=state_of(one),
            waits=", ".join(names[code] for code in one.drivers if code in names),
            word=sentence(last, today) if last else "",
            opening=one.weight_words(),
        )

    found = (a for a in answer.activities if a.state != "done" and a.early_start <= until)
    ahead = sorted(found, key=lambda a: a.early_start)
    trades = sorted(ahead, key=lambda a: (a.trade == "", a.trade.lower(), a.early_start))
    opening = answer.forecast_opening
    empty = "Nothing is planned for these weeks."
    parts = (
        Part(
            "ahead",
            f"From {day(today)} through {day(until)}",
            COLUMNS,
            plain_rows(map(cells, ahead)),
            note=f"Forecast opening: {day(opening)}." if opening else "",
            empty=empty,
            wide=True,
        ),
        Part(
            "by_trade",
            "by trade",
            (Column("trade", "trade"), *COLUMNS),
            plain_rows((one.trade or "without a trade", *cells(one)) for one in trades),
            empty=empty,
            wide=True,
            new_page=True,
        ),
    )
    cautions = tuple(one.text for one in standing(SITE, [(one.name, one.trade) for one in ahead]))
    return Paper("Look-ahead of three weeks", parts, cautions, "ahead", tuple(events(ahead)))
