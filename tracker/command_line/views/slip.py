"""Slip as sheets: what nobody explained first, then by cause, by party, by window and activity, and
what to do next time.
"""

from __future__ import annotations

from collections.abc import Iterator

from tracker.answers.slip import SlipAnswer
from tracker.answers.slip_rows import ReasonRow, WindowRow, titled
from tracker.command_line.sheets import Col, Sheet, count, day, dollars, facts, number, short_day
from tracker.values.money import cost_of_days

EMPTY = (
    "No status date is closed yet: `tracker snapshot FILE --date DATE --baseline` keeps the plan to"
    " be held against."
)
ONE = "One status date is closed; the slip is measured from it to the next one."


def sheets(answer: SlipAnswer) -> list[Sheet]:
    """The slip in all its sums."""
    if answer.from_ is None:
        return [Sheet("", (Col(""),), empty=EMPTY), remarks(answer)]
    return [
        standing(answer),
        remarks(answer),
        not_explained(answer),
        causes(answer),
        parties(answer),
        windows(answer),
        *(opened(answer, one) for one in answer.windows if one.activities or one.revisions),
        by_activity(answer),
        lump_sums(answer),
        direct_costs(answer),
        *lessons(answer),
        evidence(answer),
        offers(answer),
        Sheet("What this is", (Col(""),), tuple((one,) for one in answer.cautions)),
    ]


def standing(answer: SlipAnswer) -> Sheet:
    """From where to where."""
    return facts(
        "",
        [
            ("from", f"{day(answer.from_)}, opening then forecast {day(answer.baseline_opening)}"),
            ("to", f"{day(answer.to)}, opening forecast {day(answer.now_opening)}"),
            ("slip", days(answer.slip_days)),
            (
                "at the cost of a day",
                cost_of_days(answer.cost_cents, answer.slip_days, answer.cost_known),
            ),
            (
                "lump sums passed",
                (
                    dollars(sum(one.amount_cents for one in answer.step_costs))
                    if answer.step_costs
                    else ""
                ),
            ),
            ("most in the windows to", ", ".join(short_day(one) for one in answer.most_windows)),
            ("most by", " ".join(answer.most_activities)),
        ],
        "" if answer.windows else ONE,
    )


def days(value: int) -> str:
    """Calendar days as people read them; negative ones were made up."""
    return f"{count(abs(value), 'day')} made up" if value < 0 else count(value, "day")


def remarks(answer: SlipAnswer) -> Sheet:
    """What is odd about the snapshots."""
    return Sheet(
        "Worth a look" if answer.warnings else "",
        (Col("!"), Col("")),
        tuple(("!", w.text) for w in answer.warnings),
    )


def not_explained(answer: SlipAnswer) -> Sheet:
    """The days that no delay event explains, where there are any."""
    title = "What nobody explained"
    if not answer.windows:
        return Sheet("")
    columns = (Col("window to", keep=True), Col("activity"), Col("days", right=True))
    rows = tuple(
        (short_day(window.to), titled(step), number(reason.days))
        for window in answer.windows
        for step in window.activities
        for reason in step.reasons
        if not reason.event and reason.days > 0
    )
    total = (
        (
            (
                "",
                f"costs {dollars(answer.not_explained.cost_cents)}",
                number(answer.not_explained.days),
            ),
        )
        if rows
        else ()
    )
    return Sheet(title, columns, rows, total, empty="Every day has its reason.")


def causes(answer: SlipAnswer) -> Sheet:
    """By cause, down to the slip."""
    columns = (Col("by cause"), Col("days", right=True), Col("costs", right=True))
    rows = tuple((one.cause, number(one.days), dollars(one.cost_cents)) for one in answer.causes)
    return (
        Sheet("", columns, (*rows, *apart(answer)), (total(answer),))
        if answer.windows
        else Sheet("")
    )


def apart(answer: SlipAnswer) -> tuple[tuple[str, ...], ...]:
    """What stands beside causes and parties."""
    both = (("not explained", answer.not_explained), ("made up", answer.made_up))
    return tuple((name, number(one.days), dollars(one.cost_cents)) for name, one in both)


