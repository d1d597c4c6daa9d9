"""By cause and party: what the site log's delay events explain of the days of each window, and what
nobody explained.

An account of what was entered, no opinion on who owes what. Choices that the rule leaves: in a
window, activities take from an event in the order in which they were put in; several events share
in proportion to their days not yet used up, equal remainders by the order of the site log; an event
of no days, or one that is used up, explains nothing; where a window uses up any of an activity's
events, those that stand on a meeting calendar are used up whole.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from tracker.schedule.records import Delay
from tracker.schedule.slip.progress import Step
from tracker.schedule.slip.revisions import Revision
from tracker.schedule.slip.windows import Window
from tracker.values.frozen import value
from tracker.values.money import divide, split

NOT_EXPLAINED = "not explained"
MADE_UP = "made up"
PLAN_REVISED = "plan revised"


@value
class Reason:
    """Why, and through whom. event: the code of the delay event, change or inspection that says so;
    blank: none does.
    """

    cause: str
    party: str
    event: str


@value
class Share:
    """Some days of a window with their reason. cause and party are blank where nobody explained
    them, or they were made up.

    what: "progress" or "revision". code: the activity or calendar, as in Step and Revision. days:
    calendar days, negative where they were made up. concurrent: positive progress days of a
    concurrent window.
    """

    window: int
    what: str
    code: str
    kind: str
    reason: Reason
    days: int
    concurrent: bool


NOBODY_SAID = Reason(NOT_EXPLAINED, "", "")
WON = Reason(MADE_UP, "", "")


@value
class UsedUp:
    """What a window used up of a delay event, in working days, and what is left of it
    afterwards.
    """

    window: int
    event: str
    days: int
    left: int


@value
class Account:
    """All days of all windows with their reasons, in the order of the windows; and how the events
    were used up.
    """

    shares: tuple[Share, ...]
    used: tuple[UsedUp, ...]


def account(
    windows: Sequence[Window], delays: Iterable[Delay], because: Callable[[Revision], Reason]
) -> Account:
    """Give each day of each window its reason. The days of the shares add up to the slip.

    because: the reason of a revision that did not make up days.
    """
    shares: list[Share] = []
    used: list[UsedUp] = []
    known = [delay for delay in delays if delay.days]
    left = {delay.code: delay.days for delay in known}
    for place, one in enumerate(windows):
        begun = [delay for delay in known if delay.first is not None and delay.first <= one.to]
        for step in one.steps:
            shares += step_shares(place, one.concurrent, step, begun, left, used)
        for revision in one.revisions:
            if revision.days:
                reason = because(revision) if revision.days > 0 else WON
                shares.append(
                    Share(
                        place,
                        "revision",
                        revision.code,
                        revision.kind,
                        reason,
                        revision.days,
                        False,
                    )
                )
    return Account(tuple(shares), tuple(used))


def step_shares(
    window: int,
    concurrent: bool,
    step: Step,
    begun: Sequence[Delay],
    left: dict[str, int],
    used: list[UsedUp],
) -> list[Share]:
    """The shares of one activity's days in a window; takes from `left` what the window uses up of
    its events.
    """
    meets = {step.code: step.meets, **{gate.code: gate.meets for gate in step.gates}}
    events = [delay for delay in begun if delay.activity in meets and left[delay.code]]
    lost = [left[delay.code] for delay in events]
    late = step.own_lateness
    explained = explained_days(step.days, late, sum(lost))
    if late > 0 and events:
        taken = split(min(sum(lost), late), lost)
        for delay, days in zip(events, taken, strict=True):
            days = left[delay.code] if meets[delay.activity] else days
            left[delay.code] -= days
            used.append(UsedUp(window, delay.code, days, left[delay.code]))
    if step.days < 0:
        return [Share(window, "progress", step.code, "", WON, step.days, False)]
    found = [
        Share(
            window,
            "progress",
            step.code,
            "",
            Reason(delay.cause, delay.party, delay.code),
            days,
            concurrent,
        )
        for delay, days in zip(events, split(explained, lost), strict=True)
        if days
    ]
    if step.days > explained:
        found.append(
            Share(window, "progress", step.code, "", NOBODY_SAID, step.days - explained, concurrent)
        )
    return found


def explained_days(days: int, late: int, lost: int) -> int:
    """How many of an activity's positive days its events explain, rounded half up.

    late: its own lateness, working days. lost: days lost of its events, not yet used up. The share
    is min(1, lost / late); the whole where it was not late itself.
    """
    if days <= 0 or not lost:
        return 0
    return days if late <= 0 else divide(days * min(lost, late), late)
