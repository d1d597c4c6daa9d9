"""Damaged copies of the sample's file: cut off, bits flipped, pages overwritten, header bytes
changed.
"""

from __future__ import annotations

import random
from pathlib import Path
from time import monotonic
from typing import Any

from tests.harness.common import UNSEEN, Tally, command, main, sample
from tracker.actions.opening import open_project
from tracker.values.problems import ProblemError

COMMANDS = (
    ("show", "path"),
    ("check",),
    ("history",),
    ("show", "draws"),
    ("set", "project", "-", "name=x"),
    ("undo",),
)


def damaged(whole: bytes, chance: random.Random) -> tuple[str, bytes]:
    """One damage and its name."""
    data, kind = bytearray(whole), chance.choice(("cut", "bits", "bits", "page", "header"))
    if kind == "cut":
        return kind, bytes(data[: chance.randrange(len(data))])
    if kind == "bits":
        for _ in range(chance.choice((1, 4))):
            data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)
    elif kind == "page":
        begin = chance.randrange(len(data) // 4096) * 4096
        data[begin : begin + 4096] = chance.choice((bytes(4096), chance.randbytes(4096)))
    else:
        data[chance.randrange(100)] = chance.randrange(256)
    return kind, bytes(data)


def rows_of(path: Path) -> Any:
    """All rows of a file; None where they can't be read."""
    try:
        with open_project(path) as project:
            return project.tables()
    except ProblemError:
        return None


def runs(folder: Path, chance: random.Random, times: int, until: float, tally: Tally) -> None:
    """So many copies, each asked by every command."""
    whole = sample(folder)
    data, true = whole.read_bytes(), rows_of(whole)
    assert command("check", whole)[0] == 0, (
        "what is to be damaged is whole, and its papers lie beside it"
    )
    for number in range(times):
        if monotonic() > until:
            break
        kind, changed = damaged(data, chance)
        path = folder / "damaged.db"
        for beside in folder.glob("damaged.db*"):
            beside.unlink()
        path.write_bytes(changed)
        tally.counts[f"copies ({kind})"] += 1
        try:
            rows: Any = rows_of(path)
        except Exception as error:
            tally.breach(f"copy {number} ({kind}): its rows end in {type(error).__name__}: {error}")
            rows = None
        for words in COMMANDS:
            code, out, err = command(words[0], path, *words[1:])
            tally.counts["commands"] += 1
            tally.counts["refused"] += code == 2
            if code not in (0, 1, 2) or "Traceback" in out + err or (code == 2 and not err.strip()):
                tally.breach(
                    f"copy {number} ({kind}): {' '.join(words)} ends in {code}: {err[:200]}"
                )
            if code == 2 and "encoding" in err:
                tally.breach(
                    f"copy {number} ({kind}): {' '.join(words)} blames an encoding: {err[:200]}"
                )
            if UNSEEN & set(out + err):
                tally.breach(
                    f"copy {number} ({kind}): {' '.join(words)} writes a control character"
                )
            if words == ("check",):
                tally.counts["found by check"] += code != 0
                if code == 0 and rows != true:
                    tally.breach(f"copy {number} ({kind}): rows differ and check finds nothing")


if __name__ == "__main__":
    main("damage", runs, 850)