def total(answer: SlipAnswer) -> tuple[str, str, str]:
    """The foot of causes and parties."""
    return "slip", number(answer.slip_days), dollars(answer.cost_cents)


def parties(answer: SlipAnswer) -> Sheet:
    """By party, down to the slip. A cost with concurrent days never stands without them."""
    if not answer.windows:
        return Sheet("")
    columns = (
        Col("through whom"),
        Col("days", right=True),
        Col("costs", right=True),
        Col("of which concurrent", right=True),
        Col("came on the day", keep=True),
    )
    rows = tuple(
        (
            one.name,
            number(one.days),
            dollars(one.cost_cents),
            number(one.concurrent_days) if one.concurrent_days else "",
            f"{one.words_kept} of {one.words_given}" if one.words_given else "",
        )
        for one in answer.parties
    )
    beside = zip(apart(answer), (answer.not_explained, answer.made_up), strict=True)
    more = tuple(
        (*line, number(one.concurrent_days) if one.concurrent_days else "", "")
        for line, one in beside
    )
    return Sheet("", columns, (*rows, *more), ((*total(answer), "", ""),))


def windows(answer: SlipAnswer) -> Sheet:
    """Window by window."""
    columns = (
        Col("window to", keep=True),
        Col("opening", keep=True),
        Col("progress", right=True),
        Col("revised", right=True),
        Col("days", right=True),
        Col("costs", right=True),
        Col(""),
    )
    rows = tuple(
        (
            short_day(one.to),
            short_day(one.opening_after),
            number(one.progress_days),
            number(one.revision_days),
            number(one.days),
            dollars(one.cost_cents),
            "concurrent" if one.concurrent else "",
        )
        for one in answer.windows
    )
    sums = (
        sum(one.progress_days for one in answer.windows),
        sum(one.revision_days for one in answer.windows),
    )
    foot = (
        (
            "",
            "",
            *(number(one) for one in sums),
            number(answer.slip_days),
            dollars(answer.cost_cents),
            "",
        ),
    )
    return Sheet("By window", columns, rows, foot if rows else (), empty=ONE)


def opened(answer: SlipAnswer, one: WindowRow) -> Sheet:
    """What a window is made of: activities in the order in which their progress was put in, then
    revisions.
    """
    columns = (
        Col(""),
        Col("days", right=True),
        Col("alone", right=True),
        Col("late", right=True),
        Col("why, and through whom"),
    )
    rows = [
        (
            titled(a),
            number(a.days),
            number(a.days_alone),
            number(a.own_lateness),
            "; ".join(why(answer, r) for r in a.reasons),
        )
        for a in one.activities
    ]
    for revision in one.revisions:
        said = " · ".join(
            part
            for part in (revision.cause, party_name(answer, revision.party), revision.event)
            if part
        )
        rows.append(
            (
                f"{revision.code} {revision.kind}: {revision.what}",
                number(revision.days),
                "",
                "",
                said,
            )
        )
    note = (
        "days: of the opening   alone: if it alone had been late   late: its own, in working days"
    )
    title = f"{day(one.from_)} to {day(one.to)}: {days(one.days)}" + (
        " · concurrent" if one.concurrent else ""
    )
    return Sheet(title, columns, tuple(rows), note=note)


def why(answer: SlipAnswer, reason: ReasonRow) -> str:
    """A reason in words."""
    parts = (f"{reason.days} {reason.cause}", party_name(answer, reason.party), reason.event)
    return " · ".join(part for part in parts if part)


def party_name(answer: SlipAnswer, party: str) -> str:
    """A party as people call it."""
    return next((one.name for one in answer.parties if one.party == party), party)


