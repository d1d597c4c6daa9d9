"""Forms take what people type, say why they refuse, and never lose it."""

from __future__ import annotations

from typing import Any

from textual import events
from textual.widgets import Input, Select

from tests.screens.conftest import ODD, Opened
from tracker.actions.rows import save
from tracker.screens.entry.dialogs import Question
from tracker.screens.entry.fields import CleanInput, Field
from tracker.screens.entry.form import RowForm
from tracker.tables import TABLES
from tracker.values.kinds import Text
from tracker.values.records import columns_of, table_of


def field(desk: Any, name: str) -> Field:
    return next(one for one in desk.app.screen.query(Field) if one.column.name == name)


async def test_a_new_row_is_shown_back_in_full_and_kept(opened: Opened, project: Any) -> None:
    async with opened() as desk:
        await desk.press("5")
        desk.app.screen.action_tables("permits")
        await desk.settle()
        await desk.press("a")
        await desk.type("p-2")
        await desk.press("tab")
        await desk.type("plumbing")
        field(desk, "expires").control.focus()
        await desk.type("+5")
        assert "→ Mon 08 Mar 2027" in desk.text
        await desk.press("ctrl+s")
        assert not isinstance(desk.app.screen, RowForm)
        assert "plumbing" in desk.text
        permit = next(row for row in project.tables()["permits"] if row.code == "p-2")
        assert permit.expires.isoformat() == "2027-03-08"


async def test_bad_values_are_refused_beside_their_field(opened: Opened, project: Any) -> None:
    async with opened() as desk:
        desk.app.open_form("cost_lines", "B10")
        await desk.settle()
        field(desk, "budget").put("12,50")
        await desk.settle()
        assert "comma that does not separate thousands" in field(desk, "budget").reason
        await desk.press("ctrl+s")
        assert isinstance(desk.app.screen, RowForm)
        assert "Not kept: please look at budget again." in desk.text
        assert field(desk, "budget").typed == "12,50"
        field(desk, "budget").put("12.5k")
        await desk.settle()
        assert "→ $12,500.00" in desk.text
        await desk.press("ctrl+s")
        assert project.tables()["cost_lines"][0].budget == 1_250_000


async def test_a_code_must_exist_and_is_suggested_and_chosen(opened: Opened, project: Any) -> None:
    async with opened((110, 30)) as desk:
        desk.app.open_form("papers")
        await desk.settle()
        field(desk, "contractor").put("nobody-here")
        await desk.settle()
        assert "no such row in contractors" in field(desk, "contractor").reason
        field(desk, "contractor").put("acme-frame")
        await desk.settle()
        assert "→ Framers of Bay Lane" in desk.text
        field(desk, "contractor").put("")
        field(desk, "contractor").control.focus()
        await desk.type("ac")
        await desk.press("right")
        assert field(desk, "contractor").typed == "acme-frame"
        await desk.press("f2")
        await desk.type("bolt")
        await desk.press("enter")
        assert field(desk, "contractor").typed == "bolt"


async def test_a_problem_of_the_whole_project_stands_beside_its_field(
    opened: Opened, project: Any
) -> None:
    async with opened() as desk:
        desk.app.open_form("links")
        await desk.settle()
        field(desk, "from").put("board")
        field(desk, "to").put("frame")
        await desk.settle()
        await desk.press("ctrl+s")
        assert isinstance(desk.app.screen, RowForm)
        assert "Not kept" in desk.text
        assert field(desk, "from").typed == "board"
        assert len(project.tables()["links"]) == 1


async def test_escape_asks_before_typed_text_is_lost(opened: Opened) -> None:
    async with opened() as desk:
        desk.app.open_form("contractors")
        await desk.settle()
        await desk.press("escape")
        assert not isinstance(desk.app.screen, RowForm)
        desk.app.open_form("contractors")
        await desk.settle()
        await desk.type("new-one")
        await desk.press("escape")
        assert isinstance(desk.app.screen, Question)
        await desk.press("escape")
        assert isinstance(desk.app.screen, RowForm)
        assert field(desk, "code").typed == "new-one"
        await desk.press("ctrl+q")
        assert isinstance(desk.app.screen, Question)
        await desk.press("n", "escape", "y")
        assert not isinstance(desk.app.screen, RowForm)


async def test_a_row_that_somebody_else_changed_shows_both_versions(
    opened: Opened, project: Any
) -> None:
    async with opened() as desk:
        desk.app.open_form("contractors", "acme-frame")
        await desk.settle()
        field(desk, "phone").put("555 0100")
        save(project, "contractors", "acme-frame", {"phone": "555 0199"})
        await desk.press("ctrl+s")
        assert isinstance(desk.app.screen, Question)
        assert "555 0199" in desk.text and "555 0100" in desk.text
        await desk.press("n")
        assert field(desk, "phone").typed == "555 0100"
        assert project.tables()["contractors"][0].phone == "555 0199"
        await desk.press("ctrl+s", "y")
        assert project.tables()["contractors"][0].phone == "555 0100"


