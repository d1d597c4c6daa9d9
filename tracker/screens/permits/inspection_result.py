"""The entry of an inspector's visit: passed, partly passed or failed, with what is to be
corrected.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from tracker.approvals.cautions import BY_ID
from tracker.approvals.visits import OVER
from tracker.screens.entry.entering import Ask, Values
from tracker.screens.entry.result_entry import ResultEntry
from tracker.screens.frame.open_project import OpenProject
from tracker.values.kinds import Cents, Code, Day, Number, Text
from tracker.values.kinds import Choice as OneOf
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows

RESULTS = ("passed", "partly passed", "failed")


class InspectionResult(ResultEntry):
    """What the inspector said.

    A failed inspection puts its correction and re-inspection into the plan, in one step.
    """

    HELP = (
        "The result of an inspection. Failed: name each thing to be corrected and how many working"
        " days that takes; the correction and the re-inspection then stand in the plan before"
        " whatever would cover the work. Partly passed: the gate stays closed. Ctrl S tells what it"
        " does before anything is kept."
    )

    def __init__(self, desk: OpenProject, code: str, name: str) -> None:
        super().__init__(desk)
        self.code, self.called = code, name

    def heading(self) -> str:
        """Which inspection."""
        return f"The inspector came: {self.code} {self.called}".rstrip()

    def cautions(self) -> Sequence[str]:
        """Nothing is covered before it has passed."""
        return (BY_ID["covering"].text,)

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """The result and its day; what a failed or partly passed one needs beside it."""
        found = next((i for i in rows.get("inspections", ()) if i.code == self.code), None)
        if found is None or found.state in OVER:
            state = f"is already {found.state}" if found else "is not there any more"
            raise ProblemError(
                Problem(state, "choose one that is not over", "inspections", self.code)
            )
        self.called = self.called or found.name
        today = self.desk.today
        on = found.date if found.date and found.date <= today else today
        return (
            Ask("result", OneOf(RESULTS), "what the inspector said", needed=True, column="state"),
            Ask("date", Day(), start=on.isoformat(), needed=True),
            Ask("present", Text(), "who was there", start=found.present),
            Ask("to_correct", None, "one thing a line", needed=True, column="text", when=_failed),
            Ask(
                "still_missing",
                None,
                "what is not passed yet, one a line",
                column="text",
                when=_partly,
            ),
            Ask(
                "repair_days",
                Number(1, 999),
                "working days until it is ready to be seen again",
                needed=True,
                when=_failed,
            ),
            Ask(
                "work_corrected",
                Code(),
                "blank: the work before the gate that finishes last",
                refers="activities",
                column="code",
                when=_failed,
            ),
            Ask("fee", Cents(), "of the re-inspection, dollars", when=_failed),
        )

    def act(self, values: Values, log_delay: bool, only_try: bool) -> Any:
        """The result as an action."""
        from tracker.actions.inspections import (
            FailedVisit,
            PassedVisit,
            fail_inspection,
            pass_inspection,
        )

        project, on, today, present = (
            self.desk.project,
            values["date"],
            self.desk.today,
            values["present"],
        )
        if values["result"] == "failed":
            return fail_inspection(
                project,
                FailedVisit(
                    self.code,
                    on,
                    values["to_correct"],
                    values["repair_days"],
                    present=present,
                    work=values["work_corrected"],
                    fee=values["fee"],
                ),
                today,
                log_delay=log_delay,
                only_try=only_try,
            )
        return pass_inspection(
            project,
            PassedVisit(
                self.code,
                on,
                present=present,
                partly=values["result"] == "partly passed",
                items=values["still_missing"],
            ),
            today,
            only_try=only_try,
        )


def _failed(texts: Mapping[str, str]) -> bool:
    """Whether the inspection failed."""
    return texts.get("result") == "failed"


def _partly(texts: Mapping[str, str]) -> bool:
    """Whether it passed in part."""
    return texts.get("result") == "partly passed"
