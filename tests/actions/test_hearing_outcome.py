"""An outcome moves the gate of its case, in one step: done, continued to a day, or held until it
may be filed again.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.actions.exported import exported, project_of
from tracker.actions.hearing_outcome import HearingOutcome, hearing_outcome
from tracker.actions.rows import save
from tracker.approvals.records import Hearing
from tracker.project_file.store import ProjectFile
from tracker.schedule.path.plan import compute
from tracker.values.problems import ProblemError

HEARD = dt.date(2027, 3, 9)
TODAY = dt.date(2027, 3, 10)
FILES = {
    "project": (
        "name,start,status_date,opening,insurance_per_day\nInvented"
        " Hall,2027-01-04,2027-03-05,OPEN,100\n"
    ),
    "calendars": (
        "code,name,weekdays,recurrence,recurrence_from,cutoff_days,members\n"
        "WORK,,mon tue wed thu fri,,,,\n"
        "COUNCIL,Invented council,,FREQ=MONTHLY;BYDAY=2TU,2027-01-01,30,7\n"
    ),
    "activities": (
        "code,name,kind,calendar,duration,actual_start,actual_finish\n"
        "FILE,File the application,work,WORK,1,2027-01-11,2027-01-11\n"
        "HEAR,Hearing,gate,COUNCIL,1,,\n"
        "BUILD,Build,work,WORK,10,,\n"
        "CO,Certificate of occupancy,gate,WORK,1,,\n"
        "OPEN,Opening,milestone,WORK,0,,\n"
    ),
    "links": (
        "from,to,type,lag,lag_unit\nFILE,HEAR,FS,,cutoff\nHEAR,BUILD,FS,,\nBUILD,CO,FS,,\nCO,OPEN,FS,,\n"
    ),
    "hearings": (
        "code,activity,calendar,filed_on,hearing_on\nZ-1,HEAR,COUNCIL,2027-01-11,2027-03-09\nZ-9,,COUNCIL,,\n"
    ),
}


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    with project_of(tmp_path, FILES) as opened:
        yield opened


def gate(project: ProjectFile) -> Any:
    return next(a for a in project.tables()["activities"] if a.code == "HEAR")


def planned(project: ProjectFile) -> dt.date:
    return compute(project.tables()).by_code()["HEAR"].early_start


def test_approved_does_the_gate_on_that_day(project: ProjectFile) -> None:
    done = hearing_outcome(
        project, HearingOutcome("Z-1", "approved", HEARD, votes_for=5, votes_against=2), TODAY
    )
    assert (gate(project).actual_start, gate(project).actual_finish) == (HEARD, HEARD)
    case = project.rows(Hearing)[0]
    assert (case.outcome, case.hearing_on, case.votes_for, case.votes_against) == (
        "approved",
        HEARD,
        5,
        2,
    )
    assert (done.effect.days, done.offered, done.next_case) == (0, None, None)


def test_each_condition_becomes_an_item_that_the_certificate_waits_for(
    project: ProjectFile,
) -> None:
    texts = ["Hours 7 to 9", "Screen at the east line"]
    done = hearing_outcome(
        project, HearingOutcome("Z-1", "approved with conditions", HEARD, conditions=texts), TODAY
    )
    items = project.tables()["checklist"]
    assert [
        (i.code, i.title, i.stage, i.state, i.governs, i.waits_on, i.activity) for i in items
    ] == [
        ("Z-1-C1", "Hours 7 to 9", "conditions of approval", "open", "Invented council", (), "CO"),
        (
            "Z-1-C2",
            "Screen at the east line",
            "conditions of approval",
            "open",
            "Invented council",
            (),
            "CO",
        ),
    ]
    assert done.conditions == items
    with pytest.raises(ProblemError, match="Z-1-C1, Z-1-C2"):
        save(
            project,
            "activities",
            "CO",
            {"actual_start": "2027-03-24", "actual_finish": "2027-03-24"},
        )


def test_continued_moves_the_gate_and_the_opening_and_shows_the_cost(project: ProjectFile) -> None:
    """Second Tuesdays: 9 March, 13 April, 11 May.

    Ten days of work and one of the certificate after 9 March end Wed 24 March, after 11 May on Wed
    26 May: 63 days later. Working days lost: from 9 March through 10 May, nine weeks less a weekend
    each: 45.
    """
    done = hearing_outcome(
        project, HearingOutcome("Z-1", "continued", HEARD, continued_to=dt.date(2027, 5, 11)), TODAY
    )
    assert planned(project) == dt.date(2027, 5, 11)
    assert (done.effect.old_opening, done.effect.new_opening) == (
        dt.date(2027, 3, 24),
        dt.date(2027, 5, 26),
    )
    assert (done.effect.days, done.effect.cost_cents) == (63, 630_000)
    assert done.added_day is None
    first, again = project.rows(Hearing)[0], project.rows(Hearing)[-1]
    assert (first.outcome, first.continued_to) == ("continued", dt.date(2027, 5, 11))
    assert (again.code, again.activity, again.filed_on, again.hearing_on, again.outcome) == (
        "Z-1-2",
        "HEAR",
        dt.date(2027, 1, 11),
        dt.date(2027, 5, 11),
        "",
    )
    assert done.offered is not None
    delay = done.offered.delay
    assert (delay.cause, delay.party, delay.activity, delay.first, delay.last, delay.days) == (
        "waiting on authority",
        "authority",
        "HEAR",
        HEARD,
        dt.date(2027, 5, 11),
        45,
    )
    assert (project.tables()["delays"], gate(project).because) == ((), "")
    project.undo()
    hearing_outcome(
        project,
        HearingOutcome("Z-1", "continued", HEARD, continued_to=dt.date(2027, 5, 11)),
        TODAY,
        log_delay=True,
    )
    assert (project.tables()["delays"], gate(project).because) == ((delay,), "D-01")


def test_a_day_on_which_the_body_does_not_meet_becomes_a_meeting(project: ProjectFile) -> None:
    done = hearing_outcome(
        project,
        HearingOutcome("Z-1", "continued", HEARD, continued_to=dt.date(2027, 3, 25)),
        TODAY,
        log_delay=True,
    )
    assert planned(project) == dt.date(2027, 3, 25)
    (day,) = [d for d in project.tables()["calendar_days"] if d.calendar == "COUNCIL"]
    assert (day.date, day.works) == (dt.date(2027, 3, 25), True)
    assert done.added_day == day
    assert done.logged
    assert gate(project).because == "D-01"


def test_a_meeting_that_was_called_off_is_on_again_with_its_published_cut_off(
    project: ProjectFile,
) -> None:
    cells = {"works": "no", "cutoff": "2027-03-01", "reason": "Election"}
    save(project, "calendar_days", "COUNCIL/2027-04-13", cells)
    hearing_outcome(
        project, HearingOutcome("Z-1", "continued", HEARD, continued_to=dt.date(2027, 4, 13)), TODAY
    )
    (day,) = [d for d in project.tables()["calendar_days"] if d.calendar == "COUNCIL"]
    assert (day.works, day.cutoff) == (True, dt.date(2027, 3, 1))
    assert planned(project) == dt.date(2027, 4, 13)


def test_the_continued_case_is_decided_at_its_next_hearing(project: ProjectFile) -> None:
    hearing_outcome(
        project, HearingOutcome("Z-1", "continued", HEARD, continued_to=dt.date(2027, 4, 13)), TODAY
    )
    later = dt.date(2027, 4, 14)
    hearing_outcome(
        project,
        HearingOutcome(
            "Z-1-2", "continued", dt.date(2027, 4, 13), continued_to=dt.date(2027, 5, 11)
        ),
        later,
    )
    done = hearing_outcome(
        project, HearingOutcome("Z-1-3", "approved", dt.date(2027, 5, 11)), dt.date(2027, 5, 12)
    )
    assert gate(project).actual_finish == dt.date(2027, 5, 11)
    assert done.effect.days == 0
    assert project.check() == ()


def test_tabled_waits_for_the_next_meeting_until_a_day_is_set(project: ProjectFile) -> None:
    done = hearing_outcome(project, HearingOutcome("Z-1", "tabled", HEARD), TODAY)
    assert planned(project) == dt.date(2027, 4, 13)
    assert done.next_case is not None and done.next_case.hearing_on is None
    assert any("no day is set" in note for note in done.notes)


def test_denied_waits_for_the_first_meeting_for_which_it_may_be_filed_again(
    project: ProjectFile,
) -> None:
    """Answered bar: 6 months.

    From 9 September on; the cut-off of 14 September is 15 August, that of 12 October 12 September.
    """
    save(
        project,
        "answers",
        "refile_months",
        {"answer": "6", "source": "Invented ordinance", "checked_on": "2027-01-04"},
    )
    done = hearing_outcome(
        project, HearingOutcome("Z-1", "denied", HEARD, votes_for=2, votes_against=5), TODAY
    )
    assert done.may_file_again == dt.date(2027, 9, 9)
    assert planned(project) == dt.date(2027, 10, 12)
    assert gate(project).held == "denied on 2027-03-09; may be filed again from 2027-09-09"
    assert done.next_case is None
    assert done.offered is not None and done.offered.delay.party == "authority"


def test_filed_again_and_approved_it_is_held_no_more(project: ProjectFile) -> None:
    hearing_outcome(project, HearingOutcome("Z-1", "withdrawn", dt.date(2027, 3, 5)), TODAY)
    assert planned(project) == dt.date(2027, 4, 13)
    assert gate(project).held
    save(
        project,
        "hearings",
        "Z-2",
        {"activity": "HEAR", "calendar": "COUNCIL", "filed_on": "2027-03-11"},
    )
    hearing_outcome(
        project, HearingOutcome("Z-2", "approved", dt.date(2027, 4, 13)), dt.date(2027, 4, 13)
    )
    assert (gate(project).held, gate(project).actual_finish) == ("", dt.date(2027, 4, 13))


def test_withdrawn_is_the_owners_delay_and_not_the_authoritys(project: ProjectFile) -> None:
    done = hearing_outcome(project, HearingOutcome("Z-1", "withdrawn", HEARD), TODAY)
    assert done.offered is not None
    assert (done.offered.delay.cause, done.offered.delay.party) == ("other", "owner")


def test_a_vote_below_what_the_protest_asks_for_is_said(project: ProjectFile) -> None:
    """Standard State Zoning Enabling Act (1926), section 5: 20 % protest, three fourths of 7
    members, rounded up, are 6.
    """
    save(project, "protest", "beside", {"entitled_sf": "1000", "protesting_sf": "200"})
    done = hearing_outcome(
        project, HearingOutcome("Z-1", "approved", HEARD, votes_for=5, votes_against=2), TODAY
    )
    assert any("6 votes are needed and 5 are on record" in note for note in done.notes)


@pytest.mark.parametrize(
    ("case", "outcome", "on", "more", "said"),
    [
        ("Z-0", "approved", HEARD, {}, "there is no such case"),
        ("Z-9", "approved", HEARD, {}, "before it is filed"),
        ("Z-1", "maybe", HEARD, {}, "is no outcome"),
        ("Z-1", "approved", dt.date(2027, 1, 10), {}, "lies before the day on which it was filed"),
        ("Z-1", "approved", dt.date(2027, 3, 11), {}, "lies after today"),
        ("Z-1", "continued", HEARD, {}, "needs the day"),
        ("Z-1", "continued", HEARD, {"continued_to": HEARD}, "not after the hearing"),
        (
            "Z-1",
            "approved",
            HEARD,
            {"continued_to": dt.date(2027, 4, 13)},
            "only a continued or tabled",
        ),
        (
            "Z-1",
            "approved",
            HEARD,
            {"votes_for": 6, "votes_against": 2},
            "more votes than the body has members, 7",
        ),
        ("Z-1", "approved", HEARD, {"votes_for": -1}, "negative"),
        ("Z-1", "approved", HEARD, {"conditions": ["Hours"]}, "conditions are named"),
        ("Z-1", "approved with conditions", HEARD, {"conditions": [" "]}, "names no condition"),
        ("Z-1", "denied", HEARD, {"note": "a\0b"}, "NUL"),
    ],
)
def test_nonsense_is_refused_and_changes_nothing(
    project: ProjectFile, case: str, outcome: str, on: dt.date, more: dict[str, Any], said: str
) -> None:
    before, steps = project.tables(), project.history()
    with pytest.raises(ProblemError, match=said):
        hearing_outcome(project, HearingOutcome(case, outcome, on, **more), TODAY)
    assert (project.tables(), project.history()) == (before, steps)


def test_what_is_decided_is_not_decided_again(project: ProjectFile) -> None:
    hearing_outcome(project, HearingOutcome("Z-1", "approved", HEARD), TODAY)
    with pytest.raises(ProblemError, match="already approved"):
        hearing_outcome(project, HearingOutcome("Z-1", "denied", HEARD), TODAY)


def test_a_gate_that_is_done_is_not_continued(project: ProjectFile) -> None:
    with pytest.raises(
        ProblemError, match="has no outcome, and its gate HEAR is done on 2027-03-09"
    ):
        save(
            project,
            "activities",
            "HEAR",
            {"actual_start": "2027-03-09", "actual_finish": "2027-03-09"},
        )
    hearing_outcome(project, HearingOutcome("Z-1", "approved", HEARD), TODAY)
    save(
        project,
        "hearings",
        "Z-2",
        {"activity": "HEAR", "calendar": "COUNCIL", "filed_on": "2027-01-15"},
    )
    with pytest.raises(ProblemError, match="already done on 2027-03-09"):
        hearing_outcome(
            project,
            HearingOutcome("Z-2", "continued", HEARD, continued_to=dt.date(2027, 4, 13)),
            TODAY,
        )


@settings(max_examples=14, deadline=None)
@given(
    st.sampled_from(
        ["approved", "approved with conditions", "continued", "tabled", "denied", "withdrawn"]
    ),
    st.integers(1, 200),
    st.booleans(),
)
def test_undo_gives_the_first_state_and_a_case_put_off_is_not_heard_before_its_day(
    tmp_path_factory: pytest.TempPathFactory, outcome: str, days: int, log: bool
) -> None:
    folder = tmp_path_factory.mktemp("hearing")
    to = HEARD + dt.timedelta(days=days) if outcome == "continued" else None
    with project_of(folder, FILES) as project:
        first, steps = exported(project, folder / "before"), len(project.history())
        conditions = ["Hours 7 to 9"] if outcome == "approved with conditions" else []
        hearing_outcome(
            project,
            HearingOutcome("Z-1", outcome, HEARD, continued_to=to, conditions=conditions),
            TODAY,
            log_delay=log,
        )
        assert len(project.history()) == steps + 1
        if to:
            assert planned(project) == to
        project.undo()
        assert exported(project, folder / "after") == first
