"""Papers as sheets."""

from __future__ import annotations

from tracker.answers.papers import PapersAnswer
from tracker.command_line.sheets import Col, Sheet, dollars, number, short_day


def sheets(answer: PapersAnswer) -> list[Sheet]:
    """Every paper with its days, and the planned work that no paper covers."""
    columns = (
        Col("whose"),
        Col("paper"),
        Col("number"),
        Col("limit", right=True),
        Col("through", keep=True),
        Col("days left", right=True),
        Col("state", keep=True),
    )
    rows = tuple(
        (
            p.contractor_name,
            p.kind,
            p.number,
            dollars(p.limit_cents),
            short_day(p.to),
            number(p.days_left),
            p.state,
        )
        for p in answer.papers
    )
    empty = "No paper yet: `tracker add FILE papers CODE contractor=CODE kind=license to=DATE`."
    bare = tuple((g.contractor_name, g.activity_name, g.text) for g in answer.gaps)
    return [
        Sheet("Papers", columns, rows, empty=empty),
        Sheet(
            "Planned work without its paper" if bare else "",
            (Col("whose"), Col("work"), Col("")),
            bare,
        ),
    ]
