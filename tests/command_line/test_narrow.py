"""What is printed in a narrow terminal: words stay whole, and nothing is left out."""

from __future__ import annotations

import datetime as dt
import re
from pathlib import Path
from typing import Any

import pytest

from tests.conftest import copied
from tracker.command_line import terminal
from tracker.command_line.page_text import sheets_of
from tracker.command_line.sheets import Col, Sheet
from tracker.pages.registry import BY_CODE
from tracker.project_file.store import open_file

TODAY = dt.date(2026, 7, 18)
WORD = re.compile(r"[A-Za-z]+")


@pytest.fixture(scope="module")
def sample(sample_made: Path, tmp_path_factory: pytest.TempPathFactory) -> Any:
    """The sample project's file."""
    path = copied(sample_made, tmp_path_factory.mktemp("narrow") / "s.db")
    with open_file(path) as project:
        yield project


def printed(sheets: list[Sheet], width: int, monkeypatch: Any, capsys: Any) -> str:
    """What sheets look like in a terminal of this width."""
    monkeypatch.setenv("COLUMNS", str(width))
    terminal.show("Title", sheets, ["A caution."])
    out: str = capsys.readouterr().out
    return out


@pytest.mark.parametrize("width", [40, 44, 50, 58, 80])
@pytest.mark.parametrize(
    "view",
    ["path", "permits", "trades", "changes", "draws", "papers", "health", "rezoning", "study"],
)
def test_no_word_is_broken_and_none_is_left_out(
    sample: Any,
    view: str,
    width: int,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """The same words as in a terminal that is wide enough for everything, on lines that fit."""
    asked = BY_CODE[view]
    sheets = sheets_of(asked.page(asked.ask(sample, TODAY)))
    wide = printed(sheets, 1_000, monkeypatch, capsys)
    narrow = printed(sheets, width, monkeypatch, capsys)
    assert max(len(line) for line in narrow.split("\n")) <= width
    titles = {
        word for sheet in sheets for column in sheet.columns for word in WORD.findall(column.title)
    }
    assert set(WORD.findall(narrow)) <= set(WORD.findall(wide))
    assert set(WORD.findall(wide)) - set(WORD.findall(narrow)) <= titles


def test_a_row_that_does_not_fit_stands_as_a_block_with_titles(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    columns = (
        Col("", keep=True),
        Col("paper"),
        Col("state", keep=True),
        Col("through", keep=True),
        Col("days left", right=True),
    )
    sheet = Sheet(
        "",
        columns,
        (
            ("~", "Certificate of insurance", "ends soon", "2027-03-05", "12"),
            (" ", "License", "holds", "", ""),
        ),
    )
    assert printed([sheet], 40, monkeypatch, capsys).split("\n")[2:6] == [
        "~ Certificate of insurance",
        "  state ends soon · through 2027-03-05 ·",
        "  days left 12                          ",
        "License",
    ]
    assert any(
        line.split() == ["paper", "state", "through", "days", "left"]
        for line in printed([sheet], 80, monkeypatch, capsys).split("\n")
    )
