"""Windows between snapshots against an independent analysis by hand, and sums that hold for any
history.
"""

import datetime as dt
import itertools
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.schedule import windows_by_hand
from tests.schedule.strategies import (
    CALENDARS,
    NAMES,
    ONE,
    START,
    days_off,
    links_between,
    networks,
    progress,
)
from tests.schedule.windows_by_hand import Snap
from tracker.schedule.path.plan import compute
from tracker.schedule.records import Activity, Calendar, CalendarDay, Delay, Link
from tracker.schedule.slip.causes import MADE_UP, NOT_EXPLAINED, Reason, account
from tracker.schedule.slip.revisions import half_rows
from tracker.schedule.slip.windows import taken, window
from tracker.values.project import Project

REVISIONS = (
    "out",
    "unlink",
    "in",
    "link",
    "duration",
    "calendar",
    "days",
    "meeting",
    "not before",
    "start",
)


@st.composite
def histories(draw, most=4):
    """Snapshots of a plan that goes on and is revised: in progress, links, durations, calendars,
    dates, activities.
    """
    activities, links = draw(networks(most=7))
    snaps = []
    date = START + draw(st.integers(0, 10)) * ONE
    off = draw(days_off())
    start, opening = START, draw(st.sampled_from(["", activities[-1].code]))
    for k in range(draw(st.integers(2, most))):
        if k:
            activities, links, off, start, opening = draw(
                revised(activities, links, off, start, opening, k)
            )
        activities = draw(progress([bare(a) for a in activities], date))
        snaps.append(Snap(date, activities, links, CALENDARS, off, start, opening))
        date += draw(st.integers(1, 14)) * ONE
    return snaps


def bare(a):
    return replace(a, actual_start=None, actual_finish=None, remaining=None)


@st.composite
def revised(draw, activities, links, off, start, opening, k):
    """The plan with a few revisions of all kinds."""
    activities, links, off = list(activities), list(links), list(off)
    for _ in range(draw(st.integers(0, 3))):
        kind = draw(st.sampled_from(REVISIONS))
        place = draw(st.integers(0, len(activities) - 1))
        a = activities[place]
        if kind == "out" and len(activities) > 2:
            activities.remove(a)
            links = [x for x in links if a.code not in (x.from_, x.to)]
        elif kind == "unlink" and links:
            links.remove(draw(st.sampled_from(links)))
        elif kind == "in":
            new = Activity(
                code=f"N{k}{len(activities)}",
                kind="work",
                duration=draw(st.integers(1, 6)),
                calendar="FIVE",
            )
            if all(b.code != new.code for b in activities):
                links.append(draw(links_between(a, new)))
                if place + 1 < len(activities):
                    links.append(
                        Link(
                            from_=new.code,
                            to=activities[-1].code,
                            type="FS",
                            lag=0,
                            lag_unit="working",
                        )
                    )
                    activities.insert(-1, new)
                    links = [x for x in links if goes_forward(activities, x)]
                else:
                    activities.append(new)
        elif kind == "link" and place:
            new = draw(links_between(activities[place - 1], a))
            links = [
                x for x in links if (x.from_, x.to, x.type) != (new.from_, new.to, new.type)
            ] + [new]
        elif kind == "duration" and a.duration and a.calendar != "BODY":
            activities[place] = replace(a, duration=draw(st.integers(1, 9)))
        elif kind == "calendar" and a.calendar != "BODY":
            activities[place] = replace(a, calendar=draw(st.sampled_from(["FIVE", "SIX"])))
        elif kind == "days":
            off = [d for d in off if d.calendar != "FIVE"] + draw(days_off())
        elif kind == "meeting":
            meeting = dt.date(2026, 1, 6) + 14 * draw(st.integers(4, 12)) * ONE
            off = [d for d in off if d.calendar != "BODY"] + [
                CalendarDay(calendar="BODY", date=meeting, works=False)
            ]
        elif kind == "not before":
            activities[place] = replace(
                a, not_before=draw(st.sampled_from([None, START + 25 * ONE, START + 50 * ONE]))
            )
        elif kind == "start":
            start = START + draw(st.integers(0, 30)) * ONE
            opening = draw(st.sampled_from(["", activities[-1].code]))
    return activities, links, off, start, opening


