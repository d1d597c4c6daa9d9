"""Every column of every table with values that nobody should type: kept and undone, or refused in a
sentence.
"""

from __future__ import annotations

import random
from pathlib import Path
from time import monotonic

from tests.harness.common import UNSEEN, Tally, command, main, sample
from tracker.actions.rows import save
from tracker.project_file.store import open_file
from tracker.tables import TABLES
from tracker.values.problems import ProblemError
from tracker.values.records import columns_of, key_columns, key_text, table_of

VALUES = (
    *(
        "",
        " ",
        "x",
        "\x00",
        "a\x00b",
        "\x1b[31mred",
        "\x1b]0;title\x07",
        "\x9b2J",
        "\u202eabc",
        "\u2066x\u2069",
        "\ufeffx",
        "\x7f",
    ),
    *(
        "a\nb",
        "a\r\nb",
        "\r",
        "\t",
        "e\u0301",
        "漢字",
        "👷\u200d🔧",
        "\ud800",
        "ﷺ",
        "ß",
        "İ",
        "[red]x[/red]",
        "[/]",
        "{x}",
        "%s%n",
    ),
    *(
        "0",
        "-0",
        "-1",
        "1",
        "007",
        "1e308",
        "1e-9",
        "NaN",
        "inf",
        "-inf",
        "0x10",
        "1_000",
        "1,000",
        "12,50",
        "9" * 15,
        "9" * 400,
    ),
    *(
        "0.005",
        "0.1",
        "-99999999999.99",
        "99999999999.99",
        "100",
        "100.001",
        "٣",
        "１２",
        "½",
        "$5",
        "5%",
        "+5",
        "5 5",
    ),
    *(
        "2027-02-30",
        "2027-02-28",
        "0000-01-01",
        "1899-12-31",
        "2200-01-01",
        "2027-3-5",
        "27-03-05",
        "20270305",
        "2027-03-05T00:00",
    ),
    *(
        "=1+1",
        "+1",
        "-1+1",
        "@SUM(A1)",
        "=HYPERLINK(1)",
        "'; DROP TABLE project; --",
        '"',
        "''",
        "<script>",
        "&amp;",
        "http://x.invalid",
    ),
    *(
        "../../etc/passwd",
        "/dev/zero",
        "C:\\x",
        "a/b",
        "/",
        "//",
        "-",
        "--",
        ".",
        "..",
        "yes",
        "no",
        "YES",
        "true",
        "mon mon",
        "mon tue",
    ),
    *(
        "FREQ=DAILY;COUNT=99999999",
        "FREQ=MONTHLY;BYDAY=2MO",
        "a b a",
        "a  b",
        "contractor:",
        "contractor:nobody",
        "x" * 41,
        "x" * 20_001,
    ),
    *("x " * 500_000, "x = y and", "x = y or (", "(" * 2_000, "owner", "done", "FS"),
)
"""Signs that act, numbers at the edges, days that are none, formulas, paths, rules, and too much of
everything.
"""


def runs(folder: Path, chance: random.Random, times: int, until: float, tally: Tally) -> None:
    """Every column with every value, in an order of chance; times: so many of them at the most."""
    path = sample(folder)
    with open_file(path) as project:
        true = project.tables()
        places = [
            (kind, column, value)
            for kind in TABLES
            for column in columns_of(kind)
            for value in VALUES
        ]
        chance.shuffle(places)
        for kind, column, value in places[:times]:
            if monotonic() > until:
                break
            table = table_of(kind)
            rows = true.get(table, ())
            new = not rows or (bool(key_columns(kind)) and chance.random() < 0.2)
            key = "/".join("n" for _ in key_columns(kind)) if new else key_text(chance.choice(rows))
            cells = {} if column.key else {column.name: value}
            key = value if column.key and new else key
            case = f"{table} {key[:60]!r} {column.name}={value[:60]!r}"
            tally.counts["saves"] += 1
            try:
                kept = save(project, table, key, cells)
            except ProblemError as error:
                tally.counts["refused in sentences"] += 1
                for problem in error.problems:
                    sentence = problem.sentence()
                    if not sentence.strip() or UNSEEN & set(sentence):
                        tally.breach(f"{case}: {sentence[:200]!r}")
                continue
            except Exception as error:
                tally.breach(f"{case}: {type(error).__name__}: {str(error)[:200]}")
                continue
            if kept.step is not None:
                tally.counts["kept and undone"] += 1
                project.undo()
            else:
                tally.counts["as it was"] += 1
        if project.tables() != true:
            tally.breach("after all was undone the rows are not as before")
    code, out, _ = command("check", path)
    if code:
        tally.breach(f"check: {out[:300]}")


if __name__ == "__main__":
    main("fields", runs, 1_000_000)
