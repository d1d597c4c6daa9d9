"""Rezoning as sheets."""

from __future__ import annotations

from tracker.answers.rezoning import RezoningAnswer, law_words
from tracker.command_line.sheets import Col, Sheet, facts, missing_costs, number, percent, short_day


def sheets(answer: RezoningAnswer) -> list[Sheet]:
    """The first question, the hearings, the checklist by stage, and the protest."""
    return [
        question(answer),
        law(answer),
        stages(answer),
        hearings(answer),
        cases(answer),
        items(answer),
        protest(answer),
    ]


def question(answer: RezoningAnswer) -> Sheet:
    """May an owner be the contractor here?"""
    first = answer.first_question
    return Sheet(
        "The first question", (Col(""), Col("")), ((first.mark, f"{first.question} {first.text}"),)
    )


def law(answer: RezoningAnswer) -> Sheet:
    """What is on record of the state's law on hearings, and what is not."""
    words = law_words(answer.law)
    title = f"The state's law on hearings, {answer.law.state}".removesuffix(", ")
    return Sheet(title if words else "", (Col(""),), tuple((text,) for text in words))


def stages(answer: RezoningAnswer) -> Sheet:
    """How far each stage is."""
    rows = tuple((s.stage, number(s.done), number(s.of)) for s in answer.stages)
    empty = (
        "No checklist yet: start from a template, or `tracker add FILE checklist CODE stage=STAGE"
        " title=TITLE`."
    )
    return Sheet(
        "Stages",
        (Col("stage"), Col("settled", right=True), Col("of", right=True)),
        rows,
        empty=empty,
    )


def hearings(answer: RezoningAnswer) -> Sheet:
    """The next cut-off of each body, and what missing it costs."""
    columns = (
        Col("body"),
        Col("file by", keep=True),
        Col("meets", keep=True),
        Col("days left", right=True),
        Col("next meets", keep=True),
        Col("opening, days", right=True),
        Col("missing costs", right=True),
    )
    rows = tuple(
        (
            h.name or h.calendar,
            short_day(h.cutoff),
            short_day(h.hearing),
            number(h.days_left),
            short_day(h.next_hearing),
            number(h.opening_days_lost) if h.aiming else "",
            missing_costs(
                h.cost_if_missed_cents if h.aiming else None, h.opening_days_lost, h.day_cost_known
            ),
        )
        for h in answer.hearings
    )
    return Sheet("Hearings" if rows else "", columns, rows)


def items(answer: RezoningAnswer) -> Sheet:
    """The checklist; what is settled stands last."""
    columns = (
        Col(""),
        Col("item"),
        Col("state", keep=True),
        Col("due", keep=True),
        Col("who governs"),
        Col("waits on"),
    )
    ordered = sorted(answer.items, key=lambda item: item.state in ("proven", "not needed"))
    rows = tuple(
        (i.mark, f"{i.code} {i.title}", i.state, short_day(i.due), i.governs, " ".join(i.waits_on))
        for i in ordered
    )
    return Sheet("Checklist" if rows else "", columns, rows)


def cases(answer: RezoningAnswer) -> Sheet:
    """Each case before a body: when it was filed and is heard, what came of it, and what is odd
    about it.
    """
    columns = (
        Col(""),
        Col("case", keep=True),
        Col("filed", keep=True),
        Col("heard", keep=True),
        Col("what came of it"),
    )
    rows = tuple(
        (
            c.mark,
            c.code,
            short_day(c.filed_on),
            short_day(c.reached or c.hearing_on),
            "; ".join(filter(None, (c.text, c.warning))),
        )
        for c in answer.cases
    )
    return Sheet("Cases" if rows else "", columns, rows)


def protest(answer: RezoningAnswer) -> Sheet:
    """The share that protests, and the votes that are needed then."""
    known = answer.protest
    if known.share_bp is None:
        return Sheet("")
    pairs = [
        ("protesting", percent(known.share_bp)),
        ("counts", "yes" if known.triggered else "no"),
        ("votes needed", number(known.votes_needed)),
    ]
    return facts("Protest", pairs)