def by_activity(answer: SlipAnswer) -> Sheet:
    """Over all windows."""
    columns = (
        Col("by activity"),
        Col("days", right=True),
        Col("progress", right=True),
        Col("revised", right=True),
        Col("costs", right=True),
    )
    rows = tuple(
        (
            titled(a),
            number(a.days),
            number(a.progress_days),
            number(a.revision_days),
            dollars(a.cost_cents),
        )
        for a in answer.by_activity
    )
    sums = (
        sum(a.progress_days for a in answer.by_activity),
        sum(a.revision_days for a in answer.by_activity),
    )
    foot = (
        (
            "slip",
            number(answer.slip_days),
            *(number(one) for one in sums),
            dollars(answer.cost_cents),
        ),
    )
    return Sheet("", columns, rows, foot) if rows else Sheet("")


def lump_sums(answer: SlipAnswer) -> Sheet:
    """Step costs, listed by themselves."""
    if not answer.step_costs:
        return Sheet("")
    columns = (
        Col("date", keep=True),
        Col("passed in the window to", keep=True),
        Col("dollars", right=True),
        Col(""),
    )
    rows = tuple(
        (short_day(s.date), short_day(s.window), dollars(s.amount_cents), s.reason)
        for s in answer.step_costs
    )
    return Sheet("Lump sums whose date the opening passed, unattributed", columns, rows)


def direct_costs(answer: SlipAnswer) -> Sheet:
    """Direct costs of delay events, listed by themselves."""
    if not answer.direct_costs:
        return Sheet("")
    columns = (Col("event", keep=True), Col("date", keep=True), Col("dollars", right=True), Col(""))
    rows = tuple(
        (d.code, short_day(d.date), dollars(d.amount_cents), d.note) for d in answer.direct_costs
    )
    return Sheet("Direct costs from the site log, not among the days", columns, rows)


def lessons(answer: SlipAnswer) -> Iterator[Sheet]:
    """What to do next time."""
    known = answer.lessons
    if known.waits:
        yield Sheet(
            "Next time: waits for gates",
            (
                Col("gates"),
                Col("passed", right=True),
                Col("waiting", right=True),
                Col("longest", right=True),
                Col(""),
            ),
            tuple(
                (w.kind, number(w.count), number(w.still_waiting), number(w.longest), titled(w))
                for w in known.waits
            ),
            note="calendar days from the day on which what it waits for was over",
        )
    if known.durations:
        yield Sheet(
            "Next time: working days, planned at first and taken",
            (
                Col("trade"),
                Col("finished", right=True),
                Col("planned", right=True),
                Col("taken", right=True),
            ),
            tuple(
                (t.trade, number(t.count), number(t.planned), number(t.taken))
                for t in known.durations
            ),
        )
    if known.came_on_the_day:
        yield Sheet(
            "Next time: who came on the day",
            (Col("contractor"), Col("came on the day", right=True)),
            tuple((c.name, f"{c.kept} of {c.due}") for c in known.came_on_the_day),
        )


def evidence(answer: SlipAnswer) -> Sheet:
    """The site log's delay events and what each explained."""
    if not answer.windows:
        return Sheet("")
    columns = (
        Col("event", keep=True),
        Col("activity", keep=True),
        Col("first", keep=True),
        Col("lost", right=True),
        Col("explains", right=True),
        Col("what the site log says"),
    )
    rows = tuple(
        (
            e.code,
            e.activity,
            short_day(e.first),
            number(e.days_lost),
            number(e.days_explained),
            "; ".join(part for part in (e.note, e.evidence) if part),
        )
        for e in answer.evidence
    )
    note = (
        "lost: working days of the activity   explains: calendar days of the opening"
        if rows
        else ""
    )
    return Sheet("Evidence", columns, rows, note=note, empty="The site log has no delay event yet.")


def offers(answer: SlipAnswer) -> Sheet:
    """Delay events that the records suggest; entering one is up to the owner."""
    if not answer.offers:
        return Sheet("")
    columns = (
        Col("from", keep=True),
        Col("activity", keep=True),
        Col("days", right=True),
        Col("cause", keep=True),
        Col("because"),
    )
    rows = tuple(
        (
            short_day(one.delay.first),
            one.delay.activity,
            number(one.delay.days),
            one.delay.cause,
            one.what,
        )
        for one in answer.offers
    )
    return Sheet("Could be entered as delay events", columns, rows)
