"""The small faults that `python -m tests.mutants` puts into a room."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from tests import mutants
from tests.mutants import ROOT, chosen, mutants_of, nearest_first

TEXT = '''
def of(a: int, b: str = "x-y") -> int | None:
    """Not 1 of these is changed."""
    if not a or a < 7:
        return None
    return a + 1
'''


def test_each_place_is_changed_by_itself() -> None:
    found = list(mutants_of(Path("m.py"), TEXT))
    assert sorted((one.line, one.what) for one in found) == [
        (4, "7 becomes 8"),
        (4, "Lt becomes Gt"),
        (4, "Lt becomes LtE"),
        (4, "not is dropped"),
        (4, "or becomes and"),
        (6, "+ becomes -"),
        (6, "1 becomes 2"),
        (6, "returns None"),
    ]
    plain = ast.unparse(ast.parse(TEXT))
    sources = [one.source(TEXT) for one in found]
    assert len({plain, *sources}) == len(found) + 1
    assert [one.source(TEXT) for one in found if one.what == "Lt becomes LtE"] == [
        plain.replace("a < 7", "a <= 7")
    ]
    for source in sources:
        differs = zip(plain.splitlines(), source.splitlines(), strict=True)
        assert sum(a != b for a, b in differs) == 1


def test_a_dropped_not_asks_the_opposite() -> None:
    (dropped,) = [o for o in mutants_of(Path("m.py"), TEXT) if o.what == "not is dropped"]
    space: dict[str, object] = {}
    exec(dropped.source(TEXT), space)
    of = space["of"]
    assert callable(of) and of(9) is None and of(0) is None
    plain: dict[str, object] = {}
    exec(TEXT, plain)
    assert callable(plain["of"]) and plain["of"](9) == 10


def test_a_seed_gives_the_same_sample() -> None:
    some, count = chosen("trades", 5, 3)
    assert len(some) == 5 < count
    assert (some, count) == chosen("trades", 5, 3)
    assert some != chosen("trades", 5, 4)[0]


@pytest.mark.parametrize("room", ["money", "approvals", "schedule/path", "schedule/cutoffs.py"])
def test_a_room_is_asked_by_its_own_tests_and_those_against_published_values(room: str) -> None:
    found = mutants.tests_of(room)
    assert found[0] == f"tests/{room.split('/')[0]}"
    assert len(found) > 1 and all((ROOT / one).exists() for one in found)
    first = nearest_first(Path("tracker/schedule/cutoffs.py"), mutants.tests_of("schedule"), ROOT)[
        0
    ]
    assert "tracker.schedule.cutoffs" in (ROOT / first).read_text(encoding="utf-8")
