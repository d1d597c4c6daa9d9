"""The entry of what a body said in a case: one entry moves its gate, offers the delay, and tells
what that costs.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from tracker.approvals.cautions import BY_ID
from tracker.approvals.records import OUTCOMES
from tracker.screens.entry.entering import Ask, Values
from tracker.screens.entry.result_entry import ResultEntry
from tracker.screens.frame.open_project import OpenProject
from tracker.values.kinds import Choice as OneOf
from tracker.values.kinds import Day, Number, Text
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows


class HearingResult(ResultEntry):
    """The outcome of a hearing."""

    HELP = (
        "What a body said in a case. Approved: its gate is done on that day, and each condition"
        " becomes an item of the checklist. Continued or tabled: the gate moves and the case is"
        " heard again. Denied or withdrawn: the gate waits for a new filing. Ctrl S tells what it"
        " does, and what that costs, before anything is kept."
    )

    def __init__(self, desk: OpenProject, code: str, about: str) -> None:
        super().__init__(desk)
        self.code, self.about = code, about

    def heading(self) -> str:
        """Which case."""
        return f"What came of {self.code}, {self.about}"

    def cautions(self) -> Sequence[str]:
        """A vote is not the end of it."""
        return (BY_ID["hearing_orders"].text, BY_ID["advice"].text)

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """The outcome and its day; what it needs beside."""
        case = next((h for h in rows.get("hearings", ()) if h.code == self.code), None)
        if case is None or case.outcome:
            state = f"is already {case.outcome}" if case else "is not there any more"
            raise ProblemError(
                Problem(state, "choose a case without an outcome", "hearings", self.code)
            )
        if case.filed_on is None:
            do = "open the case and enter the day on which it was filed"
            raise ProblemError(
                Problem("has no outcome before it is filed", do, "hearings", self.code, "filed_on")
            )
        today = self.desk.today
        on = case.hearing_on if case.hearing_on and case.hearing_on <= today else today
        return (
            Ask("outcome", OneOf(OUTCOMES), "what the body said", needed=True),
            Ask(
                "date",
                Day(),
                "the day on which it was said",
                start=on.isoformat(),
                needed=True,
                column="hearing_on",
            ),
            Ask(
                "continued_to",
                Day(),
                "the day that the body set",
                needed=True,
                when=_is("continued"),
            ),
            Ask(
                "taken_up_again",
                Day(),
                "blank: the next meeting",
                column="continued_to",
                when=_is("tabled"),
            ),
            Ask(
                "conditions",
                None,
                "each in a line; each becomes an item",
                needed=True,
                when=_is("approved with conditions"),
            ),
            Ask("votes_for", Number(0, 999), when=_voted),
            Ask("votes_against", Number(0, 999), when=_voted),
            Ask("note", Text(), "added to the case's note"),
        )

    def act(self, values: Values, log_delay: bool, only_try: bool) -> Any:
        """The outcome as an action."""
        from tracker.actions.hearing_outcome import HearingOutcome, hearing_outcome

        return hearing_outcome(
            self.desk.project,
            HearingOutcome(
                self.code,
                values["outcome"],
                values["date"],
                continued_to=values["continued_to"] or values["taken_up_again"],
                votes_for=values["votes_for"],
                votes_against=values["votes_against"],
                conditions=values["conditions"],
                note=values["note"],
            ),
            self.desk.today,
            log_delay=log_delay,
            only_try=only_try,
        )


def _is(outcome: str) -> Callable[[Mapping[str, str]], bool]:
    """Whether the outcome is this one."""
    return lambda texts: texts.get("outcome") == outcome


def _voted(texts: Mapping[str, str]) -> bool:
    """Whether there was a vote to enter."""
    return texts.get("outcome") not in ("", "withdrawn")
