"""No module of the screens needs itself by way of others, and imports inside of functions hide none
of that.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

import tracker.screens

PACKAGE = "tracker.screens"
HOME = Path(tracker.screens.__file__).parent


def imported(tree: ast.AST) -> Iterator[str]:
    """What a module imports anywhere, a name's own module first; not what types alone need."""
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test):
            continue
        if isinstance(node, ast.ImportFrom) and node.module:
            for one in node.names:
                yield f"{node.module}.{one.name}"
                yield node.module
        elif isinstance(node, ast.Import):
            yield from (one.name for one in node.names)
        yield from imported(node)


def needs(home: Path) -> dict[str, set[str]]:
    """By module of the screens, those that it imports, at its head or in a function."""
    files = {
        ".".join((PACKAGE, *path.relative_to(home).with_suffix("").parts)): path
        for path in home.rglob("*.py")
        if path.stem != "__init__"
    }
    trees = {name: ast.parse(path.read_text(encoding="utf-8")) for name, path in files.items()}
    return {
        name: {one for one in imported(tree) if one in files and one != name}
        for name, tree in trees.items()
    }


def test_no_circle_lies_among_the_screens() -> None:
    try:
        order = tuple(TopologicalSorter(needs(HOME)).static_order())
    except CycleError as error:
        pytest.fail(" needs ".join(error.args[1]))
    assert f"{PACKAGE}.frame.project_screen" in order[:-1]
    assert f"{PACKAGE}.frame.app" in order


def test_a_circle_through_a_function_is_seen(tmp_path: Path) -> None:
    folder = tmp_path / "frame"
    folder.mkdir()
    (folder / "a.py").write_text("def go():\n    from tracker.screens.frame.b import come\n")
    (folder / "b.py").write_text("from tracker.screens.frame import a\n")
    with pytest.raises(CycleError):
        TopologicalSorter(needs(tmp_path)).prepare()


@pytest.mark.parametrize("name", ["project_screen", "view", "main_screen", "open_project", "opens"])
def test_the_frame_of_a_screen_knows_no_entry_of_a_view(name: str) -> None:
    """It asks the app to open one; only prints are the main screen's own."""
    found = needs(HOME)[f"{PACKAGE}.frame.{name}"]
    own = {f"{PACKAGE}.entry.print_entry", f"{PACKAGE}.entry.typed_text"}
    assert all(one.split(".")[2] in ("frame", "table") for one in found - own)
