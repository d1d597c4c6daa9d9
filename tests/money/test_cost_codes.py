"""Standard codes for a budget: their titles where a name is left blank, and the owner's own codes
as they are.
"""

from __future__ import annotations

from tracker.money.cost_codes import UNIFORMAT
from tracker.money.records import CostLine
from tracker.tables.empty_cells import filled
from tracker.values.records import new


def test_the_22_groups_of_level_2() -> None:
    """UNIFORMAT II, NISTIR 6389 (NIST 1999): seven major groups A to G, 22 groups under them
    (read).
    """
    assert len(UNIFORMAT) == 22
    assert sorted({code[0] for code in UNIFORMAT}) == list("ABCDEFG")
    assert list(UNIFORMAT) == sorted(UNIFORMAT)
    assert (UNIFORMAT["A10"], UNIFORMAT["B30"], UNIFORMAT["D50"]) == (
        "Foundations",
        "Roofing",
        "Electrical",
    )


def test_a_standard_code_without_a_name_takes_its_title_and_an_own_code_itself() -> None:
    assert filled(new(CostLine, code="D20")).name == "Plumbing"
    assert filled(new(CostLine, code="D20", name="Pipes")).name == "Pipes"
    assert filled(new(CostLine, code="pipes")).name == "pipes"
