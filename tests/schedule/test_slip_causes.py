"""What the site log explains of a window: each sentence of the rule by an example, then against a
count by fractions.
"""

import datetime as dt
from fractions import Fraction
from math import floor

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.schedule.windows_by_hand import largest_remainder
from tracker.schedule.records import Delay
from tracker.schedule.slip.causes import Reason, account
from tracker.schedule.slip.progress import Gate, Step
from tracker.schedule.slip.revisions import Revision
from tracker.schedule.slip.windows import Window

FRIDAYS = [dt.date(2026, 3, 6) + 7 * n * dt.timedelta(days=1) for n in range(6)]
SAID = Reason("change", "owner", "CH-1")


def windows(*steps_of_each, concurrent=False, revisions=()):
    """Windows of a week each, with these steps."""
    return [
        Window(
            from_=FRIDAYS[k],
            to=FRIDAYS[k + 1],
            opening_before=FRIDAYS[5],
            half_step_opening=FRIDAYS[5],
            opening_after=FRIDAYS[5],
            progress_days=sum(s.days for s in steps),
            revision_days=sum(r.days for r in revisions),
            concurrent=concurrent,
            steps=tuple(steps),
            revisions=tuple(revisions),
        )
        for k, steps in enumerate(steps_of_each)
    ]


def step(code="FRAME", days=0, late=0, meets=False, gates=()):
    return Step(
        code=code, days=days, days_alone=max(0, days), own_lateness=late, meets=meets, gates=gates
    )


def event(code="D1", days=1, activity="FRAME", week=0, cause="no-show", party="contractor:a"):
    first = FRIDAYS[week] + dt.timedelta(days=3)
    return Delay(code=code, activity=activity, first=first, days=days, cause=cause, party=party)


def told(those, delays):
    """[(window, event or cause, days)] in the order in which they are told."""
    shares = account(those, delays, lambda revision: SAID).shares
    return [(s.window, s.reason.event or s.reason.cause, s.days) for s in shares]


def test_an_event_explains_the_share_of_the_own_lateness_that_it_took():
    assert told(windows([step(days=6, late=4)]), [event(days=2)]) == [
        (0, "D1", 3),
        (0, "not explained", 3),
    ]


def test_the_share_is_rounded_half_up_to_whole_days():
    assert told(windows([step(days=5, late=2)]), [event(days=1)]) == [
        (0, "D1", 3),
        (0, "not explained", 2),
    ]
    assert told(windows([step(days=1, late=3)]), [event(days=1)]) == [(0, "not explained", 1)]


def test_more_days_lost_than_the_activity_was_late_explain_no_more_than_the_whole():
    assert told(windows([step(days=3, late=2)]), [event(days=9)]) == [(0, "D1", 3)]


def test_several_events_share_by_largest_remainder_and_equal_ones_by_their_order():
    both = [event("D2", 1), event("D1", 1)]
    assert told(windows([step(days=3, late=2)]), both) == [(0, "D2", 2), (0, "D1", 1)]
    three = [event("D1", 5), event("D2", 3), event("D3", 1)]
    assert told(windows([step(days=4, late=9)]), three) == [
        (0, "D1", 2),
        (0, "D2", 1),
        (0, "D3", 1),
    ]


def test_an_event_is_used_up_by_the_lateness_of_its_windows():
    those = windows([step(days=2, late=2)], [step(days=2, late=2)], [step(days=2, late=2)])
    assert told(those, [event(days=3)]) == [
        (0, "D1", 2),
        (1, "D1", 1),
        (1, "not explained", 1),
        (2, "not explained", 2),
    ]


def test_a_window_in_which_the_opening_did_not_move_uses_the_event_up_as_well():
    assert told(windows([step(days=0, late=3)], [step(days=3, late=3)]), [event(days=3)]) == [
        (1, "not explained", 3)
    ]


def test_what_is_left_of_several_events_weighs_in_the_next_window():
    """Of 4 and 2 days the first window uses up 3, two and one; two and one are left for the
    next.
    """
    those = windows([step(days=0, late=3)], [step(days=6, late=3)])
    assert told(those, [event("D1", 4), event("D2", 2)]) == [(1, "D1", 4), (1, "D2", 2)]
    used = account(those, [event("D1", 4), event("D2", 2)], lambda revision: SAID).used
    assert [(u.window, u.event, u.days, u.left) for u in used] == [
        (0, "D1", 2, 2),
        (0, "D2", 1, 1),
        (1, "D1", 2, 0),
        (1, "D2", 1, 0),
    ]


def test_an_event_used_up_weighs_no_more():
    """The first is used up in its own window, so that the second one explains the next alone."""
    those = windows([step(days=0, late=5)], [step(days=4, late=4)])
    assert told(those, [event("D1", 5), event("D2", 4, week=1)]) == [(1, "D2", 4)]


def test_an_activity_that_was_not_late_itself_is_explained_whole_and_uses_nothing_up():
    those = windows([step(days=7, late=0)], [step(days=2, late=1)])
    assert told(those, [event(days=1)]) == [(0, "D1", 7), (1, "D1", 2)]
    assert told(windows([step(days=7, late=-2)]), [event(days=1)]) == [(0, "D1", 7)]


def test_an_event_counts_from_the_window_in_which_it_begins():
    those = windows([step(days=1, late=1)], [step(days=1, late=1)])
    assert told(those, [event(week=1)]) == [(0, "not explained", 1), (1, "D1", 1)]
    before = Delay(
        code="D0",
        activity="FRAME",
        first=dt.date(2025, 1, 1),
        days=1,
        cause="weather",
        party="nobody",
    )
    assert told(those, [before]) == [(0, "D0", 1), (1, "not explained", 1)]
    last_day = Delay(
        code="D0", activity="FRAME", first=FRIDAYS[1], days=1, cause="weather", party="nobody"
    )
    assert told(those, [last_day])[0] == (0, "D0", 1)


