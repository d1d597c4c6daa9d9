"""The page of Papers: whose papers hold and for how long, and planned work that none covers."""

from __future__ import annotations

from tracker.answers.papers import PapersAnswer
from tracker.pages.marks import AT_RISK, BLOCKS
from tracker.pages.page import (
    CODE,
    DAY,
    MONEY,
    NUMBER,
    Column,
    Page,
    Part,
    Row,
    cells_of,
)

MARKS = {"ran out": BLOCKS, "runs out soon": AT_RISK}
"""A paper that ran out blocks; one that runs out soon is a risk."""

COLUMNS = (
    Column("contractor_name", "whose", most=28),
    Column("kind", "paper", most=14),
    Column("number", "number", CODE),
    Column("limit", "limit", MONEY),
    Column("to", "through", DAY),
    Column("days_left", "days left", NUMBER),
    Column("state", "state", CODE),
)
GAPS = (
    Column("contractor_name", "whose", most=28),
    Column("activity_name", "work", most=34),
    Column("text", "what does not cover it", most=60),
)


def page(answer: PapersAnswer) -> Page:
    """Whose papers hold, on screen and as text."""
    held = tuple(
        Row(cells_of(one, COLUMNS), "papers", one.code, mark=MARKS.get(one.state, ""))
        for one in answer.papers
    )
    bare = tuple(
        Row(cells_of(one, GAPS), "contractors", one.contractor, f"{one.kind} {one.activity}")
        for one in answer.gaps
    )
    empty = "No paper yet: `tracker add FILE papers CODE contractor=CODE kind=license to=DATE`."
    ended = sum(one.state == "ran out" for one in answer.papers)
    soon = sum(one.state == "runs out soon" for one in answer.papers)
    headline = f"{ended} ran out · {soon} run out soon · {len(bare)} gaps in planned work"
    return Page(
        "papers",
        (headline,),
        (
            Part("papers", "papers", COLUMNS, held, empty=empty, marked=True, table="papers"),
            Part("gaps", "planned work without its paper", GAPS, bare, offers=("open",)),
        ),
    )
