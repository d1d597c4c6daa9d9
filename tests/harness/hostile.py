"""Project folders with damage or ill will in them, imported with and without --replace: refused in
sentences, or undone.
"""

from __future__ import annotations

import random
import shutil
from pathlib import Path
from time import monotonic

from tests.harness.common import SAMPLE, UNSEEN, Tally, command, main, sample
from tests.harness.fields import VALUES
from tracker.project_file.store import open_file

KINDS = "cell cell cell row twice bytes cut encoding separators quote mark lines empty head swap".split()  # noqa: SIM905, E501
"""Ways to spoil a table; a cell more often than the others."""


def spoiled(table: Path, chance: random.Random) -> str:
    """Spoil one table of a folder; what was done."""
    data = table.read_bytes()
    kind = chance.choice(KINDS)
    if kind in ("cell", "row", "swap"):
        lines = data.decode().split("\n")
        at = chance.randrange(len(lines))
        cells = lines[at].split(",")
        if kind == "cell":
            value = chance.choice(VALUES)
            quoted = '"' + value.replace('"', '""') + '"'
            cells[chance.randrange(len(cells))] = chance.choice((value, quoted))
        elif kind == "row":
            cells = [*cells, "more"] if chance.random() < 0.5 else cells[:-1]
        else:
            chance.shuffle(cells)
        lines[at] = ",".join(cells)
        data = "\n".join(lines).encode("utf-8", "surrogatepass")
    elif kind == "twice":
        data = data + data[data.index(b"\n") + 1 :] if b"\n" in data else data * 2
    elif kind == "bytes":
        changed = bytearray(data or b"x")
        for _ in range(chance.randint(1, 20)):
            changed[chance.randrange(len(changed))] = chance.randrange(256)
        data = bytes(changed)
    elif kind == "cut":
        data = data[: chance.randrange(len(data) + 1)]
    elif kind == "encoding":
        data = data.decode().encode(
            chance.choice(("utf-16", "utf-32", "cp1252", "utf-8-sig", "utf-7")), "replace"
        )
    elif kind == "separators":
        data = data.replace(b",", chance.choice((b";", b"\t", b",,")))
    elif kind == "quote":
        at = chance.randrange(len(data) + 1)
        data = data[:at] + b'"' + data[at:]
    elif kind == "mark":
        at = chance.randrange(len(data) + 1)
        data = (
            data[:at] + chance.choice((b"\x00", b"\x1b[2J", "\u202e".encode(), b"\xff")) + data[at:]
        )
    elif kind == "lines":
        data = data.replace(b"\n", chance.choice((b"\r\n", b"\r", b"\n\n")))
    elif kind == "empty":
        data = chance.choice((b"", b"\n", b",,,\n", b"\xef\xbb\xbf"))
    else:
        data = b"code,nobody_knows_this\n" + data
    table.write_bytes(data)
    return f"{kind} in {table.name}"


def runs(folder: Path, chance: random.Random, times: int, until: float, tally: Tally) -> None:
    """So many folders, each imported into the sample's file."""
    path, other = sample(folder), folder / "other"
    with open_file(path) as project:
        true = project.tables()
    for number in range(times):
        if monotonic() > until:
            break
        shutil.rmtree(other, ignore_errors=True)
        shutil.copytree(SAMPLE, other)
        tables = chance.sample(sorted(other.glob("*.csv")), chance.choice((1, 1, 1, 3)))
        done = [spoiled(table, chance) for table in tables]
        words = ("--replace",) if chance.random() < 0.5 else ()
        code, out, err = command("import", path, other, *words)
        case = f"folder {number} ({'; '.join(done)}) {' '.join(words)}"
        tally.counts["folders"] += 1
        tally.counts["refused in sentences"] += code == 2
        tally.counts["taken"] += code == 0
        if code not in (0, 2) or "Traceback" in out + err or (code == 2 and not err.strip()):
            tally.breach(f"{case}: ends in {code}: {err[:200]}")
        if UNSEEN & set(out + err):
            tally.breach(f"{case}: a control character is written")
        with open_file(path) as project:
            now = project.tables()
            if code == 0 and now != true:
                project.undo()
                tally.counts["undone"] += 1
                now = project.tables()
            if now != true:
                tally.breach(f"{case}: the rows are not as before")
                return
    code, out, _ = command("check", path)
    if code:
        tally.breach(f"check: {out[:300]}")


if __name__ == "__main__":
    main("hostile", runs, 700)
