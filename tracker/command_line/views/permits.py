"""Permits as sheets."""

from __future__ import annotations

from tracker.answers.permits_rows import PermitsAnswer
from tracker.command_line.sheets import Col, Sheet, number, short_day


def sheets(answer: PermitsAnswer) -> list[Sheet]:
    """Permits with their clocks, inspections in order, items still open, what may not be
    covered.
    """
    return [
        permits(answer),
        inspections(answer),
        corrections(answer),
        deliveries(answer),
        gates(answer),
        covered(answer),
    ]


def permits(answer: PermitsAnswer) -> Sheet:
    """Each permit and its clock."""
    columns = (
        Col(""),
        Col("permit"),
        Col("authority"),
        Col("state", keep=True),
        Col("ends", keep=True),
        Col("days left", right=True),
    )
    rows = tuple(
        (
            p.mark,
            f"{p.code} {p.kind}",
            p.authority,
            p.state,
            short_day(p.ends_on),
            number(p.days_left),
        )
        for p in answer.permits
    )
    return Sheet(
        "Permits",
        columns,
        rows,
        empty="No permit yet: `tracker add FILE permits CODE kind=KIND authority=OFFICE`.",
    )


def inspections(answer: PermitsAnswer) -> Sheet:
    """Inspections in their order."""
    columns = (
        Col(""),
        Col("inspection"),
        Col("state", keep=True),
        Col("day", keep=True),
        Col("ask by", keep=True),
        Col("not to cover"),
    )
    rows = tuple(
        (
            i.mark,
            f"{i.code} {i.name}",
            i.state,
            short_day(i.day),
            "" if i.passed else short_day(i.ask_by),
            " ".join(i.may_not_cover),
        )
        for i in answer.inspections
    )
    return Sheet("Inspections" if rows else "", columns, rows)


def corrections(answer: PermitsAnswer) -> Sheet:
    """What the inspector asked for and is still open."""
    rows = tuple(
        (i.code, item.item, item.text) for i in answer.inspections for item in i.items if item.open
    )
    return Sheet(
        "Corrections still open" if rows else "", (Col("inspection"), Col("item"), Col("")), rows
    )


def deliveries(answer: PermitsAnswer) -> Sheet:
    """Long-lead goods that are not on site yet."""
    rows = tuple(
        (d.mark, f"{d.activity} {d.name}", d.text) for d in answer.deliveries if d.mark != "="
    )
    return Sheet("Deliveries" if rows else "", (Col(""), Col("delivery"), Col("")), rows)


def gates(answer: PermitsAnswer) -> Sheet:
    """Gates that are neither hearing nor inspection."""
    rows = tuple(
        (g.mark, f"{g.activity} {g.name}", g.state, short_day(g.day), " ".join(g.waits_for))
        for g in answer.gates
    )
    return Sheet(
        "Other gates" if rows else "",
        (Col(""), Col("gate"), Col("state"), Col("day"), Col("waits for")),
        rows,
    )


def covered(answer: PermitsAnswer) -> Sheet:
    """What else is to be told."""
    rows = tuple(("~", w.text) for w in answer.warnings)
    return Sheet("Worth a look" if rows else "", (Col(""), Col("")), rows)
