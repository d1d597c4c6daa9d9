"""Questions filter the checklist: what does not apply by the answers counts as not needed and says
why.
"""

from __future__ import annotations

import datetime as dt
import re
from contextlib import suppress
from time import perf_counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.answers.rezoning import from_rows
from tracker.approvals.applies import NUMBER, Clause, applies, clauses, considered
from tracker.approvals.faults import faults
from tracker.approvals.records import Answer, ChecklistItem
from tracker.schedule.records import Activity

TODAY = dt.date(2027, 3, 5)


def item(condition: str, **more: str) -> ChecklistItem:
    return ChecklistItem(code="x", title="The item", applies_when=condition, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("condition", "answers", "wanted"),
    [
        ("", {}, True),
        ("state_road = yes", {"state_road": "yes"}, True),
        ("state_road = yes", {"state_road": "No"}, False),
        ("state_road = yes", {}, None),
        ("state_road = yes", {"state_road": "ask"}, None),
        ("flood_zone != outside", {"flood_zone": "AE"}, True),
        ("flood_zone != outside", {"flood_zone": "outside"}, False),
        ("year_built < 1978", {"year_built": "1977"}, True),
        ("year_built < 1978", {"year_built": "1978"}, False),
        ("year_built < 1978", {"year_built": "before the war"}, None),
        ("disturbed_acres >= 1", {"disturbed_acres": "0.99"}, False),
        ("undivided_sf > 50000", {"undivided_sf": "50,001"}, True),
        ("undivided_sf <= 50,000", {"undivided_sf": "50000 sq ft"}, True),
        ("food = yes or septic = yes", {"food": "no", "septic": "yes"}, True),
        ("food = yes or septic = yes", {"food": "no"}, None),
        ("food = yes or septic = yes", {"food": "no", "septic": "no"}, False),
    ],
)
def test_a_condition_holds_fails_or_waits_for_its_answer(
    condition: str, answers: dict[str, str], wanted: bool | None
) -> None:
    assert applies(item(condition), answers) is wanted


def test_an_open_item_that_does_not_apply_is_not_needed_and_names_the_answers() -> None:
    rows = {
        "checklist": [item("food = yes or well = yes")],
        "answers": [said("food", "no"), said("well", "no")],
    }
    (found,) = considered(rows)
    assert (found.state, found.reason) == ("not needed", "by the answers: food is no, well is no")


@pytest.mark.parametrize("state", ["asked", "in hand", "proven", "not needed"])
def test_what_the_owner_has_begun_or_settled_stays_as_it_is(state: str) -> None:
    own = item("food = yes", state=state, reason="so said the clerk", evidence="letter")
    assert considered({"checklist": [own], "answers": [said("food", "no")]}) == (own,)


def said(question: str, answer: str) -> Answer:
    return Answer(question=question, answer=answer)


def test_an_item_that_does_not_apply_holds_no_gate_and_nobody_waits_on_it() -> None:
    rows = {
        "checklist": [
            item("food = yes", activity="gate"),
            ChecklistItem(code="y", waits_on=("x",)),
        ],
        "activities": [
            Activity(code="gate", kind="gate", duration=1, actual_start=TODAY, actual_finish=TODAY)
        ],
        "answers": [said("food", "no")],
    }
    assert [p for p in faults(rows) if p.table == "activities"] == []
    answer = from_rows(rows, TODAY)
    assert answer.gates_held == {}
    assert answer.next_items == ("y",)
    assert [(one.done, one.of) for one in answer.stages] == [(1, 2)]
    assert [one.applies for one in answer.items] == [False, True]
    needed = {**rows, "answers": [said("food", "yes")]}
    assert [p.column for p in faults(needed) if p.table == "activities"] == ["actual_finish"]


@pytest.mark.parametrize(
    "condition", ["food", "food == yes", "= yes", "acres > many", "food = yes or"]
)
def test_a_condition_that_cannot_be_read_is_a_fault(condition: str) -> None:
    wrong = item(condition)
    assert [(p.table, p.column) for p in faults({"checklist": (wrong,)})] == [
        ("checklist", "applies_when")
    ]
    assert applies(wrong, {}) is None


WORDS = ("or", " or ", "or ", "  ", "\n", "a", "a = b", "=", "!= ", "<", "3", "b", "x.y", " ")


@given(st.lists(st.sampled_from(WORDS), max_size=12).map("".join))
def test_a_condition_is_read_as_one_pattern_would_read_it(text: str) -> None:
    """The plain reading, which takes long where many blanks stand in a row."""
    clause = re.compile(r"\s*([A-Za-z0-9._-]{1,40})\s*(!=|<=|>=|=|<|>)\s*([^=<>!\s].*?)\s*")
    wanted: list[Clause] | None = []
    for part in re.split(r"\s+or(?:\s+|$)", text.strip()) if text.strip() else ():
        match = clause.fullmatch(part)
        if match is None or (match[2] not in ("=", "!=") and not NUMBER.fullmatch(match[3])):
            wanted = None
            break
        wanted.append(Clause(*match.groups()))
    try:
        found = list(clauses(text))
    except ValueError:
        assert wanted is None
    else:
        assert found == wanted


@pytest.mark.parametrize("letters", [" ", "\n", "a", "a ", "or ", " or", "=", "a = b or ", "a=b  "])
def test_a_condition_that_is_too_long_is_refused_in_one_short_sentence_at_once(
    letters: str,
) -> None:
    condition = ("a = b" + letters * 20_000)[:20_000]
    (problem,) = faults({"checklist": (item(condition),)})
    assert problem.what == "is longer than a condition of 2,000 characters"
    assert len(problem.sentence()) < 300
    assert applies(item(condition), {}) is None


def test_words_that_are_no_condition_are_shown_shortened() -> None:
    (problem,) = faults({"checklist": (item("no condition " * 150),)})
    assert problem.what.startswith("is no condition like state_road = yes ('no condition")
    assert len(problem.sentence()) < 300


def test_reading_a_condition_takes_time_in_proportion_to_its_length(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Ten times as many blanks in a row; a hundred times the work would be a hundred times the
    time.
    """
    monkeypatch.setattr("tracker.approvals.applies.LONGEST", 10**9)

    def taken(count: int) -> float:
        begun = perf_counter()
        for text in (f"a = b{' ' * count}!", f"a = b{' ' * count}or c = d", "a = b or " * count):
            with suppress(ValueError):
                clauses(text)
        return perf_counter() - begun

    assert min(taken(200_000) for _ in range(3)) < 40 * min(taken(20_000) for _ in range(3))
