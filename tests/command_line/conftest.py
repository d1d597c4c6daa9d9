"""A small project that several checks look at."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.command_line.running import folder, tracker


@pytest.fixture(scope="session")
def small_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two activities in a row, a contractor with a contract, and a cost line."""
    return folder(
        tmp_path_factory.mktemp("small") / "folder",
        project=(
            "name,start,status_date,promised_opening\nInvented"
            " hall,2027-01-04,2027-01-04,2027-01-08\n"
        ),
        activities="code,name,duration,contract\na,Frame walls,3,C1\nb,Hang doors,2,C1\n",
        links="from,to\na,b\n",
        contractors="code,name,phone\nACME,Invented Trade Co,555-0100\n",
        cost_lines="code,name,budget\nwalls,Walls,1000\n",
        contracts="code,contractor,sum\nC1,ACME,0\n",
    )


@pytest.fixture(scope="session")
def small_made(small_folder: Path) -> Path:
    """A project file of it, as the program made it."""
    file = small_folder.with_name("small.db")
    assert tracker("new", file, "--from", small_folder).code == 0
    return file


@pytest.fixture
def small(small_made: Path, tmp_path: Path) -> Path:
    """A copy of it, to be changed."""
    return Path(shutil.copy(small_made, tmp_path / "small.db"))
