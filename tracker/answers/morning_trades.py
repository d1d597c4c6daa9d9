"""What the trades ask for this morning: calls, words that fall due or were not kept, papers that
run out.
"""

from __future__ import annotations

import datetime as dt

from tracker.answers.morning_rows import Item, by_day, shown
from tracker.answers.morning_work import contractor_of
from tracker.answers.papers import gaps_in
from tracker.answers.path import PathActivity, PathAnswer
from tracker.approvals.inspections import Opens
from tracker.schedule.path.plan import Plan
from tracker.trades import words
from tracker.trades.calls import IN_WORDS, CallDue, call_due
from tracker.trades.records import Contractor, WordGiven
from tracker.values.days import day_and_month
from tracker.values.records import Rows

CALL_DAYS = 14
MOST_OFF = 7
"""Days off at most by which a call is made earlier."""
WORD_DAYS = 7
PAPER_SOON_DAYS = 14


def calls(rows: Rows, today: dt.date, path: PathAnswer, opens: Opens) -> tuple[Item, ...]:
    """Whoever starts within two weeks: called two weeks, one week and the day before, unless they
    confirmed since.

    opens: on which days one works.
    """
    found = []
    for a in path.activities:
        if (
            a.state in ("done", "under way")
            or a.is_gate
            or (a.early_start - today).days > CALL_DAYS + MOST_OFF
        ):
            continue
        who = contractor_of(rows, a.contract)
        if who is None:
            continue
        said = [
            w
            for w in rows.get("words_given", ())
            if w.activity == a.code and w.contractor == who.code
        ]
        last = max(said, key=lambda w: w.said_on or dt.date.min, default=None)
        if last and last.came_on and last.came_on <= today and a.early_start <= today:
            continue
        due = call_due(a.early_start, said, today, lambda day: opens("", day))
        if due is not None:
            text = _call_words(a, who, last, due, today)
            mark = "~" if due.confirmed_on else "!" if a.on_longest_path else "?"
            found.append(
                Item(
                    mark,
                    text,
                    "trades",
                    who.code,
                    a.early_start,
                    "activities",
                    a.code,
                    who.code,
                    a.code,
                )
            )
    return by_day(found)


def _call_words(
    a: PathActivity, who: Contractor, last: WordGiven | None, due: CallDue, today: dt.date
) -> str:
    """Whom to call, for what, and what they said so far."""
    reach = f", {who.phone}" if who.phone else ""
    starts = "starts" if a.early_start >= today else "was to start"
    head = f"call {who.name}{reach}: {a.name} {starts} {shown(a.early_start)}"
    if due.confirmed_on:
        return f"{head}; confirmed {shown(due.confirmed_on)}, once more {IN_WORDS[due.ahead]}"
    return f"{head}; {words.sentence(last, today) if last else 'no word yet'}"


def _last_word(rows: Rows, activity: str, contractor: str) -> WordGiven | None:
    """The word said last on an activity by a contractor."""
    said = [
        w
        for w in rows.get("words_given", ())
        if w.activity == activity and w.contractor == contractor
    ]
    return max(said, key=lambda w: w.said_on or dt.date.min, default=None)


def words_due(rows: Rows, today: dt.date, path: PathAnswer) -> tuple[Item, ...]:
    """Words that fall due within a week, and words not kept on work that is not done.

    A word not kept is no longer told once a later one was given on the same work.
    """
    done = {a.code for a in path.activities if a.state == "done"}
    names = {a.code: a.name for a in path.activities}
    who = {c.code: c.name for c in rows.get("contractors", ())}
    found = []
    for word in rows.get("words_given", ()):
        state = words.state_of(word, today)
        soon = state == "today" or (
            state == "to come" and word.for_date and (word.for_date - today).days <= WORD_DAYS
        )
        broken = (
            state == "not kept"
            and word.activity not in done
            and _last_word(rows, word.activity, word.contractor) is word
        )
        if not (soon or broken):
            continue
        name = who.get(word.contractor, word.contractor)
        mark, text = _told(word, name, names.get(word.activity, ""), today, path.status_date)
        about = ("words_given", word.code, word.contractor, word.activity)
        found.append(Item(mark, text, "trades", word.code, word.for_date, *about))
    return by_day(found)


def _told(
    word: WordGiven, name: str, work: str, today: dt.date, status: dt.date | None
) -> tuple[str, str]:
    """A word as its mark and sentence.

    Whether somebody came after the status date is asked, not claimed.
    """
    said = (
        f"{name} said"
        f" {day_and_month(word.for_date) if word.for_date else 'no day'}"
        f"{f' for {work}' if work else ''}"
    )
    state = words.state_of(word, today)
    if state == "today":
        return "~", f"{name} comes today by their word{f' for {work}' if work else ''}"
    if state != "not kept":
        return "~", said
    if status and word.for_date and word.for_date > status:
        return "?", f"{said}: did they come?"
    return "!", f"{said}, and did not come"


def papers(rows: Rows, today: dt.date, plan: Plan) -> tuple[Item, ...]:
    """Needed papers that do not cover planned work; of each contractor and kind the first work
    concerned.
    """
    first: dict[tuple[str, str], Item] = {}
    for gap in sorted(gaps_in(rows, plan), key=lambda g: g.first):
        soon = (gap.first - today).days <= PAPER_SOON_DAYS
        span = (
            shown(gap.first)
            if gap.first == gap.last
            else f"{shown(gap.first)} to {shown(gap.last)}"
        )
        what = (
            f"no {gap.kind} on record, needed {span}"
            if gap.missing
            else f"{gap.kind} does not cover {span}"
        )
        text = f"{gap.contractor_name}: {what} for {gap.activity_name}"
        about = ("contractors", gap.contractor, gap.contractor, gap.activity)
        item = Item("!" if soon else "~", text, "trades", gap.contractor, gap.first, *about)
        first.setdefault((gap.contractor, gap.kind), item)
    return by_day(first.values())
