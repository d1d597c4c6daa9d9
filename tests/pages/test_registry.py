"""Every view of the register can be asked for, read as text and shown, and its prints are there."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest

from tracker.actions.sample import sample_project
from tracker.command_line.page_text import sheets_of
from tracker.pages.registry import BY_CODE, VIEWS
from tracker.project_file.store import ProjectFile, open_file
from tracker.reports.printing import KINDS
from tracker.tables import BY_NAME

TODAY = dt.date(2026, 7, 17)


@pytest.fixture(scope="module")
def rink(tmp_path_factory: pytest.TempPathFactory) -> Iterator[ProjectFile]:
    """The sample project."""
    path: Path = sample_project(tmp_path_factory.mktemp("sample")).path
    with open_file(path) as project:
        yield project


@pytest.mark.parametrize("code", list(BY_CODE))
def test_a_view_has_an_answer_and_a_page_that_says_something(rink: ProjectFile, code: str) -> None:
    view = BY_CODE[code]
    page = view.page(view.read(rink, TODAY))
    assert page.code == code
    assert page.headline and all(page.headline)
    codes = [part.code for part in page.parts]
    assert codes and len(codes) == len(set(codes))
    for part in page.parts:
        assert {len(row.cells) for row in part.rows} <= {len(part.columns)}
        assert {len(cells) for cells in part.foot} <= {len(part.columns)}
    assert any(sheet.rows for sheet in sheets_of(page))


def test_tables_and_prints_of_views_are_there_and_each_stands_somewhere() -> None:
    assert {table for view in VIEWS for table in view.tables} == set(BY_NAME)
    assert {name for view in VIEWS for name in view.prints} == set(KINDS)
    assert len(BY_CODE) == len(VIEWS)
