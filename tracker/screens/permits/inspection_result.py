"""The entry of an inspector's visit: passed, partly passed or failed, with what is to be
corrected.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from tracker.actions.inspections import (
    FailedVisit,
    PassedVisit,
    Visited,
    fail_inspection,
    pass_inspection,
)
from tracker.approvals.cautions import BY_ID
from tracker.approvals.records import Inspection
from tracker.approvals.visits import OVER
from tracker.screens.entry.declared import Entry, EntryField, Given, Opened, Texts
from tracker.screens.entry.effect_words import LOGGED, moving
from tracker.values.kinds import Cents, Code, Day, Number, Text
from tracker.values.kinds import Choice as OneOf
from tracker.values.problems import Problem, ProblemError

RESULTS = ("passed", "partly passed", "failed")


def inspection_result(code: str, name: str = "") -> Entry[Visited]:
    """What the inspector said. A failed inspection puts its correction and re-inspection into the
    plan, in one step.
    """

    def title(called: str) -> str:
        return f"The inspector came: {code} {called}".rstrip()

    def titled(opened: Opened) -> str:
        row = opened.found(Inspection, code=code)
        return title(name or (row.name if row else ""))

    def act(given: Given) -> Visited:
        project, today, on, present = given.project, given.today, given["date"], given["present"]
        if given["result"] == "failed":
            failed = FailedVisit(
                code,
                on,
                given["to_correct"],
                given["repair_days"],
                present=present,
                work=given["work_corrected"],
                fee=given["fee"],
            )
            return fail_inspection(project, failed, today, given.choice == LOGGED, given.only_try)
        partly = given["result"] == "partly passed"
        passed = PassedVisit(code, on, present, partly, given["still_missing"])
        return pass_inspection(project, passed, today, given.only_try)

    return moving(
        title=title(name),
        titled=titled,
        help=(
            "The result of an inspection. Failed: name each thing to be corrected and how many"
            " working days that takes; the correction and the re-inspection then stand in the plan"
            " before whatever would cover the work. Partly passed: the gate stays closed. Ctrl S"
            " tells what it does before anything is kept."
        ),
        cautions=(BY_ID["covering"].text,),
        fields=lambda opened: _fields(opened, code),
        act=act,
    )


def _fields(opened: Opened, code: str) -> Sequence[EntryField]:
    """The result and its day; what a failed or partly passed one needs beside it."""
    found, today = opened.found(Inspection, code=code), opened.today
    if found is None or found.state in OVER:
        state = f"is already {found.state}" if found else "is not there any more"
        raise ProblemError(Problem(state, "choose one that is not over", "inspections", code))
    on = found.date if found.date and found.date <= today else today
    failed, partly = _is("failed"), _is("partly passed")
    missing, ready = (
        "what is not passed yet, one a line",
        "working days until it is ready to be seen again",
    )
    work, fee = (
        "blank: the work before the gate that finishes last",
        "of the re-inspection, dollars",
    )
    return (
        EntryField(
            "result", OneOf(RESULTS), "what the inspector said", needed=True, column="state"
        ),
        EntryField("date", Day(), "", on, True),
        EntryField("present", Text(), "who was there", found.present),
        EntryField("to_correct", None, "one thing a line", None, True, column="text", when=failed),
        EntryField("still_missing", None, missing, column="text", when=partly),
        EntryField("repair_days", Number(1, 999), ready, needed=True, when=failed),
        EntryField("work_corrected", Code(), work, "", False, "activities", "code", failed),
        EntryField("fee", Cents(), fee, when=failed),
    )


def _is(result: str) -> Callable[[Texts], bool]:
    """Whether this is the result."""
    return lambda texts: texts.get("result") == result
