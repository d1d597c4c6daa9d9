"""Slip: the sums, the cost to the cent, what a revision is because of, snapshots that were changed
or left out.
"""

import datetime as dt
import json
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.schedule.strategies import START
from tests.schedule.test_slip_windows import delay_events, histories
from tracker.answers import slip, slip_reading
from tracker.answers.as_json import as_json
from tracker.approvals.records import Inspection
from tracker.money.records import Change, Contract
from tracker.project_file.snapshots import content_hash
from tracker.project_folder.places import folder
from tracker.project_folder.reading import read
from tracker.project_folder.snapshot_text import texts_of
from tracker.schedule.records import (
    Activity,
    Calendar,
    CalendarDay,
    Delay,
    Link,
    Snapshot,
    StepCost,
)
from tracker.tables.empty_cells import filled_rows
from tracker.trades.records import Contractor, WordGiven
from tracker.values.problems import ProblemError
from tracker.values.project import Project

ONE = dt.timedelta(days=1)
TODAY = dt.date(2027, 12, 31)


def closed(rows, date, **head):
    """A snapshot of these rows: its head and its texts."""
    texts = texts_of(rows)
    return (
        Snapshot(
            date=date,
            hash=content_hash(texts),
            cost_of_a_day=head.pop("cost_of_a_day", 10_000),
            **head,
        ),
        texts,
    )


def asked(snapshots, today=TODAY, **tables):
    """The answer from snapshots as closed() makes them."""
    rows = {"project": (Project(),), **tables, "snapshots": tuple(head for head, _ in snapshots)}
    return slip.from_rows(rows, today, {head.date: texts for head, texts in snapshots})


def plan(*activities, links=(), **more):
    return {
        "project": (Project(start=START),),
        "activities": activities,
        "links": tuple(links),
        **more,
    }


def work(code="A", duration=10, **cells):
    return Activity(code=code, name=f"Work {code}", duration=duration, **{"kind": "work", **cells})


@pytest.fixture(scope="module")
def sample():
    content = read(folder("sample_project"))
    rows = filled_rows(content.rows)
    rows["snapshots"] = tuple(content.snapshots[day][0] for day in sorted(content.snapshots))
    return slip.from_rows(
        rows, dt.date(2026, 7, 18), {day: texts for day, (_, texts) in content.snapshots.items()}
    )


def adds_up(answer):
    """Every breakdown comes to the slip and to its cost."""
    beside = (answer.not_explained, answer.made_up)
    for parts in (answer.causes, answer.parties):
        assert sum(p.days for p in (*parts, *beside)) == answer.slip_days
        assert sum(p.cost_cents for p in (*parts, *beside)) == answer.cost_cents
    for parts in (answer.windows, answer.by_activity):
        assert sum(p.days for p in parts) == answer.slip_days
        assert sum(p.cost_cents for p in parts) == answer.cost_cents
    for w in answer.windows:
        assert sum(a.days for a in w.activities) == w.progress_days
        assert sum(r.days for r in w.revisions) == w.revision_days
        assert all(sum(r.days for r in a.reasons) == a.days for a in w.activities)


def test_the_sample_is_nine_weeks_late_for_a_delivery_and_a_continued_hearing(sample):
    assert (sample.baseline_opening, sample.now_opening) == (
        dt.date(2026, 9, 14),
        dt.date(2026, 11, 16),
    )
    assert sample.slip_days == 63
    assert [(c.cause, c.days) for c in sample.causes] == [
        ("late delivery", 29),
        ("waiting on authority", 26),
        ("change", 4),
        ("other", 4),
        ("hidden condition", 1),
    ]
    assert [(p.party, p.days, p.concurrent_days) for p in sample.parties] == [
        ("supplier", 29, 21),
        ("authority", 26, 0),
        ("nobody", 5, 0),
        ("utility", 4, 0),
    ]
    assert (sample.not_explained.days, sample.made_up.days) == (0, -1)
    assert sample.most_activities[:2] == ("SWGEAR", "CPC")
    assert sample.warnings == ()
    adds_up(sample)


def test_the_sample_passes_the_end_of_the_storage_rent_in_its_last_window(sample):
    assert [(s.code, s.amount_cents, s.window) for s in sample.step_costs] == [
        ("STORE-RENT", 240_000, dt.date(2026, 7, 17))
    ]
    assert sum(d.amount_cents for d in sample.direct_costs) == 171_000


