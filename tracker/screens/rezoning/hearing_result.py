"""The entry of what a body said in a case: one entry moves its gate, offers the delay, and tells
what that costs.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from tracker.actions.hearing_outcome import Decided, HearingOutcome, hearing_outcome
from tracker.approvals.cautions import BY_ID
from tracker.approvals.records import OUTCOMES, Hearing
from tracker.screens.entry.declared import Entry, EntryField, Given, Opened, Texts
from tracker.screens.entry.effect_words import LOGGED, moving
from tracker.values.kinds import Choice as OneOf
from tracker.values.kinds import Day, Number, Text
from tracker.values.problems import Problem, ProblemError


def hearing_result(code: str, about: str) -> Entry[Decided]:
    """The outcome of a hearing."""

    def act(given: Given) -> Decided:
        heard = HearingOutcome(
            code,
            given["outcome"],
            given["date"],
            continued_to=given["continued_to"] or given["taken_up_again"],
            votes_for=given["votes_for"],
            votes_against=given["votes_against"],
            conditions=given["conditions"],
            note=given["note"],
        )
        log_delay = given.choice == LOGGED
        return hearing_outcome(given.project, heard, given.today, log_delay, given.only_try)

    return moving(
        title=f"What came of {code}, {about}",
        help=(
            "What a body said in a case. Approved: its gate is done on that day, and each condition"
            " becomes an item of the checklist. Continued or tabled: the gate moves and the case is"
            " heard again. Denied or withdrawn: the gate waits for a new filing. Ctrl S tells what"
            " it does, and what that costs, before anything is kept."
        ),
        cautions=(BY_ID["hearing_orders"].text, BY_ID["advice"].text),
        fields=lambda opened: _fields(opened, code),
        act=act,
    )


def _fields(opened: Opened, code: str) -> Sequence[EntryField]:
    """The outcome and its day; what it needs beside. ProblemError for a case that has none."""
    case, today = opened.found(Hearing, code=code), opened.today
    if case is None or case.outcome:
        state = f"is already {case.outcome}" if case else "is not there any more"
        raise ProblemError(Problem(state, "choose a case without an outcome", "hearings", code))
    if case.filed_on is None:
        what, do = (
            "has no outcome before it is filed",
            "open the case and enter the day on which it was filed",
        )
        raise ProblemError(Problem(what, do, "hearings", code, "filed_on"))
    on = case.hearing_on if case.hearing_on and case.hearing_on <= today else today
    said, to = "the day on which it was said", "continued_to"
    each, asks = "each in a line; each becomes an item", "approved with conditions"
    return (
        EntryField("outcome", OneOf(OUTCOMES), "what the body said", needed=True),
        EntryField("date", Day(), said, on, True, column="hearing_on"),
        EntryField(to, Day(), "the day that the body set", needed=True, when=_is("continued")),
        EntryField(
            "taken_up_again", Day(), "blank: the next meeting", column=to, when=_is("tabled")
        ),
        EntryField("conditions", None, each, needed=True, when=_is(asks)),
        EntryField("votes_for", Number(0, 999), when=_voted),
        EntryField("votes_against", Number(0, 999), when=_voted),
        EntryField("note", Text(), "added to the case's note"),
    )


def _is(outcome: str) -> Callable[[Texts], bool]:
    """Whether the outcome is this one."""
    return lambda texts: texts.get("outcome") == outcome


def _voted(texts: Texts) -> bool:
    """Whether there was a vote to enter."""
    return texts.get("outcome") not in ("", "withdrawn")
