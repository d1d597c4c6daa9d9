"""The look-ahead: what goes on or begins within three weeks, whom to call, and what it waits on.

A sheet for the site.
"""

from __future__ import annotations

import datetime as dt

from tracker.answers.path import PathActivity, from_rows
from tracker.approvals.cautions import SITE, standing
from tracker.reports.document import CODE, DAY, Column, Document, Part, day
from tracker.reports.making import document_of
from tracker.reports.schedule import events, state_of
from tracker.trades.words import sentence
from tracker.values.records import Rows

DAYS = 21
"""Calendar days ahead: three weeks, common practice, no source."""

COLUMNS = (
    Column("start", "Starts", DAY),
    Column("finish", "Ends", DAY),
    Column("name", "What"),
    Column("who", "Who"),
    Column("phone", "Phone", CODE),
    Column("state", "State"),
    Column("waits", "After"),
    Column("word", "Word given"),
    Column("drives", "Opening"),
)


def documents(rows: Rows, today: dt.date, number: str | None) -> Document:
    """Three weeks from a day; it has no number."""
    until = today + dt.timedelta(days=DAYS)
    answer = from_rows(rows, today)
    names = {a.code: a.name for a in answer.activities}
    done = {a.code for a in answer.activities if a.state == "done"}
    people = {c.code: c for c in rows.get("contractors", ())}
    who = {c.code: people.get(c.contractor) for c in rows.get("contracts", ())}

    given = rows.get("words_given", ())

    def row(one: PathActivity) -> tuple[dt.date | str | None, ...]:
        person = who.get(one.contract)
        waits = ", ".join(names[code] for code in one.drivers if code not in done)
        said = [
            w for w in given if w.activity == one.code and person and w.contractor == person.code
        ]
        last = max(said, key=lambda w: w.said_on or dt.date.min, default=None)
        return (
            one.early_start,
            one.early_finish,
            one.name,
            person.name if person else one.trade,
            person.phone if person else "",
            state_of(one),
            waits,
            sentence(last, today) if last else "",
            one.weight_words(),
        )

    ahead = sorted(
        (a for a in answer.activities if a.state != "done" and a.early_start <= until),
        key=lambda a: a.early_start,
    )
    part = Part(
        "ahead",
        f"From {day(today)} through {day(until)}",
        COLUMNS,
        tuple(row(one) for one in ahead),
        empty="Nothing is planned for these weeks.",
        note=(
            f"Forecast opening: {day(answer.forecast_opening)}." if answer.forecast_opening else ""
        ),
        wide=True,
    )
    trades = sorted(ahead, key=lambda a: (a.trade == "", a.trade.lower(), a.early_start))
    by_trade = Part(
        "by_trade",
        "By trade",
        (Column("trade", "Trade"), *COLUMNS),
        tuple((one.trade or "without a trade", *row(one)) for one in trades),
        empty="Nothing is planned for these weeks.",
        wide=True,
        new_page=True,
    )
    cautions = [one.text for one in standing(SITE, [(one.name, one.trade) for one in ahead])]
    return document_of(
        "Look-ahead of three weeks", rows, today, [part, by_trade], cautions, "ahead", events(ahead)
    )