def goes_forward(activities, link):
    codes = [a.code for a in activities]
    return codes.index(link.from_) < codes.index(link.to)


@st.composite
def delay_events(draw, snaps):
    """A site log: events on activities of any snapshot, before, in and after the windows."""
    codes = sorted({a.code for snap in snaps for a in snap.activities})
    causes = st.sampled_from(
        [("no-show", "contractor:a"), ("weather", "nobody"), ("hearing missed", "authority")]
    )
    found = []
    for n in range(draw(st.integers(0, 6))):
        cause, party = draw(causes)
        first = (
            snaps[0].date + draw(st.integers(-10, (snaps[-1].date - snaps[0].date).days + 3)) * ONE
        )
        code = draw(st.sampled_from(codes))
        found.append(
            Delay(
                code=f"D{n}",
                activity=code,
                first=first,
                days=draw(st.integers(0, 9)),
                cause=cause,
                party=party,
            )
        )
    return found


def read(snaps):
    plans = [taken(s.rows(), s.date) for s in snaps]
    return [window(a, b) for a, b in itertools.pairwise(plans)]


@settings(max_examples=60, deadline=None)
@given(histories(most=2))
def test_a_half_step_is_that_of_an_analysis_by_hand(snaps):
    old, new = snaps[0], snaps[-1]
    (found,) = read([old, new])
    opening, told = windows_by_hand.half_step(old, new)
    assert (
        found.progress_days
        == (opening - windows_by_hand.opening_of(old, windows_by_hand.search(old))).days
    )
    expected = [(code, days, late, alone) for code, days, late, alone in told if days or late]
    assert [(s.code, s.days, s.own_lateness, s.days_alone) for s in found.steps] == expected
    assert found.concurrent == (sum(one[3] for one in told) > sum(max(0, one[1]) for one in told))


@settings(max_examples=80, deadline=None)
@given(histories(most=2))
def test_revisions_are_those_of_an_analysis_by_hand(snaps):
    old, new = snaps[0], snaps[-1]
    (found,) = read([old, new])
    half = old
    for a in old.activities:
        if now := new.row(a.code):
            cells = {
                name: getattr(now, name) for name in ("actual_start", "actual_finish", "remaining")
            }
            half = windows_by_hand.with_row(half, a.code, **cells)
    reached, told = windows_by_hand.revisions(replace(half, date=new.date), new)
    assert [(r.kind, r.code, r.days) for r in found.revisions] == told
    assert found.revision_days == sum(days for *_, days in told)
    assert reached == windows_by_hand.opening_of(new, windows_by_hand.search(new))


@settings(max_examples=40, deadline=None)
@given(st.data(), histories(most=3))
def test_causes_are_those_of_an_analysis_by_hand(data, snaps):
    delays = data.draw(delay_events(snaps))
    found = account(read(snaps), delays, lambda revision: Reason("plan revised", "owner", ""))
    told = {}
    for share in found.shares:
        if share.what == "progress":
            key = (share.window + 1, share.reason.cause, share.reason.party)
            told[key] = told.get(key, 0) + share.days
    assert told == windows_by_hand.explain(snaps, delays)


@settings(max_examples=150, deadline=None)
@given(st.data(), histories())
def test_all_windows_and_all_shares_add_up_to_the_move_of_the_opening(data, snaps):
    windows = read(snaps)
    first, last = (compute(s.rows()).run.opening_moment() for s in (snaps[0], snaps[-1]))
    assert sum(w.progress_days + w.revision_days for w in windows) == last - first
    for w in windows:
        assert w.progress_days == sum(s.days for s in w.steps)
        assert w.revision_days == sum(r.days for r in w.revisions)
    delays = data.draw(delay_events(snaps))
    shares = account(windows, delays, lambda revision: Reason("plan revised", "owner", "")).shares
    assert sum(s.days for s in shares) == last - first
    for share in shares:
        assert (share.days < 0) == (share.reason.cause == MADE_UP)
        assert (share.reason.event == "") == (
            share.reason.cause in (MADE_UP, NOT_EXPLAINED) or share.what == "revision"
        )


