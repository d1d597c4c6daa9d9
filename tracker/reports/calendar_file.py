"""A document's days as a calendar file (RFC 5545): whole days, each with a name that stays the same
when it is printed anew.

The cautions of the print stand in the calendar's description (RFC 7986, section 5.2, from memory);
as many programs drop that when they take the days over, each day carries the line that stands on
every print.
"""

from __future__ import annotations

import datetime as dt

from tracker.approvals.cautions import ALWAYS
from tracker.reports.document import Document
from tracker.values.problems import one_line

MOST_TITLE, MOST_WORDS = 200, 1_000


def ics(document: Document) -> bytes:
    """The days ahead.

    The same document gives the same bytes: it is stamped with the day for which it was asked.
    """
    from icalendar import Calendar
    from icalendar import Event as Entry

    calendar = Calendar()
    calendar.add("prodid", "-//tracker//prints//EN")
    calendar.add("version", "2.0")
    calendar.add(
        "x-wr-calname", one_line(f"{document.title} {document.project}".strip())[:MOST_TITLE]
    )
    calendar.add("description", one_line(" ".join(document.cautions)))
    stamp = dt.datetime(
        document.as_of.year, document.as_of.month, document.as_of.day, tzinfo=dt.UTC
    )
    for event in document.events:
        entry = Entry()
        entry.add("uid", f"{event.key}@tracker")
        entry.add("dtstamp", stamp)
        entry.add("dtstart", event.first)
        entry.add(
            "dtend", event.last + dt.timedelta(days=1)
        )  # the day after the last, as the standard counts
        entry.add("summary", one_line(event.title)[:MOST_TITLE])
        words = one_line(f"{event.words}. As of {document.as_of.isoformat()}.".removeprefix(". "))
        entry.add("description", f"{words[:MOST_WORDS]} {ALWAYS}")
        entry.add("transp", "TRANSPARENT")
        calendar.add_component(entry)
    data: bytes = calendar.to_ical()
    return data
