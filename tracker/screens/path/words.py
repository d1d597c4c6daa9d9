"""The Path view in words: the opening and what it costs, one activity in full, a what-if."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from tracker.approvals.cautions import for_work
from tracker.schedule.lateness import NO_LONGER, late_words, lump_sums
from tracker.screens.entry.typed_text import days_words, money_words
from tracker.screens.table.marks import BASELINE
from tracker.values.days import full_day
from tracker.values.money import NO_DAY_COST, cost_of_days, not_all_entered

if TYPE_CHECKING:
    from tracker.answers.path import PathActivity, PathAnswer
    from tracker.answers.what_if import WhatIfAnswer
    from tracker.schedule.path.clashes import Clash
    from tracker.schedule.path.gates import Gate

MEETING_CAUTION = "Filing in time promises no place on the agenda; a vote is never certain."


@dataclass(frozen=True, slots=True)
class Around:
    """What is said of an activity besides its own line: its gate, and its links by predecessor and
    by successor.
    """

    gates: Mapping[str, Gate]
    day_cost_known: bool
    before: Mapping[str, Sequence[Any]]
    after: Mapping[str, Sequence[Any]]
    by_code: Mapping[str, PathActivity]


def around(answer: PathAnswer, links: Sequence[Any]) -> Around:
    """Gather what is said of activities besides their own line."""
    before: dict[str, list[Any]] = {}
    after: dict[str, list[Any]] = {}
    for link in links:
        before.setdefault(link.to, []).append(link)
        after.setdefault(link.from_, []).append(link)
    return Around(
        {g.code: g for g in answer.gates},
        answer.day_cost_known,
        before,
        after,
        {a.code: a for a in answer.activities},
    )


def day(date: dt.date) -> str:
    """A date in full."""
    return full_day(date)


def opening_words(answer: PathAnswer) -> list[str]:
    """The forecast against the promise, and what a day and the lateness cost; what went by since an
    old status date.
    """
    if answer.forecast_opening is None:
        return []
    first = f"Forecast opening {day(answer.forecast_opening)}"
    if answer.opening_is_over:
        first += f" is {NO_LONGER}"
        late = late_words(answer.days_late, over=True)
        first += f" · {late}" if late else ""
    elif answer.promised_opening is None or answer.days_late is None:
        first += " · no promised opening yet"
    else:
        first += f" · promised {day(answer.promised_opening)} · {late_words(answer.days_late)}"
    if answer.as_of:
        first = f"As of {day(answer.as_of)}. {first}"
    gone = gone_words(answer)
    return [first, cost_words(answer), *([f"Gone by since then: {some(gone, 4)}"] if gone else [])]


def gone_words(answer: PathAnswer) -> list[str]:
    """Cut-offs and dates of gates that went by since an old status date."""
    return [
        f"{'cut-off of ' if g.what == 'cut-off' else ''}{g.code} {day(g.date)};"
        for g in answer.gone_by
    ]


def _day(answer: PathAnswer) -> str:
    """What a day costs, and what of it nobody entered."""
    missing = answer.day_cost_missing
    return (
        f"A day costs {'at least ' * bool(missing)}{money_words(answer.cost_of_a_day_cents)} gross"
    )


def cost_words(answer: PathAnswer) -> str:
    """What a day costs, and the lateness."""
    words = _day(answer) if answer.day_cost_known else NO_DAY_COST.capitalize()
    cost, over = answer.cost_of_lateness_cents, answer.opening_is_over
    if cost and cost > 0:
        lumps = lump_sums(cost, answer.days_late, answer.cost_of_a_day_cents)
        included = f" with lump sums of {money_words(lumps)}" if lumps else ""
        words += (
            " · lateness"
            f" {'at least ' * (over or bool(answer.day_cost_missing))}{money_words(cost)}{included}"
        )
    elif cost and not over:
        words += f" · being early saves {money_words(-cost)}"
    return words + not_all_entered(answer.day_cost_missing if answer.day_cost_known else ())


def working(days: int, meets: bool) -> str:
    """A number of working days, or of meetings, with its word."""
    one, many = ("meeting", "meetings") if meets else ("working day", "working days")
    return f"{days:,} {one if abs(days) == 1 else many}"


def float_words(a: PathActivity, about: Around) -> str:
    """Total and free float in words; what is negative says which date it breaks."""
    if a.total_float is None:
        return (
            "done: no float"
            if a.state == "done"
            else "no late date: it would lie before the body's first meeting"
        )
    in_days = f" ({days_words(a.total_float_days)})" if a.total_float_days is not None else ""
    if a.total_float < 0:
        cause = about.by_code.get(a.negative_because)
        by = (
            f": {cause.code} shall be finished by {day(cause.finish_by)}"
            if cause and cause.finish_by
            else ""
        )
        short = f" ({days_words(-a.total_float_days)})" if a.total_float_days is not None else ""
        return f"short by {working(-a.total_float, a.meets)}{short}{by}"
    if a.total_float == 0 and not a.total_float_days:
        return (
            "no float: every day later here is a later opening" if a.on_longest_path else "no float"
        )
    free = f", free float {working(a.free_float, a.meets)}" if a.free_float is not None else ""
    return f"total float {working(a.total_float, a.meets)}{in_days}{free}"


def dates_words(a: PathActivity) -> str:
    """Early and late dates with the duration."""
    unit = working(a.duration, a.meets)
    span = (
        day(a.early_start)
        if a.early_start == a.early_finish
        else f"{day(a.early_start)} to {day(a.early_finish)}"
    )
    if a.state == "done":
        return f"done {span} · planned {unit}"
    left = (
        f" · {working(a.remaining, a.meets)} left of {a.duration:,}"
        if a.remaining != a.duration
        else f" · {unit}"
    )
    late = (
        f" · at the latest by {day(a.late_finish)}"
        if a.late_finish and a.late_finish != a.early_finish
        else ""
    )
    return f"{span}{left}{late}"


def cutoff_words(gate: Gate, known: bool) -> str:
    """The cut-off of a meeting and the cost of missing it; empty where there is none. known:
    whether a day's cost is.
    """
    if gate.cutoff is None:
        return ""
    next_one = f" (then {day(gate.next_date_if_missed)})" if gate.next_date_if_missed else ""
    lost = gate.opening_days_lost or 0
    if lost <= 0:
        return f"File by {day(gate.cutoff)}; missing it{next_one} moves the opening not at all"
    cents = gate.cost_if_missed_cents
    cost = f": {cost_of_days(cents, lost, known, '$')}" if cents is not None else ""
    return f"File by {day(gate.cutoff)} or open {days_words(lost)} later{next_one}{cost}"


def link_words(code: str, link: Any) -> str:
    """The other end of a link, with its type and lag where they are not plain."""
    extra = "" if link.type == "FS" else f" {link.type}"
    if link.lag_unit == "cutoff":
        extra += " by the cut-off"
    elif link.lag:
        extra += f" {link.lag:+d}"
    return f"{code}{extra}"


def detail(a: PathActivity, about: Around) -> list[str]:
    """Everything about one activity, the most important first."""
    who = " · ".join(part for part in (a.trade, a.contract and f"contract {a.contract}") if part)
    state = "held, and failed" if a.failed else a.state
    head = " · ".join(
        part for part in (f"{a.code}  {a.name}", state, a.weight_words(), who) if part
    )
    lines = [head, dates_words(a)]
    gate = about.gates.get(a.code)
    if a.held:
        lines.append(f"held: {a.held}")
    if gate and gate.cutoff:
        lines.append(cutoff_words(gate, about.day_cost_known))
    if a.state != "done":
        lines.append(float_words(a, about))
    lines.append(links_words(a, about))
    if gate and gate.waits_days > 0 and a.meets:
        lines.append(f"waits {days_words(gate.waits_days)} for its meeting alone")
    bounds = [
        f"not before {day(a.not_before)}" if a.not_before else "",
        f"finish by {day(a.finish_by)}" if a.finish_by else "",
    ]
    if any(bounds):
        lines.append(" · ".join(part for part in bounds if part))
    if a.baseline_finish is not None and a.baseline_days is not None:
        how = "as planned" if not a.baseline_days else f"now {days_words(abs(a.baseline_days))} "
        how += "" if not a.baseline_days else "later" if a.baseline_days > 0 else "earlier"
        lines.append(f"baseline finish {day(a.baseline_finish)}: {how}")
    if a.state != "done":
        lines += [caution.text for caution in for_work(a.name, a.trade)]
        lines += [MEETING_CAUTION] if a.meets else []
    return lines


def links_words(a: PathActivity, about: Around) -> str:
    """What drives it, what else it waits for, and what it holds up."""
    links = about.before.get(a.code, ())
    drives = [link_words(link.from_, link) for link in links if link.from_ in a.drivers]
    others = [link_words(link.from_, link) for link in links if link.from_ not in a.drivers]
    after = sorted(
        about.after.get(a.code, ()), key=lambda link: a.code not in about.by_code[link.to].drivers
    )
    holds = [link_words(link.to, link) for link in after if about.by_code[link.to].state != "done"]
    parts = [
        f"driven by {', '.join(drives)}" if drives else "",
        (
            f"after {', '.join(others)}"
            if others and not drives
            else f"also after {', '.join(others)}"
            if others
            else ""
        ),
        (
            f"holds up {', '.join(holds)}"
            if holds
            else "holds up nothing"
            if a.state != "done"
            else ""
        ),
    ]
    if not links:
        parts[0] = "waits for nothing"
    return " · ".join(part for part in parts if part)


def what_if_words(effect: WhatIfAnswer, changes: int) -> list[str]:
    """What the changes would do, in two lines."""
    if effect.new_opening is None or effect.old_opening is None:
        return ["What if: no opening can be told."]
    times = "1 change" if changes == 1 else f"{changes} changes"
    head = f"WHAT IF ({times}, not kept): opens {day(effect.new_opening)}"
    was = f" than {day(effect.old_opening)}" if effect.days else ""
    return [f"{head}, {effect_words(effect, was)}", path_words(effect)]


def effect_words(effect: WhatIfAnswer, was: str = "") -> str:
    """Days and cost of a what-if; was: what the days are counted from, where that is to be said."""
    if not effect.days:
        return "as now"
    sooner = effect.days < 0
    words = f"{days_words(abs(effect.days))} {'earlier' if sooner else 'later'}{was}"
    if effect.cost_cents:
        words += (
            f", {money_words(abs(effect.cost_cents))}"
            f" {'saved' if effect.cost_cents < 0 else 'more'} (gross)"
        )
    if not effect.path.day_cost_known:
        words += f", {NO_DAY_COST}"
    return words


def path_words(effect: WhatIfAnswer) -> str:
    """Who moves, and who joins or leaves the longest path."""
    number = len(effect.moved)
    parts = [
        (
            "nothing moves"
            if not number
            else f"{number:,} {'activity moves' if number == 1 else 'activities move'}"
        )
    ]
    if effect.joins:
        parts.append(f"drive then: {some(effect.joins)}")
    if effect.leaves:
        parts.append(f"no longer: {some(effect.leaves)}")
    if late_words(effect.days_late, effect.path.opening_is_over):
        parts.append(f"{late_words(effect.days_late, effect.path.opening_is_over)} then")
    if number:
        parts.append(f"{BASELINE} finish as it is")
    return " · ".join(parts)


def some(codes: Sequence[str], most: int = 8) -> str:
    """Some of the codes, and how many more."""
    more = f" and {len(codes) - most} more" if len(codes) > most else ""
    return " ".join(codes[:most]) + more


def clash_words(clash: Clash) -> str:
    """A clash in a sentence."""
    span = (
        day(clash.first)
        if clash.first == clash.last
        else f"{day(clash.first)} to {day(clash.last)}"
    )
    return (
        f"{clash.trade} on {clash.one} and {clash.other} at once, {span}:"
        f" {days_words(clash.days())}"
    )
