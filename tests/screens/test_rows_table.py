"""A table that draws only what is in sight."""

from __future__ import annotations

from textual.app import App, ComposeResult

from tracker.screens.table.rows_table import Col, Piece, RowsTable

ODD = "[red]x[/foo]\x1b[31m\u202e漢字👷"
COLUMNS = [Col("code", width=8), Col("name", width=20), Col("sum", width=12, right=True)]


class Bench(App[None]):
    """A table alone on the screen."""

    def compose(self) -> ComposeResult:
        """The table."""
        yield RowsTable(offers=("open",))

    @property
    def table(self) -> RowsTable:
        """The table."""
        return self.query_one(RowsTable)

    def lines(self) -> list[str]:
        """What stands on the screen."""
        return [
            "".join(part.text for part in strip)
            for strip in self.screen._compositor.render_strips()
        ]


def rows(count: int) -> list[tuple[str, str, str]]:
    return [(f"a{i}", f"name {i}", f"{i:,}.00") for i in range(count)]


async def test_head_and_foot_stay_while_rows_scroll() -> None:
    app = Bench()
    async with app.run_test(size=(60, 12)) as pilot:
        app.table.fill(COLUMNS, rows(5_000), foot=[("", "total", "9.00")])
        app.table.focus()
        await pilot.press("end")
        await pilot.pause()
        lines = app.lines()
        assert "code" in lines[0] and "sum" in lines[0]
        assert "total" in lines[-1]
        assert "›a4999" in lines[-2]
        await pilot.press("home", "down", "pagedown")
        await pilot.pause()
        assert app.table.cursor == 11
        assert any(line.startswith("›a11") for line in app.lines())


async def test_only_changed_lines_are_painted_when_the_cursor_moves() -> None:
    app = Bench()
    async with app.run_test(size=(60, 12)) as pilot:
        app.table.fill(COLUMNS, rows(5_000))
        app.table.focus()
        await pilot.pause()
        drawn: list[int] = []
        draw = app.table.render_line

        def counted(y: int):  # type: ignore[no-untyped-def]
            drawn.append(y)
            return draw(y)

        app.table.render_line = counted  # type: ignore[method-assign]
        await pilot.press("down")
        await pilot.pause()
        assert set(drawn) == {1, 2}


async def test_numbers_stand_right_and_wide_text_keeps_the_columns() -> None:
    app = Bench()
    async with app.run_test(size=(60, 6)) as pilot:
        app.table.fill(
            COLUMNS, [("b", ODD, "1.00"), ("c", "plain", "-22.00"), ("d", "漢" * 30, "3.00")]
        )
        await pilot.pause()
        lines = app.lines()
        assert "\x1b" not in "".join(lines) and "\u202e" not in "".join(lines)
        assert "[red]x[/foo]" in lines[1]
        from rich.cells import cell_len

        ends = [
            cell_len(line[: line.index(number) + len(number)])
            for line, number in zip(lines[1:4], ("1.00", "-22.00", "3.00"), strict=True)
        ]
        assert len(set(ends)) == 1
        assert "…" in lines[3]


async def test_the_first_columns_stay_when_it_scrolls_sideways() -> None:
    app = Bench()
    async with app.run_test(size=(24, 6)) as pilot:
        app.table.fill(COLUMNS, rows(3))
        app.table.focus()
        await pilot.press("right", "right", "right")
        await pilot.pause()
        assert app.lines()[1].startswith("›a0")
        assert "0.00" in app.lines()[1]
        assert "name 0" not in app.lines()[1]


async def test_the_cursor_finds_its_row_again() -> None:
    app = Bench()
    async with app.run_test(size=(60, 12)) as pilot:
        app.table.fill(COLUMNS, rows(9), keys=[f"a{i}" for i in range(9)])
        app.table.go_to(4)
        app.table.fill(COLUMNS, rows(9)[2:], keys=[f"a{i}" for i in range(2, 9)])
        await pilot.pause()
        assert app.table.key == "a4"


async def test_groups_stand_above_their_columns() -> None:
    app = Bench()
    async with app.run_test(size=(60, 6)) as pilot:
        columns = [
            Col("code", width=8),
            Col("signed", width=10, group="Will cost"),
            Col("asked", width=10, group="Will cost"),
        ]
        app.table.fill(columns, [("a", "1", "2")])
        await pilot.pause()
        assert app.lines()[0].strip().startswith("Will cost")
        assert app.lines()[1].split() == ["code", "signed", "asked"]


async def test_pieces_of_a_cell_are_cut_together() -> None:
    app = Bench()
    async with app.run_test(size=(60, 6)) as pilot:
        app.table.fill(
            [Col("bar", width=6), Col("x", width=2)],
            [([Piece("▇▇", "muted"), Piece("━━━━━━━━", "accent")], "z")],
        )
        await pilot.pause()
        assert "▇▇━━" in app.lines()[1] and "z" in app.lines()[1]
        assert len(app.lines()[1].split("z")[0]) == 8


async def test_an_empty_table_takes_every_key() -> None:
    app = Bench()
    async with app.run_test(size=(20, 4)) as pilot:
        app.table.fill(COLUMNS, [])
        app.table.focus()
        await pilot.press("down", "up", "end", "home", "pagedown", "enter", "left", "right")
        await pilot.resize_terminal(3, 2)
        await pilot.pause()
        assert app.table.key is None


async def test_a_figure_is_never_shown_in_part() -> None:
    """1,234.00 must not look like 1,2; words that go on out of sight end in dots, and the head says
    that more comes.
    """
    app = Bench()
    async with app.run_test(size=(36, 12)) as pilot:
        app.table.fill(
            COLUMNS, [("a", "name", "1,234,567.00"), ("b", "a name that is long", "0.50")]
        )
        await pilot.pause()
        assert [line.rstrip() for line in app.lines()[:3]] == [
            " code     name                     »",
            "›a        name",
            " b        a name that is long",
        ]
        app.table.action_sideways(1)
        await pilot.pause()
        assert "1,234,567.00" in app.lines()[1] and "»" not in app.lines()[0]
    async with Bench().run_test(size=(20, 12)) as pilot:
        table = pilot.app.query_one(RowsTable)
        table.fill(COLUMNS, [("a", "name", "1.00"), ("b", "a name that is long", "0.50")])
        await pilot.pause()
        lines = [
            "".join(part.text for part in strip)
            for strip in pilot.app.screen._compositor.render_strips()
        ]
        assert lines[2] == " b        a name th…"
