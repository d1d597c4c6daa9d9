"""Rezoning: may we use it this way?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from tracker.answers import known_plan
from tracker.answers.as_json import for_screen
from tracker.answers.hearing_dates import HearingDates, deciding_body, hearing_dates, meets
from tracker.approvals import cautions, checklist
from tracker.approvals.applies import applies, by_question, considered
from tracker.approvals.first_question import FirstQuestion, first_question
from tracker.approvals.hearings import Case, cases
from tracker.approvals.protest import ProtestAnswer, protest
from tracker.approvals.purchase import PurchaseDay, purchase_days
from tracker.approvals.questions import given
from tracker.approvals.records import Answer
from tracker.project_file.store import ProjectFile
from tracker.schedule.path.filings import DO, late_filings
from tracker.schedule.path.plan import Plan
from tracker.values.problems import ProblemError
from tracker.values.records import Rows

NOTICE = (
    "Reminders and computations, not advice. Local ordinance, the adopted code edition with its"
    " local amendments and the officials' decisions govern."
)


LAW_PARTS = (
    ("law_published_days", "published notice"),
    ("law_mailed_days", "mailed notice"),
    ("law_posted_days", "posted notice"),
    ("protest_share", "protest"),
    ("effective_days", "days to effect"),
    ("appeal_days", "appeal"),
    ("referendum_days", "vote of the people"),
)
"""What a state's law on hearings says, and may not be on record, by the question that holds it."""


@dataclass(frozen=True, slots=True)
class Item:
    """One item of the checklist as it stands: see approvals.checklist.Standing.

    applies: by the answers, None where they do not tell yet; one that does not apply counts as not
    needed.
    """

    code: str
    stage: str
    title: str
    state: str
    waits_on: tuple[str, ...]
    waits_text: str
    due: dt.date | None
    wanted_by: dt.date | None
    begin_by: dt.date | None
    days_left: int | None
    lead_days: int | None
    governs: str
    why: str
    evidence: str
    files: tuple[str, ...]
    reason: str
    activity: str
    source: str
    stops_purchase: bool
    mark: str
    applies_when: str
    applies: bool | None


@dataclass(frozen=True, slots=True)
class StateLaw:
    """What is on record of the state's law on hearings: blank where nothing is.

    old: checked over a year ago, or by a text that old, or one of the two days is not known. age:
    of the text, in words; blank while it is fresh. not_known: what of it is not on record, or only
    from memory or assumed; empty where no state is.
    """

    state: str
    text: str
    source: str
    checked_on: dt.date | None
    text_as_of: dt.date | None
    old: bool
    age: str
    not_known: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RezoningAnswer:
    """The change of use as it stands.

    next_items: codes that can be worked on now, the most pressing first. stops_purchase: codes that
    should be settled before the purchase. gates_held: activities that can't be marked done yet,
    with the items that they wait for. today: as of when.
    """

    first_question: FirstQuestion
    stages: tuple[checklist.Stage, ...]
    items: tuple[Item, ...]
    next_items: tuple[str, ...]
    stops_purchase: tuple[str, ...]
    gates_held: dict[str, tuple[str, ...]]
    hearings: tuple[HearingDates, ...]
    cases: tuple[Case, ...]
    protest: ProtestAnswer
    purchase: tuple[PurchaseDay, ...]
    law: StateLaw
    cautions: tuple[cautions.CautionLine, ...]
    notice: str
    today: dt.date = for_screen()  # noqa: RUF009 - a field, not a value


def answer(project: ProjectFile, today: dt.date) -> RezoningAnswer:
    """The answer for a project file on a day."""
    return from_rows(project.tables(), today)


def from_rows(rows: Rows, today: dt.date, plan: Plan | None = None) -> RezoningAnswer:
    """The answer from a project's rows. plan: if it is computed already.

    Without one that can be computed, nothing is said of what missing a meeting costs.
    """
    plan = plan or plan_of(rows)
    known = checklist.standings(rows, today, planned_days(plan))
    items = considered(rows)
    answers = tuple(rows.get("answers", ()))
    days = [day for h in rows.get("hearings", ()) for day in (h.hearing_on, h.continued_to) if day]
    dates = hearing_dates(rows, plan, today)
    decides = deciding_body(rows)
    return RezoningAnswer(
        first_question=first_question(answers, today),
        stages=checklist.stages(items),
        items=tuple(_item(standing, by_question(answers)) for standing in known),
        next_items=tuple(s.item.code for s in checklist.next_items(known)),
        stops_purchase=tuple(s.item.code for s in known if s.stops_purchase),
        gates_held=checklist.gates_held(items),
        hearings=dates,
        cases=cases(
            rows.get("hearings", ()), answers, meets(rows, plan, days), late_of(plan, answers)
        ),
        protest=protest(
            rows.get("protest", ()),
            answers,
            next((d.members for d in dates if d.calendar == decides), None),
            today,
        ),
        purchase=purchase_days(
            answers, next((d.hearing for d in dates if d.calendar == decides), None), today
        ),
        law=law_of(rows, today),
        cautions=cautions.lines("rezoning"),
        notice=NOTICE,
        today=today,
    )


def late_of(plan: Plan | None, answers: Sequence[Answer]) -> dict[str, tuple[dt.date, str]]:
    """By code of a case that was filed after the cut-off of its meeting: the meeting that it
    reaches, and what to say of it.
    """
    hour = str(given(answers, "cutoff_hour").value)
    return {
        one.case: (one.reached, f"{one.words(hour)}; {DO}")
        for one in (late_filings(plan) if plan else ())
    }


def law_of(rows: Rows, today: dt.date) -> StateLaw:
    """What is on record of the state's law."""
    answers = tuple(rows.get("answers", ()))
    said = given(answers, "hearing_law", today)
    state = next((a.answer.strip() for a in answers if a.question == "state"), "")
    return StateLaw(
        state=state,
        text=said.value,
        source=said.source,
        checked_on=said.checked_on,
        text_as_of=said.text_as_of,
        old=said.old or said.text_old,
        age=said.age(),
        not_known=tuple(
            words for code, words in LAW_PARTS if state and not given(answers, code).sure
        ),
    )


def planned_days(plan: Plan | None) -> dict[str, dt.date]:
    """By activity, the day on which the plan has it start; of a gate that is the day of its
    inspection or meeting.
    """
    return {d.code: d.early_start for d in plan.dates} if plan else {}


def plan_of(rows: Rows) -> Plan | None:
    """The plan, or None where it can't be computed; Path says why."""
    try:
        return known_plan.plan_of(rows)
    except ProblemError:
        return None


def _item(standing: checklist.Standing, answers: Mapping[str, str]) -> Item:
    """One item for the view."""
    item = standing.item
    return Item(
        code=item.code,
        stage=item.stage,
        title=item.title,
        state=item.state,
        waits_on=item.waits_on,
        waits_text=standing.waits_text,
        due=item.due,
        wanted_by=standing.wanted_by,
        begin_by=standing.begin_by,
        days_left=standing.days_left,
        lead_days=item.lead_days,
        governs=item.governs,
        why=item.why,
        evidence=item.evidence,
        files=standing.files,
        reason=item.reason,
        activity=item.activity,
        source=item.source,
        stops_purchase=standing.stops_purchase,
        mark=standing.mark,
        applies_when=item.applies_when,
        applies=applies(item, answers),
    )
