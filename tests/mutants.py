"""How much of a room would its tests miss? Small faults are put into it, one at a time.

`python -m tests.mutants ROOM [--most N] [--seed S]`: ROOM is a folder or module of `tracker/`
(`money`, `schedule/path`, `approvals/notices.py`). Each mutant is one changed place in a copy of
the tree; the tests of the room and those of `tests/reference/` that import it run there until one
fails. Printed are the score and each survivor. A survivor is a rule that no test of the room holds,
or a change that changes nothing; somebody must look. Ends in 0, or in 2 where the tests fail
without any mutant.
"""

from __future__ import annotations

import argparse
import ast
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
NEEDED = ("tracker", "tests", "templates", "sample_project", "pyproject.toml", "README.md")

SWAPPED: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
    ast.Lt: (ast.LtE, ast.Gt),
    ast.LtE: (ast.Lt, ast.GtE),
    ast.Gt: (ast.GtE, ast.Lt),
    ast.GtE: (ast.Gt, ast.LtE),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
}
"""What a comparison becomes: its boundary moved by one, or turned around."""


@dataclass(frozen=True)
class Mutant:
    """One place that can be changed. place: its number in `ast.walk`. choice: into what."""

    module: Path
    line: int
    what: str
    place: int
    choice: int

    def source(self, text: str) -> str:
        """The whole module with the change."""
        tree = ast.parse(text)
        apply(tree, self.place, self.choice)
        return ast.unparse(ast.fix_missing_locations(tree))


def mutants_of(module: Path, text: str) -> Iterator[Mutant]:
    """Every mutant of a module."""
    for place, node in enumerate(ast.walk(ast.parse(text))):
        for choice, what in enumerate(changes(node)):
            yield Mutant(module, getattr(node, "lineno", 0), what, place, choice)


def changes(node: ast.AST) -> list[str]:
    """What can be changed at a node, in words; `apply` makes them by their number."""
    if isinstance(node, ast.Compare) and len(node.ops) == 1:
        old = type(node.ops[0])
        return [f"{old.__name__} becomes {new.__name__}" for new in SWAPPED[old]]
    if isinstance(node, ast.BoolOp):
        return ["or becomes and" if isinstance(node.op, ast.Or) else "and becomes or"]
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add | ast.Sub):
        plus = isinstance(node.op, ast.Add) and not _is_text(node)
        return ["+ becomes -"] if plus else ["- becomes +"] * isinstance(node.op, ast.Sub)
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
        return ["not is dropped"]
    if isinstance(node, ast.Constant) and isinstance(node.value, bool | int):
        return [f"{node.value} becomes {_other(node.value)}"]
    if isinstance(node, ast.Return) and node.value is not None:
        empty = isinstance(node.value, ast.Constant) and node.value.value is None
        return [] if empty else ["returns None"]
    return []


def _is_text(node: ast.BinOp) -> bool:
    """Whether texts are put together, which can't be taken from each other."""
    return any(
        isinstance(side, ast.JoinedStr)
        or (isinstance(side, ast.Constant) and isinstance(side.value, str))
        for side in (node.left, node.right)
    )


def _other(value: bool | int) -> bool | int:
    return not value if isinstance(value, bool) else value + 1


def apply(tree: ast.Module, place: int, choice: int) -> None:
    """Make one change at the node that `ast.walk` gives at a place."""
    node = next(one for number, one in enumerate(ast.walk(tree)) if number == place)
    if isinstance(node, ast.Compare):
        node.ops = [SWAPPED[type(node.ops[0])][choice]()]
    elif isinstance(node, ast.BoolOp):
        node.op = ast.And() if isinstance(node.op, ast.Or) else ast.Or()
    elif isinstance(node, ast.BinOp):
        node.op = ast.Sub() if isinstance(node.op, ast.Add) else ast.Add()
    elif isinstance(node, ast.UnaryOp):
        node.op, node.operand = ast.Not(), ast.UnaryOp(ast.Not(), node.operand)
    elif isinstance(node, ast.Constant):
        assert isinstance(node.value, bool | int)
        node.value = _other(node.value)
    elif isinstance(node, ast.Return):
        node.value = ast.Constant(None)