async def test_cells_that_only_one_of_two_changed_are_kept_without_a_question(
    opened: Opened, project: Any
) -> None:
    async with opened() as desk:
        desk.app.open_form("contractors", "acme-frame")
        await desk.settle()
        field(desk, "phone").put("555 0100")
        save(project, "contractors", "acme-frame", {"trade": "theirs"})
        await desk.press("ctrl+s")
        assert not isinstance(desk.app.screen, Question | RowForm)
        kept = project.tables()["contractors"][0]
        assert (kept.phone, kept.trade) == ("555 0100", "theirs")


async def test_the_question_names_only_the_cells_that_both_changed(
    opened: Opened, project: Any
) -> None:
    async with opened() as desk:
        desk.app.open_form("contractors", "acme-frame")
        await desk.settle()
        field(desk, "phone").put("555 0100")
        field(desk, "name").put("Mine alone")
        save(project, "contractors", "acme-frame", {"phone": "555 0199", "trade": "theirs alone"})
        await desk.press("ctrl+s")
        assert isinstance(desk.app.screen, Question)
        assert "555 0199" in desk.app.screen.question and "555 0100" in desk.app.screen.question
        assert "alone" not in desk.app.screen.question
        await desk.press("y")
        kept = project.tables()["contractors"][0]
        assert (kept.phone, kept.name, kept.trade) == ("555 0100", "Mine alone", "theirs alone")


async def test_text_of_people_is_only_text_and_survives_the_form(
    opened: Opened, project: Any
) -> None:
    async with opened() as desk:
        await desk.press("6", "down", "enter")
        assert "\x1b" not in desk.text and "\u202e" not in desk.text
        assert "[red]Bay[/foo]" in desk.text
        field(desk, "phone").put("1")
        await desk.press("ctrl+s")
        assert project.tables()["contractors"][1].name == ODD
        await desk.press("h", "enter")
        assert "\x1b" not in desk.text


async def test_choices_are_chosen_from_a_list(opened: Opened, project: Any) -> None:
    async with opened() as desk:
        desk.app.open_form("inspections", "i-1")
        await desk.settle()
        control = field(desk, "state").control
        assert isinstance(control, Select)
        control.focus()
        await desk.press("enter", "down", "enter", "ctrl+s")
        assert project.tables()["inspections"][0].state == "requested"


async def test_a_row_is_removed_only_after_a_question(opened: Opened, project: Any) -> None:
    async with opened() as desk:
        await desk.press("5")
        desk.app.screen.action_tables("permits")
        await desk.settle()
        await desk.press("d")
        assert "Remove permits b-1?" in desk.text
        await desk.press("escape")
        assert len(project.tables()["permits"]) == 1
        await desk.press("d", "y")
        assert len(project.tables()["permits"]) == 1, "an inspection still refers to it"
        assert "still needs it" in desk.text


async def test_parts_go_with_their_row_after_a_second_question(
    opened: Opened, project: Any
) -> None:
    async with opened((110, 30)) as desk:
        desk.app.ask_remove("activities", "frame")
        await desk.press("y")
        assert "go too" in desk.text and "links" in desk.text
        await desk.press("y")
        assert [row.code for row in project.tables()["activities"]] == ["board"]
        assert project.tables()["links"] == ()


async def test_every_table_has_a_form_with_a_field_for_each_column(opened: Opened) -> None:
    async with opened() as desk:
        for kind in TABLES:
            desk.app.open_form(table_of(kind), "-" if table_of(kind) == "project" else None)
            await desk.settle()
            names = [one.column.name for one in desk.app.screen.query(Field)]
            assert names == [column.name for column in columns_of(kind)], table_of(kind)
            await desk.press("escape")
            assert not isinstance(desk.app.screen, RowForm)


async def test_a_defect_or_a_full_disk_leaves_the_typed_text_where_it_is(
    opened: Opened, project: Any, monkeypatch: Any
) -> None:
    async with opened() as desk:
        desk.app.open_form("contractors")
        await desk.settle()
        await desk.type("new-one")
        field(desk, "name").put("Somebody")

        def full(*_: Any, **__: Any) -> None:
            raise OSError("no space left on device")

        monkeypatch.setattr(desk.app.desk, "save", full)
        await desk.press("ctrl+s")
        assert isinstance(desk.app.screen, RowForm)
        assert "no space left on device" in " ".join(desk.text.split())
        assert field(desk, "code").typed == "new-one" and field(desk, "name").typed == "Somebody"