def test_the_sample_teaches_about_gates_trades_and_words(sample):
    waits = {w.kind: w for w in sample.lessons.waits}
    assert (waits["hearing"].code, waits["hearing"].longest) == ("CPC", 89)
    assert (waits["delivery"].code, waits["delivery"].still_waiting) == ("SWGEAR", 2)
    carpentry = next(t for t in sample.lessons.durations if t.trade == "Carpentry")
    assert carpentry.taken > carpentry.planned and carpentry.count == 4
    assert sample.lessons.came_on_the_day[0].contractor == "carpenter"


@settings(max_examples=60, deadline=None)
@given(st.data(), histories(), st.lists(st.integers(0, 99_999), min_size=4, max_size=4))
def test_any_history_adds_up_to_the_day_and_to_the_cent(data, snaps, rates):
    kept = [
        closed(s.rows(), s.date, cost_of_a_day=rate) for s, rate in zip(snaps, rates, strict=False)
    ]
    answer = asked(kept, delays=tuple(data.draw(delay_events(snaps))))
    adds_up(answer)
    assert json.dumps(as_json(answer))
    assert answer.cost_cents == sum(
        w.days * rate for w, rate in zip(answer.windows, rates[1:], strict=False)
    )


def test_each_window_costs_what_a_day_cost_at_its_end():
    kept = [
        closed(plan(work()), START, cost_of_a_day=1),
        closed(plan(work(duration=13)), START + ONE, cost_of_a_day=61_741),
        closed(plan(work(duration=12)), START + 2 * ONE, cost_of_a_day=70_000),
    ]
    answer = asked(kept)
    assert [(w.days, w.cost_cents) for w in answer.windows] == [(3 + 1, 4 * 61_741), (-1 + 1, 0)]
    adds_up(answer)


def test_it_begins_at_the_latest_baseline_else_at_the_first_snapshot():
    rows = [plan(work(duration=10 + n)) for n in range(4)]
    days = [START + n * ONE for n in range(4)]
    assert asked([closed(r, d) for r, d in zip(rows, days, strict=True)]).from_ == days[0]
    marked = [
        closed(r, d, baseline=n in (1, 2)) for n, (r, d) in enumerate(zip(rows, days, strict=True))
    ]
    answer = asked(marked)
    assert (answer.from_, len(answer.windows)) == (days[2], 1)


def test_the_slip_is_that_of_all_snapshots_whatever_day_it_is():
    kept = [closed(plan(work(duration=10 + n)), START + n * ONE) for n in range(3)]
    assert asked(kept, START - 900 * ONE).windows == asked(kept).windows != ()


def test_without_a_snapshot_there_is_nothing_to_measure_and_with_one_no_window():
    empty = asked([])
    assert (empty.from_, empty.slip_days, empty.windows, empty.causes) == (None, 0, (), ())
    one = asked([closed(plan(work()), START)])
    assert one.baseline_opening == one.now_opening is not None
    assert one.windows == () and one.slip_days == 0


def test_a_snapshot_that_was_changed_is_told_and_still_measured():
    kept = [closed(plan(work(duration=10 + n)), START + n * ONE) for n in range(2)]
    texts = {**kept[1][1], "activities.csv": kept[1][1]["activities.csv"].replace(",11,", ",12,")}
    answer = asked([kept[0], (kept[1][0], texts)])
    assert [(w.kind, w.key) for w in answer.warnings] == [
        ("snapshot_changed", (START + ONE).isoformat())
    ]
    assert answer.windows[0].revision_days == 2


def test_a_snapshot_that_was_noted_with_another_opening_is_told():
    kept = [closed(plan(work()), START, opening=dt.date(2026, 1, 1))]
    assert [w.kind for w in asked(kept).warnings] == ["snapshot_opening"]


def test_a_window_whose_snapshot_has_no_cost_of_a_day_is_told():
    kept = [
        closed(plan(work(duration=10 + n)), START + n * ONE, cost_of_a_day=None) for n in range(2)
    ]
    answer = asked(kept)
    assert [(w.kind, w.key) for w in answer.warnings] == [
        ("snapshot_without_cost", (START + ONE).isoformat())
    ]
    assert (answer.slip_days, answer.cost_cents) == (2, 0)


def test_a_snapshot_without_activities_is_left_out_and_told():
    kept = [
        closed(plan(work()), START),
        closed(plan(), START + ONE),
        closed(plan(work(duration=11)), START + 2 * ONE),
    ]
    answer = asked(kept)
    assert [(w.from_, w.to) for w in answer.windows] == [(START, START + 2 * ONE)]
    assert [w.kind for w in answer.warnings] == ["snapshot_empty"]