@settings(max_examples=100, deadline=None)
@given(histories(most=2))
def test_the_half_step_is_the_plan_of_the_earlier_rows_with_the_later_progress(snaps):
    old, new = (taken(s.rows(), s.date) for s in (snaps[0], snaps[-1]))
    half = compute(half_rows(old.rows, new.by_code(), new.date))
    assert window(old, new).half_step_opening == half.opening


@settings(max_examples=60, deadline=None)
@given(st.data(), histories(most=3))
def test_the_order_of_rows_does_not_matter(data, snaps):
    shuffled = [
        replace(
            s,
            activities=data.draw(st.permutations(s.activities)),
            links=data.draw(st.permutations(s.links)),
        )
        for s in snaps
    ]
    assert [plain(w) for w in read(snaps)] == [plain(w) for w in read(shuffled)]


def plain(w):
    steps = [replace(s, gates=tuple(sorted(s.gates, key=lambda g: g.code))) for s in w.steps]
    return replace(w, steps=tuple(steps))


@settings(max_examples=60, deadline=None)
@given(histories(most=3))
def test_asking_for_windows_leaves_the_snapshots_as_they_were(snaps):
    plans = [taken(s.rows(), s.date) for s in snaps]
    first = [window(a, b) for a, b in itertools.pairwise(plans)]
    assert first == [window(a, b) for a, b in itertools.pairwise(plans)]


def plan_at(date, activities, links=(), **cells):
    """A snapshot of hand-made rows; every day works unless calendars are given."""
    project = Project(start=START, status_date=date)
    return taken(
        {"project": [project], "activities": activities, "links": list(links), **cells}, date
    )


def act(code, duration, start=None, finish=None, **cells):
    """An activity with actual dates as days from the start."""
    at = [None if n is None else START + n * ONE for n in (start, finish)]
    return Activity(
        code=code, kind="work", duration=duration, actual_start=at[0], actual_finish=at[1], **cells
    )


def test_of_two_activities_whose_turn_it_is_the_earlier_event_is_put_in_first():
    """Z finished on day 3, A on day 5; both take two days too long, and the first one put in moves
    the opening.
    """
    links = [Link(from_="A", to="END", type="FS"), Link(from_="Z", to="END", type="FS")]
    before = [act("A", 3, 0), act("Z", 3, 0), act("END", 1)]
    after = [act("A", 3, 0, 6), act("Z", 3, 0, 4), act("END", 1)]
    old = plan_at(START + 0 * ONE, before, links)
    found = window(old, plan_at(START + 6 * ONE, after, links))
    assert [(s.code, s.days, s.own_lateness) for s in found.steps] == [("Z", 2, 2), ("A", 2, 4)]
    assert [s.days_alone for s in found.steps] == [2, 4]
    assert found.concurrent


def test_a_later_start_that_wins_its_finish_back_still_moves_what_waits_for_the_start():
    links = [Link(from_="A", to="B", type="SS", lag=1)]
    old = plan_at(START, [act("A", 6), act("B", 9)], links)
    late = plan_at(START + 3 * ONE, [act("A", 6, 3, remaining=3), act("B", 9)], links)
    found = window(old, late)
    assert [(s.code, s.days, s.own_lateness) for s in found.steps] == [("A", 2, 0)]


def test_revisions_of_one_kind_come_by_code_and_links_by_successor_then_predecessor():
    plain = [act("A", 1), act("B", 4), act("C", 1), act("D", 2)]
    old = plan_at(START, plain)
    links = [
        Link(from_="C", to="B", type="FS"),
        Link(from_="A", to="D", type="FS"),
        Link(from_="A", to="B", type="FS"),
    ]
    found = window(
        old, plan_at(START, [replace(a, duration=a.duration + 1) for a in reversed(plain)], links)
    )
    assert [(r.kind, r.code, r.what, r.days) for r in found.revisions] == [
        ("links added or changed", "B", "waits for A (FS)", 1),
        ("links added or changed", "B", "waits for C (FS)", 0),
        ("links added or changed", "D", "waits for A (FS)", 0),
        ("durations", "A", "1 to 2 working days", 1),
        ("durations", "B", "4 to 5 working days", 1),
        ("durations", "C", "1 to 2 working days", 0),
        ("durations", "D", "2 to 3 working days", 0),
    ]


