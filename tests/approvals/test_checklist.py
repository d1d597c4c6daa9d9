"""The checklist: claims need proof, items wait on items, loops are refused, gates open last."""

from __future__ import annotations

import datetime as dt
from itertools import pairwise
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.approvals.checklist import loop, next_items, stages, standings
from tracker.approvals.faults import faults
from tracker.approvals.records import ChecklistItem
from tracker.schedule.records import Activity
from tracker.values.project import AttachedFile

TODAY = dt.date(2027, 3, 5)


def item(code: str, *waits: str, stage: str = "application", **values: Any) -> ChecklistItem:
    return ChecklistItem(code=code, stage=stage, title=f"Item {code}", waits_on=waits, **values)


def rows(*items: ChecklistItem, **tables: Any) -> dict[str, Any]:
    return {"checklist": items, **tables}


def whats(tables: dict[str, Any]) -> list[str]:
    return [problem.what for problem in faults(tables)]


def test_proven_without_evidence_is_a_fault() -> None:
    assert whats(rows(item("A", state="proven"))) == ["proven needs evidence"]
    assert whats(rows(item("A", state="proven", evidence="  "))) == ["proven needs evidence"]


def test_words_or_an_attached_file_prove_an_item() -> None:
    assert whats(rows(item("A", state="proven", evidence="letter 12, 2027-02-01"))) == []
    paper = AttachedFile(code="F", table="checklist", key="A", path="letter.pdf")
    other = AttachedFile(code="F", table="checklist", key="B", path="letter.pdf")
    assert whats(rows(item("A", state="proven"), files=(paper,))) == []
    assert whats(rows(item("A", state="proven"), files=(other,))) == ["proven needs evidence"]


def test_not_needed_without_a_reason_is_a_fault() -> None:
    assert whats(rows(item("A", state="not needed"))) == ["not needed needs a reason"]
    assert whats(rows(item("A", state="not needed", reason="no septic tank here"))) == []


def test_a_loop_is_refused_and_named_in_order() -> None:
    found = faults(rows(item("X"), item("A", "B"), item("B", "C"), item("C", "A")))
    assert len(found) == 1
    assert found[0].what == "items wait on each other in a loop: A waits on B waits on C waits on A"


def test_an_item_that_waits_on_itself_is_a_loop() -> None:
    assert loop({"A": ("A",)}) == ("A", "A")


@settings(deadline=None)
@given(st.dictionaries(st.integers(0, 7), st.lists(st.integers(0, 7), max_size=3), max_size=8))
def test_a_loop_is_found_exactly_where_the_graph_has_one(waits: dict[int, list[int]]) -> None:
    import networkx as nx

    graph = nx.DiGraph()
    graph.add_nodes_from(waits)
    graph.add_edges_from((a, b) for a, after in waits.items() for b in after if b in waits)
    named = {str(a): tuple(str(b) for b in after) for a, after in waits.items()}
    found = loop(named)
    assert bool(found) is not nx.is_directed_acyclic_graph(graph)
    if found:
        assert found[0] == found[-1]
        assert all(b in named[a] for a, b in pairwise(found))


def test_an_item_says_what_it_waits_on_until_that_is_proven_or_not_needed() -> None:
    first = item("A", state="asked")
    waiting = standings(rows(first, item("B", "A")), TODAY)[1]
    assert waiting.waits == ("A",)
    assert waiting.waits_text == "waits on A Item A (asked)"
    gone = item("A", state="not needed", reason="no flood zone")
    assert standings(rows(gone, item("B", "A")), TODAY)[1].waits == ()


def test_progress_counts_proven_and_not_needed_by_stage_in_row_order() -> None:
    items = (
        item("A", stage="before you buy", state="proven", evidence="x"),
        item("B", stage="hearings"),
        item("C", stage="before you buy", state="not needed", reason="x"),
        item("D", stage="before you buy", state="in hand"),
    )
    assert [(s.stage, s.done, s.of) for s in stages(items)] == [
        ("before you buy", 2, 3),
        ("hearings", 0, 1),
    ]


def test_next_is_what_waits_on_nothing_before_you_buy_first_then_the_earliest_to_begin() -> None:
    tables = rows(
        item("LATE", due=dt.date(2027, 6, 1), lead_days=10),
        item("SOON", due=dt.date(2027, 6, 1), lead_days=60),
        item("WAITS", "LATE", due=dt.date(2027, 3, 6)),
        item("BUY", stage="before you buy"),
        item("DONE", state="proven", evidence="x"),
    )
    assert [s.item.code for s in next_items(standings(tables, TODAY))] == ["BUY", "SOON", "LATE"]


def test_marks_tell_overdue_asked_soon_and_done() -> None:
    tables = rows(
        item("A", due=TODAY - dt.timedelta(days=1)),
        item("B", state="asked"),
        item("C", due=TODAY + dt.timedelta(days=30), lead_days=16),
        item("D", due=TODAY + dt.timedelta(days=30), lead_days=15),
        item("E", state="proven", evidence="x", due=TODAY - dt.timedelta(days=1)),
    )
    assert [s.mark for s in standings(tables, TODAY)] == ["!", "?", "~", " ", "="]


def test_without_a_due_day_an_item_is_wanted_by_its_gate() -> None:
    gate = dt.date(2027, 5, 1)
    found = standings(rows(item("A", activity="HEAR", lead_days=30)), TODAY, {"HEAR": gate})[0]
    assert (found.wanted_by, found.begin_by) == (gate, dt.date(2027, 4, 1))


def test_a_gate_is_not_done_before_its_items_are_proven() -> None:
    day = dt.date(2027, 3, 1)
    gate = Activity(code="HEAR", kind="gate", actual_start=day, actual_finish=day)
    found = faults(rows(item("A", activity="HEAR"), activities=(gate,)))
    assert [(p.table, p.key, p.column) for p in found] == [("activities", "HEAR", "actual_finish")]
    assert "A" in found[0].what
    assert (
        faults(rows(item("A", activity="HEAR", state="proven", evidence="x"), activities=(gate,)))
        == []
    )
    assert (
        faults(
            rows(
                item("A", activity="HEAR"),
                activities=(Activity(code="HEAR", kind="gate", actual_start=day),),
            )
        )
        == []
    )
