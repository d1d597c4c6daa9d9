"""Bring what is on record of a state's law into the project: answers, each with its statute and the
day of checking.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from tracker.actions.folders import Imported, import_folder
from tracker.approvals.records import Answer
from tracker.project_file.store import ProjectFile
from tracker.project_folder.places import folder
from tracker.project_folder.reading import read
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows

ABOUT = (
    ("owner_rule", "owner as contractor"),
    ("protest_votes", "protest and votes"),
    ("law_published_days", "notices"),
    ("effective_days", "effect"),
    ("hearing_law", "clocks and more"),
)
"""A question whose answer stands for what a state's record is about."""


@dataclass(frozen=True, slots=True)
class Record:
    """What is on record of one state. name: of its folder. about: in a few words."""

    name: str
    state: str
    about: str
    answers: tuple[Answer, ...]


def on_record() -> dict[str, Record]:
    """Every state on record, by the name of its folder."""
    places = sorted(
        path for path in (folder("templates") / "jurisdictions").iterdir() if _is_a_state(path)
    )
    return {path.name: _record(path) for path in places}


def _is_a_state(path: Path) -> bool:
    """Whether a folder holds answers alone; the general one and the blank one bring bodies and
    notices with them.
    """
    return path.is_dir() and [file.name for file in path.glob("*.csv")] == ["answers.csv"]


def _record(path: Path) -> Record:
    """One state's record."""
    answers: tuple[Answer, ...] = tuple(read(path).rows["answers"])
    said = {a.question: a.answer for a in answers}
    about = ", ".join(words for question, words in ABOUT if said.get(question))
    return Record(path.name, said.get("state", ""), about or "the state alone", answers)


def replaced(rows: Rows, record: Record) -> tuple[str, ...]:
    """The questions whose answers in the project would be replaced by another text."""
    here = {a.question: a.answer.strip() for a in rows.get("answers", ())}
    return tuple(
        a.question
        for a in record.answers
        if here.get(a.question) and here[a.question] != a.answer.strip()
    )


def bring(project: ProjectFile, name: str) -> Imported:
    """Bring a state's answers into the project, as one step.

    ProblemError if nothing is on record under that name.
    """
    if name not in on_record():
        do = f"choose one of: {', '.join(on_record())}"
        raise ProblemError(Problem(what="nothing is on record under this name", do=do, value=name))
    return import_folder(project, folder("templates") / "jurisdictions" / name)
