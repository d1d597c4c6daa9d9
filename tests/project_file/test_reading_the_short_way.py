"""Questions are answered without SQLModel and SQLAlchemy, which take longer to import than an
answer may take.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from tracker.project_file.store import create
from tracker.schedule.records import Activity

ROOT = Path(__file__).parents[2]

QUESTIONS = """
import sys
from pathlib import Path
from tracker.project_file.store import open_file, create
from tracker.schedule.records import Activity
path = Path(sys.argv[1])
with open_file(path) as project:
    assert len(project.rows(Activity)) == 1
    project.tables(), project.history(), project.data_version()
    project.undo(), project.redo()
    assert project.check() == ()
    project.backup(path.with_name("copy.db"))
create(path.with_name("new.db")).close()
slow = {"sqlmodel", "sqlalchemy", "pydantic", "numpy", "textual", "rich"}
print(sorted({name.partition(".")[0] for name in sys.modules} & slow))
"""


def test_reading_stepping_checking_and_copying_import_no_sqlmodel(path: Path) -> None:
    with create(path) as project, project.work("one") as work:
        work.put(Activity(code="A", kind="work", duration=1))
        work.keep()
    run = subprocess.run(
        [sys.executable, "-c", QUESTIONS, str(path)], cwd=ROOT, capture_output=True, text=True
    )
    assert (run.stderr, run.stdout) == ("", "[]\n")


def test_the_first_write_imports_sqlmodel(path: Path) -> None:
    """So that the test above would notice."""
    writes = (
        "import sys; from pathlib import Path; from tracker.project_file.store import create; "
        "from tracker.schedule.records import Activity\n"
        "with create(Path(sys.argv[1])) as project, project.work('one') as work:\n"
        "    work.put(Activity(code='A', kind='work', duration=1))\n"
        "print('sqlmodel' in sys.modules)"
    )
    run = subprocess.run(
        [sys.executable, "-c", writes, str(path)], cwd=ROOT, capture_output=True, text=True
    )
    assert (run.stderr, run.stdout) == ("", "True\n")