def test_a_snapshot_that_cannot_be_read_is_named():
    kept = [closed(plan(work()), START)]
    texts = {"activities.csv": "code,duration\nA,soon\n"}
    with pytest.raises(ProblemError, match=START.isoformat()):
        asked([(kept[0][0], texts)])


@pytest.mark.parametrize(
    "tables",
    [
        {"activities.csv": "code,duration\nA,1\n", "links.csv": "from,to\nA,GONE\n"},
        {"activities.csv": "code,duration,calendar\nA,1,GONE\n"},
        {
            "activities.csv": "code,duration,calendar\nA,1,BODY\n",
            "calendars.csv": "code,recurrence,cutoff_calendar\nBODY,FREQ=DAILY,GONE\n",
        },
    ],
)
def test_a_snapshot_made_elsewhere_that_names_what_it_lacks_is_refused_in_words(tables):
    head = Snapshot(date=START, hash="")
    with pytest.raises(ProblemError, match=f"{START.isoformat()}.*GONE"):
        asked([(head, tables)])


def test_a_window_that_cannot_be_computed_is_named():
    """The body met for the last time before the hearing was held: with the progress alone there is
    no meeting left.
    """
    body = Calendar(code="BODY", recurrence="FREQ=WEEKLY;BYDAY=TU;COUNT=3", recurrence_from=START)
    more = replace(body, recurrence="FREQ=WEEKLY;BYDAY=TU")
    hearing = Activity(code="H", kind="gate", duration=1, calendar="BODY")
    later = START + 40 * ONE
    kept = [
        closed(plan(hearing, calendars=(body,)), START),
        closed(plan(hearing, calendars=(more,)), later),
    ]
    with pytest.raises(
        ProblemError, match=f"from {START.isoformat()} to {later.isoformat()}.*BODY"
    ):
        asked(kept)


def test_a_window_is_computed_once_and_anew_only_where_its_snapshots_differ(monkeypatch):
    kept = [closed(plan(work(duration=10 + n)), START + n * ONE) for n in range(4)]
    slip_reading.forget()
    seen = []
    real = slip_reading.window
    monkeypatch.setattr(slip_reading, "window", lambda a, b: seen.append(b.date) or real(a, b))
    first = asked(kept[:3])
    assert first.windows == asked(kept).windows[:2]
    assert seen == [START + n * ONE for n in (1, 2, 3)]


def test_each_window_is_announced_before_it_is_computed_and_can_be_stopped():
    class Stop(Exception):
        """Enough."""

    kept = [closed(plan(work(duration=20 + n)), START + n * ONE) for n in range(5)]
    rows = {"project": (Project(),), "snapshots": tuple(head for head, _ in kept)}
    seen = []

    def watch(done, of):
        seen.append((done, of))
        if done == 2:
            raise Stop

    with pytest.raises(Stop):
        slip.from_rows(rows, TODAY, {head.date: texts for head, texts in kept}, watch)
    assert seen == [(0, 4), (1, 4), (2, 4)]


def revised(because, **tables):
    """The one revision of a window in which an activity got longer because of something."""
    kept = [
        closed(plan(work(contract="C1")), START),
        closed(plan(work(duration=14, contract="C1", because=because)), START + ONE),
    ]
    (one,) = (
        asked(kept, activities=(work(contract="C1"), work("I", kind="gate")), **tables)
        .windows[0]
        .revisions
    )
    return one.cause, one.party, one.event


DELAY = Delay(code="D1", activity="A", first=START, days=0, cause="late delivery", party="supplier")
CONTRACTS = (Contract(code="C1", contractor="roofer"), Contract(code="C2", contractor="framer"))


def test_a_revision_has_the_cause_of_its_delay_event_change_or_inspection():
    assert revised("D1", delays=(DELAY,)) == ("late delivery", "supplier", "D1")
    assert revised("CH", changes=(Change(number="CH", asked_by="authority"),)) == (
        "change",
        "authority",
        "CH",
    )
    assert revised("CH", changes=(Change(number="CH"),)) == ("change", "owner", "CH")
    inspection = Inspection(code="IN", activity="A")
    assert revised("IN", inspections=(inspection,), contracts=CONTRACTS) == (
        "failed inspection",
        "contractor:roofer",
        "IN",
    )
    assert revised("gone", delays=(DELAY,)) == ("plan revised", "owner", "")
    assert revised("") == ("plan revised", "owner", "")