async def test_pasted_escape_sequences_never_stand_in_a_field(opened: Opened) -> None:
    async with opened() as desk:
        desk.app.open_form("contractors")
        await desk.settle()
        control = field(desk, "note").control
        assert isinstance(control, Input)
        control.insert_text_at_cursor("\x1b]0;OWNED\x07\u202e")
        await desk.settle()
        assert "\x1b" not in control.value and "\u202e" not in control.value


async def test_the_label_of_the_field_in_which_one_types_stands_out(
    opened: Opened, project: Any
) -> None:
    """Also at the beginning, when no key has moved there yet; and no other label does."""
    async with opened() as desk:
        desk.app.open_form("permits", "b-1")
        await desk.settle()
        for _ in range(3):
            here = [
                one
                for one in desk.app.screen.query(Field)
                if one.query_one(".field-label").text_style.reverse
            ]
            assert [one.control for one in here] == [desk.app.focused]
            await desk.press("tab")


async def test_a_text_of_several_lines_keeps_its_lines_when_it_is_changed(
    opened: Opened, project: Any
) -> None:
    save(project, "contractors", "bolt", {"note": "ring twice\r\nask for Ann\n\nback door"})
    async with opened() as desk:
        desk.app.open_form("contractors", "bolt")
        await desk.settle()
        note = field(desk, "note")
        assert note.typed == "ring twice↵ask for Ann↵↵back door" and not note.touched
        note.put(note.typed + "s↵")
        await desk.settle()
        assert "↵ is a line break" in desk.text
        await desk.press("ctrl+s")
    kept = next(row for row in project.tables()["contractors"] if row.code == "bolt")
    assert kept.note == "ring twice\nask for Ann\n\nback doors\n"


async def test_a_text_that_can_t_stand_in_a_field_says_so_before_a_change_of_it_is_kept(
    opened: Opened, project: Any
) -> None:
    save(project, "contractors", "bolt", {"note": "a tab\there \x07 and ↵ with\na break"})
    async with opened((110, 30)) as desk:
        desk.app.open_form("contractors", "bolt")
        await desk.settle()
        assert "not all that was there" not in desk.text
        field(desk, "note").put("b" + field(desk, "note").typed)
        await desk.settle()
        assert "kept as it is shown here, which is not all that was there" in " ".join(
            desk.text.split()
        )


def burst(desk: Any, *keys: str) -> None:
    """Hand keys to the app as a terminal does that was asked late: all at once, nothing waits for
    anything.
    """
    for key in keys:
        desk.app.post_message(events.Key(key, key if len(key) == 1 else None))


async def test_what_is_typed_right_behind_tab_lands_in_the_next_field(opened: Opened) -> None:
    """All keys come in one burst, as from a paste, a macro or a line that was slow."""
    async with opened() as desk:
        desk.app.open_form("contractors")
        await desk.settle()
        burst(desk, *"code", "tab", *"Name", "enter", *"trade", "shift+tab", "end", *"Two")
        await desk.settle()
        assert [field(desk, name).typed for name in ("code", "name", "trade")] == [
            "code",
            "NameTwo",
            "trade",
        ]


async def test_keys_in_one_burst_are_kept_whole(opened: Opened, project: Any) -> None:
    """Nothing of what came before it is overtaken by the key that keeps."""
    async with opened() as desk:
        desk.app.open_form("contractors")
        await desk.settle()
        burst(desk, *"quick", "tab", *("x" * 60), "tab", *"framing", "ctrl+s")
        await desk.settle()
        kept = next(row for row in project.tables()["contractors"] if row.code == "quick")
        assert (kept.name, kept.trade) == ("x" * 60, "framing")


async def test_lines_typed_in_one_burst_are_lines_of_their_own(opened: Opened) -> None:
    from tracker.screens.entry.declared import EntryField, ShortEntry
    from tracker.screens.entry.lines_field import LinesField

    of_lines: ShortEntry[None] = ShortEntry(
        title="Lines",
        fields=lambda at: (
            EntryField("items", None, "one a line"),
            EntryField("after", Text()),
        ),
        act=lambda given: None,
        kept=lambda done: "",
    )
    async with opened() as desk:
        desk.app.open_entry(of_lines)
        await desk.settle()
        lines = desk.app.screen.query_one(LinesField)
        lines.control.focus()
        await desk.settle()
        burst(desk, *"one", "enter", *"two")
        await desk.settle()
        assert lines.texts == ("one", "two")
        burst(desk, "enter", *"three", "enter", *"four", "enter", *"five")
        await desk.settle()
        assert lines.texts == ("one", "two", "three", "four", "five")
        await desk.press("enter", "enter")
        await desk.type("behind")
        assert lines.texts == ("one", "two", "three", "four", "five")
        assert desk.app.screen.query_one("#field-after CleanInput", CleanInput).value == "behind"
