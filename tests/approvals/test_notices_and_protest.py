"""Business days before a meeting; classes of a protest each on its own; answers that the rules
read.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.approvals import questions
from tracker.approvals.decision import add_months, after_adoption
from tracker.approvals.faults import faults
from tracker.approvals.first_question import first_question
from tracker.approvals.notices import notice_days, with_law
from tracker.approvals.protest import is_triggered, protest, votes
from tracker.approvals.records import Answer, Notice, Protest
from tracker.schedule.records import Calendar

MEETING = dt.date(2027, 3, 9)
HOLIDAY = dt.date(2027, 2, 15)


def five_days(day: dt.date) -> bool:
    return day.weekday() < 5 and day != HOLIDAY


def test_business_days_are_counted_back_over_weekends_and_holidays_the_meeting_not_counted() -> (
    None
):
    """Sioux Falls SD: letters within 300 ft postmarked 10 business days before (read)."""
    notice = Notice(calendar="c", kind="mailed", latest_days=10, count="business")
    assert notice_days(notice, MEETING, five_days, MEETING).latest == dt.date(2027, 2, 23)
    further = Notice(calendar="c", kind="mailed", latest_days=17, count="business")
    assert notice_days(further, MEETING, five_days, MEETING).latest == dt.date(2027, 2, 11)


@settings(deadline=None)
@given(st.integers(0, 60), st.dates(dt.date(2026, 1, 1), dt.date(2028, 1, 1)))
def test_business_days_agree_with_an_independent_count(days: int, meeting: dt.date) -> None:
    """numpy.busday_offset counts back from the next business day at or after the meeting."""
    import numpy as np

    notice = Notice(calendar="c", kind="mailed", latest_days=days, count="business")
    ours = notice_days(notice, meeting, lambda day: day.weekday() < 5, meeting).latest
    if days:
        assert ours == np.busday_offset(np.datetime64(meeting), -days, roll="forward").astype(
            object
        )
    else:
        assert ours == meeting


def test_a_notice_tells_whether_it_is_too_early_or_too_late() -> None:
    notice = Notice(calendar="c", kind="published", latest_days=15, earliest_days=45)
    states = {
        days: notice_days(notice, MEETING, five_days, MEETING - dt.timedelta(days=days)).state
        for days in (46, 45, 16, 15, 14)
    }
    assert states == {
        46: "too early yet",
        45: "now",
        16: "now",
        15: "today is the last day",
        14: "too late",
    }


@pytest.mark.parametrize(
    ("town", "state", "stands"), [(45, 30, 30), (30, 45, 30), (None, 30, 30), (45, None, 45)]
)
def test_of_two_earliest_days_the_one_nearer_the_hearing_stands(
    town: int | None, state: int | None, stands: int
) -> None:
    """What is published before either of them counts for nothing; Georgia's window is 15 to 45 days
    (read), the others ours.
    """
    local = Notice(calendar="council", kind="published", latest_days=15, earliest_days=town)
    law = [Answer(question="law_published_days", answer="15")]
    law += [Answer(question="law_published_earliest_days", answer=str(state))] if state else []
    (found,) = with_law((local,), law, ["council"], "council", MEETING)
    assert (found.latest_days, found.earliest_days) == (15, stands)


def test_a_notice_whose_earliest_day_comes_after_its_latest_is_a_fault() -> None:
    body = Calendar(code="c", recurrence="FREQ=MONTHLY;BYDAY=2TU")
    wrong = Notice(calendar="c", kind="published", latest_days=15, earliest_days=10)
    assert [p.column for p in faults({"calendars": (body,), "notices": (wrong,)})] == [
        "earliest_days"
    ]


def test_a_notice_before_no_meeting_is_a_fault() -> None:
    work = Calendar(code="c", weekdays=("mon",))
    assert [
        p.column
        for p in faults({"calendars": (work,), "notices": (Notice(calendar="c", kind="mailed"),)})
    ] == ["calendar"]


def classes(*areas: tuple[int, int]) -> list[Protest]:
    return [
        Protest(class_=f"class {n}", entitled_sf=e, protesting_sf=p)
        for n, (e, p) in enumerate(areas)
    ]


def test_each_class_is_held_on_its_own() -> None:
    """Together 21 of 200 would be under the share; the second class alone reaches it."""
    found = protest(classes((100, 0), (100, 21)), [], 7)
    assert [c.triggered for c in found.classes] == [False, True]
    assert (found.triggered, found.share_bp, found.votes_needed) == (True, 2100, 6)


def test_no_class_reaches_the_share_even_if_all_together_would() -> None:
    found = protest(classes((1000, 199), (1000, 199), (1000, 199)), [], 5)
    assert (found.triggered, found.share_bp, found.votes_needed) == (False, 1990, 4)
    assert [c.still_free_sf for c in found.classes] == [1, 1, 1]


def test_where_nobody_is_entitled_nobody_protests() -> None:
    found = protest(classes((0, 0)), [], 5)
    assert (found.share_bp, found.triggered) == (None, False)


def test_a_law_without_protest_raises_no_vote() -> None:
    found = protest(classes((100, 100)), [Answer(question="protest_share", answer="none")], 5)
    assert (found.triggered, found.votes_needed) == (False, None)


def test_without_the_number_of_members_no_votes_are_named() -> None:
    assert protest(classes((100, 100)), [], None).votes_needed is None


@settings(deadline=None)
@given(st.integers(1, 10**9), st.integers(0, 10**9), st.integers(1, 99))
def test_the_share_is_compared_in_whole_numbers(
    entitled: int, protesting: int, percent: int
) -> None:
    assert is_triggered(protesting, entitled, Fraction(percent, 100)) is (
        protesting * 100 >= entitled * percent
    )


@settings(deadline=None)
@given(st.integers(1, 99), st.integers(1, 40), st.integers(1, 40))
def test_votes_rounded_up_are_the_fewest_that_reach_the_share(members: int, a: int, b: int) -> None:
    share = Fraction(min(a, b), max(a, b))
    needed = votes(members, share)
    assert Fraction(needed, members) >= share
    assert Fraction(needed - 1, members) < share


def test_more_protest_than_are_entitled_is_a_fault() -> None:
    assert [p.column for p in faults({"protest": classes((100, 101))})] == ["protesting_sf"]


@pytest.mark.parametrize(
    ("question", "answer"),
    [
        ("protest_votes", "4/3"),
        ("protest_votes", "many"),
        ("protest_votes", "3/0"),
        ("protest_share", "0"),
        ("vote_rounding", "down"),
        ("permit_lapses_days", "-1"),
        ("appeal_days", "1.5"),
        ("owner_contractor", "maybe"),
        ("closing_day", "2027-02-30"),
        ("deciding_body", "nobody"),
        ("readings", "0"),
    ],
)
def test_an_answer_that_no_rule_can_read_is_a_fault(question: str, answer: str) -> None:
    found = faults({"answers": (Answer(question=question, answer=answer),)})
    assert [(p.table, p.key, p.column) for p in found] == [("answers", question, "answer")]


def test_an_open_question_and_one_of_the_owners_own_are_no_fault() -> None:
    assert (
        faults(
            {
                "answers": (
                    Answer(question="protest_votes"),
                    Answer(question="well_or_septic", answer="septic"),
                )
            }
        )
        == []
    )


def test_percent_and_fraction_say_the_same() -> None:
    assert {questions.fraction(text) for text in ("3/4", "75", "75 %", "75.0%")} == {Fraction(3, 4)}


def test_the_first_question_stays_until_it_is_answered_and_fresh() -> None:
    today = dt.date(2027, 3, 5)

    def asked(answer: str, checked_on: dt.date | None) -> tuple[str, bool]:
        row = Answer(question="owner_contractor", answer=answer, checked_on=checked_on)
        found = first_question([row], today)
        return found.mark, found.old

    assert first_question([], today).mark == "?"
    assert asked("yes", dt.date(2027, 1, 5)) == ("=", False)
    assert asked("yes", dt.date(2026, 3, 5)) == ("=", False)
    assert asked("yes", dt.date(2026, 3, 4)) == ("?", True)
    assert asked("yes", None) == ("?", True)
    assert asked("no", dt.date(2027, 1, 5)) == ("!", False)
    assert "licensing board, the lender and an attorney" in first_question([], today).send_to


def test_a_permit_waits_for_the_effective_day_and_the_end_of_appeal() -> None:
    adopted = dt.date(2027, 3, 1)
    figures = [
        Answer(question="effective_days", answer="15"),
        Answer(question="appeal_days", answer="30"),
    ]
    found = after_adoption(adopted, figures)
    assert (found.effective, found.appeal_ends, found.permit_not_before) == (
        dt.date(2027, 3, 16),
        dt.date(2027, 3, 31),
        dt.date(2027, 4, 1),
    )
    assert "effective_days" in found.estimate, "nobody has checked it"


@settings(deadline=None)
@given(st.dates(dt.date(2000, 1, 1), dt.date(2100, 1, 1)), st.integers(0, 60))
def test_months_are_added_as_an_independent_library_adds_them(day: dt.date, months: int) -> None:
    from dateutil.relativedelta import relativedelta

    assert add_months(day, months) == day + relativedelta(months=months)


def test_a_majority_is_more_than_half_of_all_members() -> None:
    figures = [Answer(question="protest_votes", answer="majority")]
    found = {
        members: protest(classes((100, 100)), figures, members).votes_needed
        for members in (5, 6, 7)
    }
    assert found == {5: 3, 6: 4, 7: 4}
    assert "a majority of all members: 3 of 5" in protest(classes((100, 100)), figures, 5).text


def test_figures_that_nobody_checked_here_or_long_ago_are_named() -> None:
    today = dt.date(2027, 3, 5)
    fresh = [
        Answer(question=q, answer=a, checked_on=today, text_as_of=today) for q, a in CHECKED.items()
    ]
    assert protest(classes((100, 1)), fresh, 5, today).unchecked == ()
    unknown = [dataclasses.replace(one, text_as_of=None) for one in fresh]
    assert (
        "protest_share (day of its text not known)"
        in protest(classes((100, 1)), unknown, 5, today).text
    )
    long_ago = [
        dataclasses.replace(one, text_as_of=today - dt.timedelta(days=366)) for one in fresh
    ]
    assert (
        "protest_share (text of 2026-03-04)" in protest(classes((100, 1)), long_ago, 5, today).text
    )
    old = [
        Answer(question=q, answer=a, checked_on=today - dt.timedelta(days=366))
        for q, a in CHECKED.items()
    ]
    found = protest(classes((100, 1)), old, 5, today)
    assert found.unchecked == tuple(CHECKED)
    assert "old, or no day on record: protest_share (2026-03-04)" in found.text
    assert (
        "by the model act, not checked here: protest_share"
        in protest(classes((100, 1)), [], 5, today).text
    )


CHECKED = {
    "protest_share": "20",
    "protest_rule": "any",
    "protest_votes": "3/4",
    "vote_base": "all members",
    "vote_rounding": "up",
}
