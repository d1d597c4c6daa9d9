"""Money never passes through a float: the source is searched for all that makes one.

Searched are the rooms of money and trades, the shared values, answers, actions, prints, tables,
file and folder, commands, and the screens that show money. What is left are the places below, each
with its reason.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from fnmatch import fnmatch
from pathlib import Path

import pytest

import tracker

ROOT = Path(tracker.__file__).parent
FOLDERS = (
    "money",
    "trades",
    "values",
    "answers",
    "pages",
    "actions",
    "reports",
    "tables",
    "project_file",
    "project_folder",
    "command_line",
)
SCREENS = (
    "cost/*.py",
    "draws/*.py",
    "changes/*.py",
    "trades/*.py",
    "entry/money_words.py",
    "entry/typed_text.py",
    "entry/fields.py",
)
LAYOUT = {
    "reports/columns_on_paper.py": "widths on paper, in points",
    "reports/lettering.py": "widths of letters, in points",
    "reports/paper.py": "places on paper, in points",
    "reports/long_table.py": "places on paper, in points",
    "reports/attached_pages.py": "pictures and text on paper, in points",
    "reports/attached_drawn.py": "where something is drawn on a page, in points",
}
"""Whole modules that measure paper and see text only."""

CHANCES = ("answers/risk*.py", "pages/risk.py")
"""Modules that tell chances and ranks of days; what costs money in them is asked of whole numbers
elsewhere.
"""

KNOWN = {
    (
        "money/planned_value.py",
        "line.value * sum(parts, Fraction(0)) / sum(weights)",
    ): "exact fractions, rounded once",
    (
        "answers/slip_lessons.py",
        "row.kept / row.due",
    ): "words kept of words due, to put people in order",
    (
        "screens/entry/typed_text.py",
        "Decimal(basis_points) / 100",
    ): "a percentage shown, from a decimal",
    ("reports/spreadsheet.py", "float"): "size of letters",
    ("answers/as_json.py", "float"): "passes on chances as they are",
    ("command_line/waiting.py", "0.5"): "seconds",
    ("command_line/waiting.py", "0.2"): "seconds",
    ("command_line/waiting.py", "float"): "seconds",
    ("actions/carrying.py", "to / path"): "a path",
    ("project_folder/writing.py", "made / name"): "a path",
    ("project_folder/writing.py", "old / path.name"): "a path",
}
PATH = re.compile(r"\b(path|folder|place|root|parent|package|beside|home)\b", re.IGNORECASE)
"""What a path is called here."""

MAKERS = {
    "float",
    "complex",
    "round",
    "math",
    "statistics",
    "fmean",
    "fsum",
    "truediv",
    "from_float",
    "numpy",
    "np",
}


def floats(source: str) -> Iterator[str]:
    """The text of everything in a source that makes a float, or rounds as floats do."""
    for node in ast.walk(ast.parse(source)):
        number = isinstance(node, ast.Constant) and isinstance(node.value, (float, complex))
        divided = (
            isinstance(node, ast.BinOp) and isinstance(node.op, ast.Div) and not with_text(node)
        )
        divided = divided or (isinstance(node, ast.AugAssign) and isinstance(node.op, ast.Div))
        raised = (
            isinstance(node, ast.BinOp)
            and isinstance(node.op, ast.Pow)
            and isinstance(node.right, ast.UnaryOp)
        )
        named = (isinstance(node, ast.Name) and node.id in MAKERS) or (
            isinstance(node, ast.Attribute) and node.attr in MAKERS
        )
        brought = isinstance(node, (ast.Import, ast.ImportFrom)) and any(
            a.name.split(".")[0] in MAKERS for a in node.names
        )
        brought = brought or (isinstance(node, ast.ImportFrom) and node.module in MAKERS)
        if number or divided or raised or named or brought:
            yield ast.get_source_segment(source, node) or ast.dump(node)


def with_text(node: ast.BinOp) -> bool:
    """Whether a part of it is text, or is called a path: then it is no number that is divided."""
    if isinstance(node.right, ast.Constant) and not is_text(node.right):
        return False
    sides = (node.left, node.right)
    return any(isinstance(side, ast.JoinedStr) or is_text(side) for side in sides) or bool(
        PATH.search(ast.unparse(node.left))
    )


def is_text(side: ast.expr) -> bool:
    """Whether it is text as it stands."""
    return isinstance(side, ast.Constant) and isinstance(side.value, str)


def searched() -> list[Path]:
    """The modules in which amounts are at home."""
    found = [path for folder in FOLDERS for path in sorted((ROOT / folder).rglob("*.py"))]
    found += [path for pattern in SCREENS for path in sorted((ROOT / "screens").glob(pattern))]
    names = [(path, path.relative_to(ROOT).as_posix()) for path in found]
    return [
        path
        for path, name in names
        if name not in LAYOUT and not any(fnmatch(name, known) for known in CHANCES)
    ]


def test_nothing_in_the_source_makes_a_float_where_money_is_at_home() -> None:
    paths = searched()
    assert len(paths) > 150
    found = {
        (path.relative_to(ROOT).as_posix(), text)
        for path in paths
        for text in floats(path.read_text(encoding="utf-8"))
    }
    assert found - set(KNOWN) == set()


@pytest.mark.parametrize("name", LAYOUT)
def test_what_measures_paper_reads_no_amount(name: str) -> None:
    """These modules see cells as text that is shown; none of them knows cents."""
    source = (ROOT / name).read_text(encoding="utf-8")
    assert "cents" not in source
    assert "tracker.money" not in source
    assert "tracker.values.money" not in source


@pytest.mark.parametrize(
    "line",
    [
        "due = earned * 0.9",
        "share = paid / total",
        "share /= total",
        "share = places / 2",
        "cents = int(float(text) * 100)",
        "cents = round(dollars * 100)",
        "part = weight ** -1",
        "rate = math.floor(share)",
        "from math import fsum",
        "import numpy as np",
        "total = statistics.mean(prices)",
        "amount = Decimal.from_float(x)",
        "def due(cents: float) -> int: ...",
    ],
)
def test_the_search_finds_what_makes_a_float(line: str) -> None:
    assert list(floats(line))


@pytest.mark.parametrize(
    "line",
    ["due = earned * 9 // 10", 'path = folder / "draws.csv"', "amount = Decimal(text).scaleb(-2)"],
)
def test_the_search_passes_whole_numbers_and_paths(line: str) -> None:
    assert not list(floats(line))
