"""One activity of Path in full: its dates, its float, its gate, its links; and a clash."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from tracker.approvals.cautions import for_work
from tracker.pages.cells import day
from tracker.values.days import count_of_days
from tracker.values.money import cost_of_days

if TYPE_CHECKING:
    from tracker.answers.path import PathActivity, PathAnswer
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
    in_days = f" ({count_of_days(a.total_float_days)})" if a.total_float_days is not None else ""
    if a.total_float < 0:
        cause = about.by_code.get(a.negative_because)
        by = (
            f": {cause.code} shall be finished by {day(cause.finish_by)}"
            if cause and cause.finish_by
            else ""
        )
        short = f" ({count_of_days(-a.total_float_days)})" if a.total_float_days is not None else ""
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
    return f"File by {day(gate.cutoff)} or open {count_of_days(lost)} later{next_one}{cost}"


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
        lines.append(f"waits {count_of_days(gate.waits_days)} for its meeting alone")
    bounds = [
        f"not before {day(a.not_before)}" if a.not_before else "",
        f"finish by {day(a.finish_by)}" if a.finish_by else "",
    ]
    if any(bounds):
        lines.append(" · ".join(part for part in bounds if part))
    if a.baseline_finish is not None and a.baseline_days is not None:
        how = "as planned" if not a.baseline_days else f"now {count_of_days(abs(a.baseline_days))} "
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


def clash_words(clash: Clash) -> str:
    """A clash in a sentence."""
    span = (
        day(clash.first)
        if clash.first == clash.last
        else f"{day(clash.first)} to {day(clash.last)}"
    )
    return (
        f"{clash.trade} on {clash.one} and {clash.other} at once, {span}:"
        f" {count_of_days(clash.days())}"
    )