def test_delays_come_before_changes_and_changes_before_inspections():
    both = {
        "changes": (Change(number="D1", asked_by="authority"),),
        "inspections": (Inspection(code="D1"),),
    }
    assert revised("D1", delays=(DELAY,), **both)[0] == "late delivery"
    assert revised("D1", **both)[0] == "change"


def test_a_failed_inspection_is_the_contractors_whose_work_it_looked_at():
    """The gate has no contract of its own; the work before it has."""
    gate = work("I", kind="gate")
    rows = {
        "activities": (work("A", contract="C2"), gate, work("RE", kind="gate", because="IN")),
        "links": (Link(from_="A", to="I"), Link(from_="I", to="RE")),
        "inspections": (Inspection(code="IN", activity="I"),),
        "contracts": CONTRACTS,
    }
    kept = [
        closed(plan(work("A", contract="C2"), gate, links=rows["links"][:1]), START),
        closed(plan(*rows["activities"], links=rows["links"]), START + ONE),
    ]
    found = asked(kept, **rows).windows[0].revisions
    assert [(r.kind, r.code, r.party) for r in found] == [
        ("activities added", "RE", "contractor:framer")
    ]
    nobody = asked(kept, **{**rows, "contracts": ()}).windows[0].revisions
    assert [r.party for r in nobody] == ["nobody"]


def test_a_meeting_calendar_that_changes_without_a_reason_waits_for_its_authority():
    body = Calendar(
        code="BODY", recurrence="FREQ=MONTHLY;BYDAY=1TU", recurrence_from=dt.date(2026, 1, 1)
    )
    hearing = Activity(code="H", kind="gate", duration=1, calendar="BODY")
    off = CalendarDay(calendar="BODY", date=dt.date(2026, 3, 3), works=False)
    kept = [
        closed(plan(hearing, calendars=(body,)), START - 5 * ONE),
        closed(plan(hearing, calendars=(body,), calendar_days=(off,)), START - 4 * ONE),
    ]
    (one,) = asked(kept).windows[0].revisions
    assert (one.days, one.cause, one.party) == (35, "waiting on authority", "authority")


def test_step_costs_are_listed_where_they_were_passed_and_given_back():
    step = StepCost(code="S", date=START + 15 * ONE, amount=50_000, reason="lease")
    rows = [plan(work(duration=n), step_costs=(step,)) for n in (10, 20, 10)]
    answer = asked([closed(r, START + n * ONE) for n, r in enumerate(rows)])
    assert [(s.amount_cents, s.window) for s in answer.step_costs] == [
        (50_000, START + ONE),
        (-50_000, START + 2 * ONE),
    ]
    adds_up(answer)
    assert answer.cost_cents == sum(w.days for w in answer.windows) * 10_000


def test_a_party_carries_the_words_it_gave_and_kept_since_the_first_snapshot():
    late = replace(work(), actual_start=START, actual_finish=START + 12 * ONE)
    kept = [closed(plan(work()), START - ONE), closed(plan(late), START + 12 * ONE)]
    event = Delay(
        code="D1", activity="A", first=START, days=3, cause="no-show", party="contractor:roofer"
    )
    said = [
        WordGiven(code="W1", contractor="roofer", for_date=START, came_on=START),
        WordGiven(code="W2", contractor="roofer", for_date=START + ONE, came_on=START + 2 * ONE),
        WordGiven(code="W3", contractor="roofer", for_date=START - 30 * ONE, came_on=START),
        WordGiven(code="W4", contractor="other", for_date=START, came_on=START),
    ]
    answer = asked(
        kept,
        delays=(event,),
        contractors=(Contractor(code="roofer", name="Roof & Sons"),),
        words_given=tuple(said),
    )
    (party,) = answer.parties
    assert (party.name, party.days, party.words_given, party.words_kept) == ("Roof & Sons", 3, 2, 1)
    assert answer.lessons.came_on_the_day[0].due == 3


def test_the_cautions_say_that_it_is_an_account_and_that_each_window_has_its_own_rate(sample):
    assert "no opinion on who owes what" in sample.cautions[0] and "attorney" in sample.cautions[0]
    assert any("own cost of a day" in text for text in sample.cautions)
    assert any("concurrent" in text for text in sample.cautions)
