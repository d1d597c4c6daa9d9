"""What a state's record does to a town's own days, and a plan that lets a change take effect before
the answers do.
"""

from __future__ import annotations

from typing import Any

from tracker.approvals.decision import after_adoption
from tracker.approvals.questions import given
from tracker.approvals.records import Answer
from tracker.schedule.path.plan import Plan, compute
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows

LONGER = (
    "effective_days",
    "appeal_days",
    "referendum_days",
    *(
        f"law_{kind}_{what}"
        for kind in ("published", "mailed", "posted")
        for what in ("days", "advising_days")
    ),
)
"""Questions whose answer is a least: the longer one of a town and its state is to be kept."""
IN_FORCE = "effective"
"""The gate, in every conversion here, at which a change of zoning is in force."""


def is_record(given_rows: Rows) -> bool:
    """Whether a folder is a state's record: answers alone, with the state."""
    return set(given_rows) == {"answers"} and any(
        a.question == "state" and a.answer for a in given_rows["answers"]
    )


def longer_stand(before: Rows, after: Rows) -> tuple[dict[str, Any], tuple[str, ...]]:
    """The rows after a state's record came in, with the days that were longer before it, and a note
    on each that stays.

    Whether they were the town's or only assumed can't be told; the longer ones lose nothing.
    """
    was = {a.question: a for a in before.get("answers", ())}
    notes = []

    def longer(now: Answer) -> Answer:
        old: Answer | None = was.get(now.question)
        if now.question not in LONGER or old is None or not now.answer.strip() or old == now:
            return now
        here, there = given((old,), now.question), given((now,), now.question)
        if here.default or there.default or here.value <= there.value:
            return now
        notes.append(
            f"{now.question} stays {here.value}, the longer one; the state's record says"
            f" {there.value} ({now.source}): ask which holds in your town, and if it is the"
            f" state's, set answers {now.question} answer={there.value}"
        )
        return old

    made = {**after, "answers": tuple(longer(a) for a in after.get("answers", ()))}
    return made, tuple(notes)


def too_soon(rows: Rows, plan: Plan) -> list[Problem]:
    """The gate of the change in force, where the plan has it earlier than the days to effect that
    are answered allow.
    """
    gate = next((a for a in rows.get("activities", ()) if a.code == IN_FORCE), None)
    answers = tuple(rows.get("answers", ()))
    figure = given(answers, "effective_days")
    links = [link for link in rows.get("links", ()) if link.to == IN_FORCE]
    if gate is None or gate.actual_finish or figure.default or not links:
        return []
    dates = plan.by_code()
    last = max(links, key=lambda link: dates[link.from_].early_finish)
    adopted, planned = dates[last.from_].early_finish, dates[IN_FORCE].early_start
    holds = after_adoption(adopted, answers).effective
    if planned >= holds:
        return []
    what = (
        f"is planned for {planned.isoformat()}; by the answers ({figure.value} days to effect:"
        f" {figure.source or 'no source'}) a change adopted on {adopted.isoformat()} is not in"
        f" force before {holds.isoformat()}"
    )
    do = (
        f"set the lag of link {last.from_}/{IN_FORCE} to {(holds - adopted).days} with lag_unit"
        " calendar; ask the clerk first"
    )
    return [Problem(what, do, "activities", IN_FORCE)]


def too_soon_told(before: Rows, after: Rows) -> tuple[str, ...]:
    """The same as notes, where answers that changed make it so; nothing where no plan can be
    computed.
    """
    if before.get("answers", ()) == after.get("answers", ()):
        return ()
    try:
        return tuple(problem.sentence() for problem in too_soon(after, compute(after)))
    except ProblemError:
        return ()