def tests_of(room: str) -> list[str]:
    """The room's tests, and those against published values that import it."""
    first = room.split("/")[0].removesuffix(".py")
    name = f"tracker.{first}"
    published = [
        path.relative_to(ROOT).as_posix()
        for path in sorted((ROOT / "tests/reference").rglob("test_*.py"))
        if f"from {name}." in path.read_text(encoding="utf-8")
    ]
    return [f"tests/{first}", *published]


def nearest_first(module: Path, tests: Sequence[str], tree: Path) -> list[str]:
    """The test files, those first that import the changed module: most mutants die at once."""
    name = "from " + ".".join(module.with_suffix("").parts)
    files = [
        path.relative_to(tree).as_posix()
        for one in tests
        for path in ([tree / one] if one.endswith(".py") else sorted((tree / one).rglob("test_*")))
    ]
    return sorted(files, key=lambda path: name not in (tree / path).read_text(encoding="utf-8"))


def fails(tree: Path, tests: Sequence[str], seconds: float) -> bool:
    """Whether one of the tests fails, or they do not come to an end, in a copy of the tree."""
    command = [sys.executable, "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", *tests]
    surroundings = {**os.environ, "PYTHONPATH": str(tree), "PYTHONDONTWRITEBYTECODE": "1"}
    try:
        done = subprocess.run(
            command, cwd=tree, env=surroundings, capture_output=True, check=False, timeout=seconds
        )
    except subprocess.TimeoutExpired:
        return True
    return done.returncode != 0


def copied_tree(into: Path) -> Path:
    """A copy of all that the tests read."""
    for name in NEEDED:
        source = ROOT / name
        if source.is_dir():
            shutil.copytree(source, into / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy(source, into / name)
    return into


def chosen(room: str, most: int, seed: int) -> tuple[list[Mutant], int]:
    """A sample of the room's mutants, by file and line; and how many there are."""
    top = ROOT / "tracker" / room
    modules = [top] if top.suffix == ".py" else sorted(top.rglob("*.py"))
    found = [
        one
        for module in modules
        for one in mutants_of(module.relative_to(ROOT), module.read_text(encoding="utf-8"))
    ]
    some = random.Random(seed).sample(found, min(most, len(found)))
    return sorted(some, key=lambda one: (one.module, one.line, one.what)), len(found)


def run(room: str, most: int, seed: int) -> int:
    """Try the mutants and print what came of them; the exit code."""
    mutants, count = chosen(room, most, seed)
    survivors: list[Mutant] = []
    tests = tests_of(room)
    with tempfile.TemporaryDirectory() as place:
        tree = copied_tree(Path(place))
        begun = time.monotonic()
        if fails(tree, tests, 3600):
            print("The tests fail without any mutant.", file=sys.stderr)
            return 2
        patience = 60 + 4 * (time.monotonic() - begun)
        for one in mutants:
            file = tree / one.module
            before = file.read_text(encoding="utf-8")
            file.write_text(one.source(before), encoding="utf-8")
            if not fails(tree, nearest_first(one.module, tests, tree), patience):
                survivors.append(one)
                print(f"survives: {one.module}:{one.line}: {one.what}", flush=True)
            file.write_text(before, encoding="utf-8")
    dead = len(mutants) - len(survivors)
    print(f"{room}: {dead} of {len(mutants)} mutants died (of {count}; seed {seed})")
    return 0


def main() -> None:
    """Read the command line."""
    reader = argparse.ArgumentParser(prog="python -m tests.mutants")
    reader.add_argument("room", help="a folder or module of tracker/: money, schedule/path")
    reader.add_argument("--most", type=int, default=50, help="so many mutants at most")
    reader.add_argument("--seed", type=int, default=1, help="which of them")
    given = reader.parse_args()
    if not (ROOT / "tracker" / given.room).exists():
        reader.error(f"there is no tracker/{given.room}")
    sys.exit(run(given.room.strip("/"), given.most, given.seed))


if __name__ == "__main__":
    main()
