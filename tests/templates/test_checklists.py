"""The checklists of the conversions: who decides, what proves it, what it rests on."""

from __future__ import annotations

import dataclasses

import networkx as nx
import pytest

from tests.every import every
from tests.templates.reading_them import CONVERSIONS, network, project
from tracker.approvals.applies import clauses, considered
from tracker.approvals.checklist import loop, stops_purchase
from tracker.approvals.study import inputs as study_inputs

pytestmark = pytest.mark.parametrize("name", CONVERSIONS)


def test_there_are_at_least_sixty_items(name: str) -> None:
    assert len(project(name)["checklist"]) >= 60


def test_every_item_says_why_what_proves_it_who_decides_and_what_it_rests_on(name: str) -> None:
    for item in project(name)["checklist"]:
        assert item.governs, item.code
        assert item.source, item.code
        why, proof = item.why.split(" Proof: ")
        assert why, item.code
        assert proof, item.code


def test_nothing_is_proven_in_a_template(name: str) -> None:
    for item in project(name)["checklist"]:
        assert item.state == "open", item.code
        assert not item.evidence, item.code
        assert item.due is None, item.code


def test_a_source_names_a_law_or_says_that_there_is_none(name: str) -> None:
    """A section or a published rule that was read, "from memory", or "common practice, no
    source".
    """
    said = ("(read", " read", "from memory", "common practice, no source")
    for item in project(name)["checklist"]:
        assert any(words in item.source for words in said), item.code


def test_items_wait_on_each_other_without_a_loop_and_titles_differ(name: str) -> None:
    items = project(name)["checklist"]
    assert loop({item.code: item.waits_on for item in items}) == ()
    assert len({item.title for item in items}) == len(items)


def test_an_item_waits_on_none_whose_gate_comes_later(name: str) -> None:
    graph = network(name)
    gate = {item.code: item.activity for item in project(name)["checklist"]}
    for item in project(name)["checklist"]:
        for before in item.waits_on:
            if item.activity and gate[before] and gate[before] != item.activity:
                assert nx.has_path(graph, gate[before], item.activity), (item.code, before)


def test_items_open_gates_and_not_work(name: str) -> None:
    kinds = {a.code: a.kind for a in project(name)["activities"]}
    opened = {item.activity for item in project(name)["checklist"] if item.activity}
    assert {kinds[code] for code in opened} <= {"gate", "milestone"}
    assert {
        "hear-commission",
        "building-permit",
        "asbestos-notice",
        "certificate",
        "locate",
    } <= opened


def test_the_first_question_comes_first_and_before_the_purchase(name: str) -> None:
    first = project(name)["checklist"][0]
    assert "own contractor" in first.title
    assert first.activity == "owner-question"
    assert stops_purchase(first)
    assert project(name)["answers"][0].question == "owner_contractor"
    assert project(name)["answers"][0].answer == ""


def test_only_what_comes_before_the_purchase_stops_it(name: str) -> None:
    stopping = {item.stage for item in project(name)["checklist"] if stops_purchase(item)}
    assert stopping == {"before you buy"}


def test_conditions_ask_what_the_template_asks(name: str) -> None:
    """Every question of a condition stands among the template's answers, or is one that the code
    study asks.
    """
    asked = {answer.question for answer in project(name)["answers"]} | set(study_inputs.BY_CODE)
    conditional = [item for item in project(name)["checklist"] if item.applies_when]
    assert len(conditional) >= 12
    for item in conditional:
        for clause in clauses(item.applies_when):
            assert clause.question in asked, item.code


def test_a_new_project_keeps_every_item_until_its_questions_are_answered(name: str) -> None:
    assert {item.state for item in considered(project(name))} == {"open"}


def test_the_answers_of_a_plain_case_leave_out_what_does_not_concern_it(name: str) -> None:
    said = dict.fromkeys(
        ("food", "well", "septic", "vehicles", "historic", "state_road", "upholstered_goods"), "no"
    )
    said |= {
        "overlay": "none",
        "chemicals": "none",
        "flood_zone": "outside",
        "disturbed_acres": "0",
        "map_change": "no",
    }
    answers = [
        dataclasses.replace(a, answer=said.get(a.question, a.answer))
        for a in project(name)["answers"]
    ]
    left_out = [
        item
        for item in considered({**project(name), "answers": answers})
        if item.state == "not needed"
    ]
    assert {
        "ZON-03",
        "ZON-06",
        "ZON-12",
        "APP-03",
        "CON-03",
        "COO-04",
        "PER-30",
        "PER-31",
        "PER-32",
        "PER-33",
    } <= {item.code for item in left_out}
    assert every(item.reason.startswith("by the answers: ") for item in left_out)
    assert len(project(name)["checklist"]) - len(left_out) >= 60
