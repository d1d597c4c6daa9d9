"""The length of the critical path of 80 networks of PSPLIB.

Source: Kolisch & Sprecher (1996), PSPLIB, sets j30 and j60; "MPM-Time" in each file is the length of the critical path.
How we know: read from the files. They are not part of this project: set TRACKER_PSPLIB to a folder of *.sm files.
"""

import os
from pathlib import Path

import pytest

from tracker.schedule.plan import compute
from tracker.schedule.records import Activity, Link
from tracker.values.project import DEFAULT_START

FOLDER = Path(os.environ.get("TRACKER_PSPLIB", Path(__file__).parents[3] / "shared" / "reference" / "psplib"))
FILES = sorted(FOLDER.glob("*.sm"))


def section(lines, head, skip):
    """The cells of the rows of one section of a file."""
    begin = next(i for i, line in enumerate(lines) if line.startswith(head)) + skip
    for line in lines[begin:]:
        if line.startswith("*"):
            return
        yield line.split()


@pytest.mark.skipif(not FILES, reason=f"no PSPLIB files in {FOLDER}; set TRACKER_PSPLIB to a folder of them")
@pytest.mark.parametrize("file", FILES, ids=lambda f: f.stem)
def test_the_critical_path_is_as_long_as_published(file):
    lines = file.read_text().splitlines()
    links = [Link(from_=row[0], to=code) for row in section(lines, "PRECEDENCE", 2) for code in row[3:]]
    activities = [Activity(code=row[0], duration=int(row[2])) for row in section(lines, "REQUESTS", 3)]
    published = int(next(section(lines, "pronr.", 1))[5])
    plan = compute({"activities": activities, "links": links})
    assert plan.run.opening_moment() - DEFAULT_START.toordinal() == published