def test_an_activity_taken_out_keeps_its_progress_through_the_half_step():
    links = [Link(from_="A", to="B", type="FS")]
    old = plan_at(START, [act("A", 5, 0, remaining=4), act("B", 2)], links)
    found = window(old, plan_at(START + 3 * ONE, [act("B", 2)]))
    assert (found.progress_days, found.revision_days) == (3, -4)
    assert [(s.code, s.days) for s in found.steps] == [("A", 3)]
    assert [(r.kind, r.code, r.days) for r in found.revisions] == [
        ("activities taken out", "A", -4)
    ]


def test_a_calendar_is_one_revision_with_the_reason_of_its_first_changed_day_that_has_one():
    week = [Calendar(code="ALL", weekdays=NAMES)]
    days = [
        CalendarDay(calendar="ALL", date=START + n * ONE, works=False, because=because)
        for n, because in ((5, "D-9"), (2, ""), (3, "D-2"))
    ]
    old = plan_at(START, [act("A", 9)], calendars=week, calendar_days=[])
    (found,) = window(
        old, plan_at(START, [act("A", 9)], calendars=week, calendar_days=days)
    ).revisions
    assert (found.kind, found.code, found.because, found.days, found.meeting) == (
        "calendars",
        "ALL",
        "D-2",
        3,
        False,
    )


def test_a_first_calendar_that_comes_in_front_is_a_change_of_each_activity_without_one():
    five, six = CALENDARS[0], CALENDARS[1]
    old = plan_at(START, [act("A", 6), act("B", 6, calendar="SIX")], calendars=[six])
    new = plan_at(START, [act("A", 6), act("B", 6, calendar="SIX")], calendars=[five, six])
    (found,) = window(old, new).revisions
    assert (found.kind, found.code, found.what, found.days) == (
        "calendars",
        "A",
        "calendar SIX to FIVE",
        1,
    )


def test_a_first_working_calendar_at_all_moves_what_stood_on_every_day():
    old = plan_at(START, [act("A", 6)])
    (found,) = window(old, plan_at(START, [act("A", 6)], calendars=[CALENDARS[0]])).revisions
    assert (found.kind, found.code, found.what, found.days) == (
        "calendars",
        "A",
        "calendar of all days to FIVE",
        2,
    )


def test_a_filing_is_plain_while_its_hearing_is_not_on_the_meeting_calendar_yet():
    """Link and calendar of a hearing come in one window: the link first, then the calendar with the
    wait for the meeting.
    """
    rows = [act("FILE", 3), act("HEAR", 1)]
    old = plan_at(START, rows, [Link(from_="FILE", to="HEAR", type="FS")], calendars=CALENDARS)
    cut = [Link(from_="FILE", to="HEAR", type="FS", lag_unit="cutoff")]
    heard = [act("FILE", 3), act("HEAR", 1, calendar="BODY")]
    found = window(old, plan_at(START, heard, cut, calendars=CALENDARS))
    assert [(r.kind, r.code) for r in found.revisions] == [
        ("links added or changed", "HEAR"),
        ("calendars", "HEAR"),
    ]
    assert [r.days for r in found.revisions] == [0, found.revision_days] and found.revision_days > 0


def test_the_opening_named_anew_and_the_project_start_have_the_code_of_the_project():
    rows = [act("A", 3), act("B", 9)]
    old = taken({"project": [Project(start=START, opening="A")], "activities": rows}, START)
    new = taken(
        {"project": [Project(start=START + 9 * ONE, opening="B")], "activities": rows}, START
    )
    assert [(r.kind, r.code, r.days, r.activity) for r in window(old, new).revisions] == [
        ("dates asked", "-", 6, False),
        ("dates asked", "-", 8, False),
    ]


