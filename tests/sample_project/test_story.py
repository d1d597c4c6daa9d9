"""What the sample project tells: its size, its failures, the words given, the changes, the slip."""

from __future__ import annotations

import itertools
from collections import Counter
from typing import Any

from tests.every import every
from tests.sample_project.conftest import STATUS_DATE
from tracker.project_folder.content import FolderContent
from tracker.project_folder.snapshot_text import rows_of
from tracker.schedule.path.plan import compute
from tracker.values.kinds import WEEKDAYS

Rows = dict[str, tuple[Any, ...]]


def test_it_is_as_large_as_a_conversion_of_this_kind(rows: Rows) -> None:
    assert sum(space.gross_sf for space in rows["spaces"]) == 18_400
    assert sum(1 for space in rows["spaces"] if space.units) == 14
    assert 70 <= len(rows["activities"]) <= 82
    assert len({a.trade for a in rows["activities"] if a.trade}) == 14
    sizes = {
        table: len(rows[table])
        for table in ("packages", "contracts", "changes", "permits", "inspections", "words_given")
    }
    assert sizes == {
        "packages": 9,
        "contracts": 10,
        "changes": 8,
        "permits": 6,
        "inspections": 24,
        "words_given": 30,
    }
    assert len(rows["deliveries"]) == 2
    assert len(rows["checklist"]) >= 60


def test_every_package_has_two_to_four_bids_and_awards_are_contracts(rows: Rows) -> None:
    bids = Counter(bid.package for bid in rows["bids"])
    assert set(bids) == {package.code for package in rows["packages"]} and set(bids.values()) <= {
        2,
        3,
        4,
    }
    awarded = {(b.package, b.contractor, b.amount) for b in rows["bids"] if b.state == "awarded"}
    assert awarded == {(c.package, c.contractor, c.sum) for c in rows["contracts"] if c.package}


def test_three_inspections_failed_and_each_made_work_and_another_inspection(rows: Rows) -> None:
    failed = [i for i in rows["inspections"] if i.state == "failed"]
    assert len(failed) == 3
    for inspection in failed:
        assert any(item.inspection == inspection.code for item in rows["inspection_items"])
        because = [a for a in rows["activities"] if a.because == inspection.code]
        assert sorted(a.kind for a in because) == ["gate", "work"]
        again = next(a.code for a in because if a.kind == "gate")
        assert any(i.activity == again for i in rows["inspections"])
        assert any(
            d.cause == "failed inspection" and inspection.code in d.evidence for d in rows["delays"]
        )


def test_inspections_took_place_on_the_day_of_their_gate(rows: Rows) -> None:
    finish = {a.code: a.actual_finish for a in rows["activities"]}
    for inspection in rows["inspections"]:
        if inspection.state in ("passed", "failed"):
            assert inspection.date == finish[inspection.activity], inspection.code
        else:
            assert finish[inspection.activity] is None, inspection.code


def test_nothing_was_covered_before_it_had_passed(rows: Rows) -> None:
    """The first inspection failed or passed; the work that covers it began after the last one on
    the same thing.
    """
    start = {a.code: a.actual_start for a in rows["activities"]}
    for inspection in rows["inspections"]:
        for covered in inspection.covers:
            assert start[covered] is None or inspection.date < start[covered], inspection.code


def test_a_third_of_the_words_given_was_not_kept_and_all_agree_with_what_happened(
    rows: Rows,
) -> None:
    activities = {a.code: a for a in rows["activities"]}
    late = 0
    for word in rows["words_given"]:
        a = activities[word.activity]
        assert word.came_on == (a.actual_start if word.kind == "confirm" else a.actual_finish), (
            word.code
        )
        late += word.came_on is not None and word.came_on > word.for_date
    assert late == 10


def test_the_hearing_was_continued_once_and_the_gates_opened_on_the_days_of_the_votes(
    rows: Rows,
) -> None:
    assert [h.code for h in rows["hearings"] if h.outcome == "continued"] == ["Z-26-03A"]
    finish = {a.code: a.actual_finish for a in rows["activities"]}
    votes = {h.activity: h.hearing_on for h in rows["hearings"] if h.outcome.startswith("approved")}
    assert votes and all(finish[activity] == day for activity, day in votes.items())
    continued = next(h for h in rows["hearings"] if h.outcome == "continued")
    assert continued.continued_to == votes[continued.activity]


def test_work_began_and_ended_on_days_that_work(rows: Rows) -> None:
    """Looked up in the tables by weekday and single day, without the schedule's calendars."""
    weekdays = {c.code: c.weekdays for c in rows["calendars"] if not c.recurrence}
    single = {
        (day.calendar, day.date): day.works
        for day in rows["calendar_days"]
        if day.works is not None
    }
    for a in rows["activities"]:
        for day in (a.actual_start, a.actual_finish):
            if day is not None and a.kind != "milestone" and a.calendar in weekdays:
                usual = WEEKDAYS[day.weekday()] in weekdays[a.calendar]
                assert single.get((a.calendar, day), usual), (a.code, day)


def test_nothing_is_known_of_days_after_the_status_date(rows: Rows) -> None:
    assert rows["project"][0].status_date == STATUS_DATE
    for a in rows["activities"]:
        assert all(day is None or day <= STATUS_DATE for day in (a.actual_start, a.actual_finish))
    assert every(p.date <= STATUS_DATE for p in rows["payments"])
    assert every(day.date <= STATUS_DATE for day in rows["site_log"])


def test_no_work_stands_before_its_turn(rows: Rows) -> None:
    assert [w.text for w in compute(rows).warnings] == []


def test_the_opening_slips_nine_weeks_over_eleven_fortnights(
    rows: Rows, content: FolderContent
) -> None:
    heads = [content.snapshots[day][0] for day in sorted(content.snapshots)]
    assert len(heads) == 11 and [head.baseline for head in heads] == [True] + [False] * 10
    assert {(b.date - a.date).days for a, b in itertools.pairwise(heads)} == {14}
    assert heads[-1].date == STATUS_DATE
    assert heads[0].opening == rows["project"][0].promised_opening
    assert (heads[-1].opening - heads[0].opening).days == 63
    assert compute(rows).opening == heads[-1].opening


def test_each_snapshot_computes_to_the_opening_that_it_says(content: FolderContent) -> None:
    for head, texts in content.snapshots.values():
        assert compute(rows_of(texts)).opening == head.opening, head.date


def test_the_last_snapshot_is_the_plan_of_today(rows: Rows, content: FolderContent) -> None:
    then = rows_of(content.snapshots[STATUS_DATE][1])
    assert then["links"] == rows["links"]
    assert [a.code for a in then["activities"]] == [a.code for a in rows["activities"]]
    assert (
        then["change_lines"] == rows["change_lines"]
        and then["application_lines"] == rows["application_lines"]
    )


def test_an_approved_change_is_in_the_plan_and_in_the_budget(rows: Rows) -> None:
    because = {a.because for a in rows["activities"]}
    for change in rows["changes"]:
        if change.state != "approved":
            continue
        price = sum(line.amount for line in rows["change_lines"] if line.change == change.number)
        moved = [m for m in rows["budget_moves"] if change.number in m.reason]
        assert [m.amount for m in moved] == [abs(price)], change.number
        assert not change.days or change.number in because, change.number


def test_a_contractor_has_a_paper_that_runs_out_before_the_work(rows: Rows) -> None:
    plan = compute(rows).by_code()
    license_ = next(p for p in rows["papers"] if p.contractor == "mechanic" and p.kind == "license")
    assert STATUS_DATE < license_.to < plan["MROUGH"].early_start
