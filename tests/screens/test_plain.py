"""Text from people never acts on the terminal, and takes exactly the cells that it is given."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from tracker.screens.table.plain import cut, fit, plain, plain_lines, plain_text
from tracker.values.problems import is_unsafe


@given(st.text())
def test_no_control_or_bidirectional_character_passes(text: str) -> None:
    assert not any(is_unsafe(ch) for ch in plain_text(text))
    assert not any(is_unsafe(ch) for ch in plain(text).plain)
    assert not any(is_unsafe(ch) for ch in plain_lines(text).plain if ch != "\n")


def test_markup_is_shown_as_it_is() -> None:
    assert plain("paid [retainage] [red]5 %[/foo]").plain == "paid [retainage] [red]5 %[/foo]"


@given(st.text(max_size=30), st.integers(0, 40), st.booleans())
def test_a_fitted_text_takes_exactly_its_cells(text: str, cells: int, right: bool) -> None:
    assert cell_len(fit(text, cells, right)) == cells


def test_wide_characters_are_cut_by_cells() -> None:
    assert cut("漢字漢字", 5) == "漢字…"
    assert fit("漢", 4, right=True) == "  漢"
    assert cut("short", 10) == "short"