def test_a_date_typed_far_off_does_not_upset_the_days():
    """An actual start of ten years ago lies before any horizon; it is put in like any other."""
    old = plan_at(START, [act("A", 3), act("B", 2)], [Link(from_="A", to="B", type="FS")])
    new = plan_at(
        START + 2 * ONE, [act("A", 3, -3650, 2), act("B", 2)], [Link(from_="A", to="B", type="FS")]
    )
    found = window(old, new)
    assert (found.progress_days, [s.own_lateness for s in found.steps]) == (-1, [-1])


def test_work_that_takes_years_longer_runs_past_the_horizon_and_is_counted_all_the_same():
    links = [Link(from_="A", to="B", type="FS")]
    old = plan_at(START, [act("A", 3, 0, remaining=3), act("B", 2)], links)
    found = window(old, plan_at(START + ONE, [act("A", 3, 0, remaining=9000), act("B", 2)], links))
    assert found.progress_days == 8998
    assert [(s.own_lateness, s.days_alone) for s in found.steps] == [(8998, 8998)]


@settings(max_examples=60, deadline=None)
@given(st.data(), histories(most=2))
def test_many_durations_and_dates_at_once_are_those_of_an_analysis_by_hand(data, snaps):
    old = snaps[0]
    durations = st.integers(1, 12)
    dates = st.sampled_from([None, None, START + 20 * ONE, START + 45 * ONE, START - 9 * ONE])
    rows = [
        replace(
            a,
            not_before=data.draw(dates),
            duration=data.draw(durations) if a.duration and a.calendar != "BODY" else a.duration,
        )
        for a in old.activities
    ]
    new = replace(old, activities=rows, date=old.date + data.draw(st.integers(1, 9)) * ONE)
    (found,) = read([old, new])
    reached, told = windows_by_hand.revisions(replace(old, date=new.date), new)
    assert [(r.kind, r.code, r.days) for r in found.revisions] == told
    assert reached == windows_by_hand.opening_of(new, windows_by_hand.search(new))


def test_work_that_becomes_a_milestone_among_other_durations_is_counted_for_itself():
    chain = [Link(from_="A", to="B", type="FS"), Link(from_="B", to="C", type="FS")]
    old = plan_at(START, [act("A", 3), act("B", 4), act("C", 2)], chain)
    new = plan_at(START, [act("A", 5), act("B", 0), act("C", 3)], chain)
    assert [(r.code, r.days) for r in window(old, new).revisions] == [("A", 2), ("B", -4), ("C", 1)]
    back = window(new, old)
    assert [(r.code, r.days) for r in back.revisions] == [("A", -2), ("B", 4), ("C", -1)]


def test_calendar_changes_of_activities_and_of_calendars_come_by_code_among_each_other():
    five, six = CALENDARS[0], CALENDARS[1]
    rows = [act(code, 6, calendar="FIVE") for code in ("A", "Z")]
    moved = [replace(a, calendar="SIX") for a in rows]
    off = [CalendarDay(calendar="SIX", date=START + 3 * ONE, works=False)]
    old = plan_at(START, rows, calendars=[five, six])
    found = window(old, plan_at(START, moved, calendars=[five, six], calendar_days=off)).revisions
    assert [(r.kind, r.code, r.activity) for r in found] == [
        ("calendars", "A", True),
        ("calendars", "SIX", False),
        ("calendars", "Z", True),
    ]
    assert sum(r.days for r in found) == -1 + 1


def test_an_actual_date_after_its_status_date_moves_that_forward_and_all_still_adds_up():
    """A snapshot made elsewhere: work that ended four days after the date on which it was
    closed.
    """
    links = [Link(from_="A", to="B", type="FS")]
    old = plan_at(START, [act("A", 2), act("B", 3), act("C", 1)], links)
    new = plan_at(START + ONE, [act("A", 2, 1, 5), act("B", 3), act("C", 1)], links)
    found = window(old, new)
    assert (found.progress_days, found.revision_days, found.revisions) == (3, 0, ())
    assert sum(s.days for s in found.steps) == 3
