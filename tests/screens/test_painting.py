"""What is painted in parts is what Textual would paint as a whole."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from textual._compositor import Compositor
from textual.geometry import Region

from tests.screens.conftest import Opened
from tracker.screens.table import painting
from tracker.screens.table.painting import NearCompositor
from tracker.screens.table.rows_table import RowsTable


def lines_of(desk: Any, kind: type[Compositor]) -> list[str]:
    """The screen with its styles, put together by one of the two; nothing kept from before
    is used.
    """
    screen = desk.app.screen
    mine = screen._compositor
    try:
        screen._compositor.__class__ = kind
        for widget in screen.walk_children(with_self=True):
            widget._styles_cache.clear()
        return [strip.render(desk.app.console) for strip in screen._compositor.render_strips()]
    finally:
        screen._compositor = mine
        mine.__class__ = NearCompositor


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
@pytest.mark.parametrize(
    "view", ["morning", "path", "cost", "rezoning", "permits", "trades", "changes", "draws", "slip"]
)
async def test_every_view_looks_as_textual_paints_it(
    opened: Opened, sample: Any, view: str, size: tuple[int, int]
) -> None:
    async with opened(size, on=sample, view=view) as desk:
        assert isinstance(desk.app.screen._compositor, NearCompositor)
        assert lines_of(desk, NearCompositor) == lines_of(desk, Compositor)
        await desk.press("question_mark")
        assert lines_of(desk, NearCompositor) == lines_of(desk, Compositor)


async def test_a_cursor_that_moves_paints_its_two_rows_and_no_other(
    opened: Opened, sample: Any
) -> None:
    """Written to the terminal: the two rows, before the key is over; what stays on the screen is
    the whole picture.
    """
    async with opened((120, 40), on=sample, view="path") as desk:
        table = desk.app.screen.view.table
        table.go_to(3)
        await desk.settle()
        asked: list[int] = []
        drawn = table.render_line
        table.render_line = lambda y: asked.append(y) or drawn(y)
        table.go_to(4)
        assert len(asked) == 2 and asked[1] == asked[0] + 1
        del table.render_line
        assert lines_of(desk, NearCompositor) == lines_of(desk, Compositor)


async def test_under_a_dialog_the_rows_wait_to_be_painted(opened: Opened, sample: Any) -> None:
    async with opened((120, 40), on=sample, view="path") as desk:
        table = desk.app.screen.view.query_one(RowsTable)
        await desk.press("w")
        before = desk.text
        table.go_to(table.cursor + 1)
        assert desk.text == before
        await desk.press("escape")
        row = next(line for line in desk.text.split("\n") if line.lstrip().startswith("›"))
        assert str(table.key) in row


def stand_in(gone: str) -> tuple[Any, list[Region]]:
    """A widget on a screen, as much of them as painting at once asks for, without one name; and
    what was asked to be painted by Textual itself.
    """
    refreshed: list[Region] = []
    app = SimpleNamespace(_batch_count=0)
    compositor = NearCompositor()
    screen = SimpleNamespace(
        **dict.fromkeys(painting.OF_THE_SCREEN, False), app=app, is_current=True
    )
    screen._compositor = compositor
    widget: Any = SimpleNamespace(
        screen=screen,
        refresh=lambda *regions: refreshed.extend(regions),
        _set_dirty=lambda *regions: None,
    )
    for owner in (screen, app, widget):
        if hasattr(owner, gone):
            delattr(owner, gone)
    return widget, refreshed


@pytest.mark.parametrize("gone", [*painting.OF_THE_SCREEN, "_batch_count", "_set_dirty"])
def test_where_textual_lost_a_name_it_paints_by_itself(gone: str) -> None:
    widget, refreshed = stand_in(gone)
    assert not painting.fits(widget)
    painting.paint_now(widget, [Region(0, 1, 5, 1)])
    assert refreshed == [Region(0, 1, 5, 1)]
    assert painting.fits(stand_in("no name that is asked")[0])


async def test_rows_are_painted_by_textual_itself_too(
    opened: Opened, sample: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(painting, "OF_THE_SCREEN", (*painting.OF_THE_SCREEN, "_of_another_version"))
    async with opened((120, 40), on=sample, view="path") as desk:
        assert not painting.fits(desk.app.screen.view.table)
        await desk.press("down", "down")
        assert lines_of(desk, NearCompositor) == lines_of(desk, Compositor)