def test_one_day_late_for_a_cut_off_that_costs_four_weeks_is_explained_by_an_event_of_one_day():
    filing = step("FILE", days=28, late=1, gates=(Gate("HEARING", True),))
    assert told(windows([filing]), [event(activity="FILE")]) == [(0, "D1", 28)]


def test_an_event_on_a_gate_counts_for_the_activity_that_drove_it_and_others_do_not():
    filing = step("FILE", days=28, late=1, gates=(Gate("HEARING", True),))
    assert told(windows([filing]), [event(activity="HEARING")]) == [(0, "D1", 28)]
    assert told(windows([step("FILE", days=28, late=1)]), [event(activity="HEARING")]) == [
        (0, "not explained", 28)
    ]


def test_an_event_on_an_activity_of_a_meeting_calendar_is_used_up_whole():
    late = step("HEARING", days=28, late=1, meets=True)
    assert told(windows([late], [late]), [event(days=25, activity="HEARING")]) == [
        (0, "D1", 28),
        (1, "not explained", 28),
    ]
    filing = step("FILE", days=28, late=1, gates=(Gate("HEARING", True),))
    assert told(windows([filing], [filing]), [event(days=9, activity="HEARING")]) == [
        (0, "D1", 28),
        (1, "not explained", 28),
    ]
    inspection = step("FRAME", days=2, late=1, gates=(Gate("I-FRAME", False),))
    assert told(windows([inspection], [inspection]), [event(days=9, activity="I-FRAME")]) == [
        (0, "D1", 2),
        (1, "D1", 2),
    ]


def test_the_activity_put_in_first_takes_from_an_event_first():
    filing = step("FILE", days=14, late=1, gates=(Gate("I-FRAME", False),))
    gate = step("I-FRAME", days=2, late=1)
    assert told(windows([filing, gate]), [event(activity="I-FRAME")]) == [
        (0, "D1", 14),
        (0, "not explained", 2),
    ]


def test_days_that_were_won_stay_with_the_activity_as_made_up():
    assert told(windows([step(days=-2, late=-2)]), [event(days=2)]) == [(0, "made up", -2)]


def test_an_event_without_days_explains_nothing():
    assert told(windows([step(days=2, late=0)]), [event(days=0)]) == [(0, "not explained", 2)]


def test_a_revision_has_the_reason_of_its_row_and_days_won_are_made_up():
    made = [Revision("durations", "FRAME", "", "CH-1", days, False, True) for days in (3, -1, 0)]
    shares = account(windows([], revisions=made, concurrent=True), [], lambda revision: SAID).shares
    assert [(s.kind, s.reason.cause, s.days, s.concurrent) for s in shares] == [
        ("durations", "change", 3, False),
        ("durations", "made up", -1, False),
    ]


def test_only_positive_progress_of_a_concurrent_window_is_marked_so():
    steps = [step("A", days=4, late=2), step("B", days=-1, late=-1)]
    shares = account(
        windows(steps, concurrent=True), [event(days=1, activity="A")], lambda revision: SAID
    ).shares
    assert [(s.code, s.days, s.concurrent) for s in shares] == [
        ("A", 2, True),
        ("A", 2, True),
        ("B", -1, False),
    ]


CODES = ("A", "B", "HEAR", "GATE")
GATES = {"HEAR": True, "GATE": False}


@st.composite
def told_weeks(draw):
    """Up to five windows with steps of a few activities, and events on them."""
    weeks = []
    for _ in range(draw(st.integers(1, 5))):
        steps = []
        for code in draw(st.permutations(CODES))[: draw(st.integers(0, 4))]:
            gates = tuple(Gate(g, GATES[g]) for g in GATES if g != code and draw(st.booleans()))
            steps.append(
                step(
                    code,
                    draw(st.integers(-4, 30)),
                    draw(st.integers(-3, 9)),
                    GATES.get(code, False),
                    gates,
                )
            )
        weeks.append(steps)
    events = [
        event(
            f"D{n}", draw(st.integers(0, 8)), draw(st.sampled_from(CODES)), draw(st.integers(0, 4))
        )
        for n in range(draw(st.integers(0, 7)))
    ]
    return weeks, events


@settings(max_examples=400, deadline=None)
@given(told_weeks())
def test_all_of_it_is_what_a_count_by_fractions_gives(made):
    weeks, events = made
    those = windows(*weeks)
    left = {e.code: e.days for e in events}
    expected = []
    for k, steps in enumerate(weeks):
        for s in steps:
            near = {s.code: s.meets} | {g.code: g.meets for g in s.gates}
            own = [
                e
                for e in events
                if e.activity in near and e.first <= FRIDAYS[k + 1] and left[e.code]
            ]
            lost = [left[e.code] for e in own]
            share = Fraction(0)
            if own:
                share = (
                    min(Fraction(1), Fraction(sum(lost), s.own_lateness))
                    if s.own_lateness > 0
                    else Fraction(1)
                )
            explained = floor(max(0, s.days) * share + Fraction(1, 2))
            if own:
                parts = largest_remainder(explained, lost)
                expected += [(k, e.code, part) for e, part in zip(own, parts, strict=True) if part]
            rest = s.days - explained
            if rest:
                expected.append((k, "not explained" if rest > 0 else "made up", rest))
            if own and s.own_lateness > 0:
                for e, part in zip(
                    own, largest_remainder(min(sum(lost), s.own_lateness), lost), strict=True
                ):
                    left[e.code] = 0 if near[e.activity] else left[e.code] - part
    assert told(those, events) == expected
