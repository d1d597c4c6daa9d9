"""Project folders: a new project from one, one brought into a project, a project written as one."""

from __future__ import annotations

import dataclasses
import datetime as dt
from dataclasses import dataclass, field
from pathlib import Path

from tracker.actions.carrying import carry
from tracker.actions.carrying import counted as counted_papers
from tracker.actions.keeping import Counts, Sound, counted, sound, step
from tracker.project_file import store
from tracker.project_file.history import BEGINNING
from tracker.project_file.store import ProjectFile, Step, Work
from tracker.project_folder import places
from tracker.project_folder.across import faults_across
from tracker.project_folder.content import FolderContent, capped, located
from tracker.project_folder.merging import merged
from tracker.project_folder.reading import Watch, read_what_is_good, unwatched
from tracker.project_folder.writing import Snapshots, write
from tracker.schedule.records import Snapshot
from tracker.tables import SNAPSHOT_HEAD
from tracker.tables.facts import refused_facts
from tracker.tables.followed import Brought, followed
from tracker.values.problems import Problem, ProblemError
from tracker.values.project import Project, today_of
from tracker.values.records import Rows, new, table_of

CHECKING = "Checking the rows against the rules"
"""What an import does between reading and writing."""

EMPTY: Rows = {"project": (new(Project),)}
"""A new project."""


@dataclass(frozen=True)
class Imported:
    """What an import did. step: None where the file held all of it already.

    Counts are of rows; a snapshot counts as one.

    warnings: those of the notes that tell of something odd.
    """

    step: Step | None = None
    added: int = 0
    changed: int = 0
    removed: int = 0
    notes: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()


@dataclass(frozen=True)
class Exported:
    """What an export did. replaced: a project folder that was there was written anew. papers: so
    many were laid into it.
    """

    folder: Path
    replaced: bool = False
    rows: int = 0
    notes: tuple[str, ...] = field(default=())
    papers: int = 0


def new_project(
    path: Path,
    template: str | None = None,
    folder: Path | None = None,
    start: dt.date | None = None,
    today: dt.date | None = None,
    clock: dt.date | None = None,
    watch: Watch = unwatched,
) -> Imported:
    """Make a project file: an empty one, or one with what a template or a project folder holds.

    start: the day on which a project from a template starts, in place of the template's own; a
    folder's stays. today, clock, watch: as for import_folder. Never overwrites. ProblemError with
    everything that is wrong with the folder; then no file is left behind.
    """
    if template is not None and folder is not None:
        raise ProblemError(
            Problem(
                what="a project starts from a template or from a folder, not from both",
                do="give one of them",
            )
        )
    if path.exists():
        raise ProblemError(
            Problem(
                what="there is a file of this name already",
                do="choose another name",
                value=str(path),
            )
        )
    source = places.template(template) if template is not None else folder
    content = _read(EMPTY, source, watch) if source is not None else None
    if content is not None and template is not None and start is not None:
        content = _starting(content, start)
    if content is not None:
        watch(CHECKING)
        _bring(EMPTY, content, replace=False, today=today, clock=clock)
    with store.create(path) as project:
        if source is None or content is None:
            return Imported()
        try:
            what = f"began from {source.name}"
            made = _import(
                project,
                content,
                what,
                replace=False,
                why=BEGINNING,
                today=today,
                clock=clock,
                watch=watch,
            )
            carry(content.rows.get("files", ()), source, path.absolute().parent)
            return made
        except BaseException:
            project.close()
            for suffix in ("", "-wal", "-shm"):
                path.with_name(path.name + suffix).unlink(missing_ok=True)
            raise


def _starting(content: FolderContent, start: dt.date) -> FolderContent:
    """A template's content with another day on which its work begins."""
    projects = tuple(
        dataclasses.replace(row, start=start)
        for row in content.rows.get("project", (new(Project),))
    )
    columns = dict.fromkeys((*content.given.get("project", ()), "start"))
    return dataclasses.replace(
        content,
        rows={**content.rows, "project": projects},
        given={**content.given, "project": tuple(columns)},
    )


def import_folder(
    project: ProjectFile,
    folder: Path,
    replace: bool = False,
    today: dt.date | None = None,
    clock: dt.date | None = None,
    watch: Watch = unwatched,
) -> Imported:
    """Bring a project folder's rows into the project in one step; all of them, or none with a
    ProblemError.

    Same key updates, new key adds, a column that a file lacks keeps its values, an empty cell takes
    the default. Nothing goes, unless with replace: then the tables that the folder has hold its
    rows alone. today: the day that was asked for as today; where none was, the project's own day
    counts, else the clock's. A date after it that stands for what has happened is taken, moves no
    status date, and stands in the notes. Without any day it is not asked. watch: is told in words
    what is being done; what it raises leaves the file as it was.
    """
    content = _read(project.tables(), folder, watch)
    return _import(
        project,
        content,
        f"imported {folder.resolve().name}",
        replace,
        today=today,
        clock=clock,
        watch=watch,
    )


def export_folder(project: ProjectFile, folder: Path, with_files: bool = False) -> Exported:
    """Write the project as a folder of readable tables; into a new file it gives the same project
    again.

    A project folder that is there already is written anew, and the attached papers in it stay; one
    that holds anything else is refused. with_files: the attached papers are laid into the folder;
    without it the notes say how many it lacks.
    """
    rows = {
        table: values
        for table, values in project.tables().items()
        if table != table_of(SNAPSHOT_HEAD)
    }
    heads = project.rows(SNAPSHOT_HEAD)
    snapshots: Snapshots = {head.date: (head, project.snapshot(head.date)) for head in heads}
    replaced = write(folder, rows, snapshots)
    carried = carry(rows["files"], project.path.parent, folder, only_look=not with_files)
    notes = [f"the project folder that was at {folder} was replaced"] if replaced else []
    notes.extend(carried.remarks() if with_files else ())
    if carried.left:
        notes.append(
            f"{counted_papers(len(carried.left))} left behind; --with-files lays them into the"
            " folder"
        )
    return Exported(
        folder, replaced, sum(map(len, rows.values())), tuple(notes), len(carried.copied)
    )


def check_folder(folder: Path) -> tuple[Problem, ...]:
    """Everything that would keep a new project from being made of this folder, with its places."""
    try:
        _bring(EMPTY, _read(EMPTY, folder), replace=False)
    except ProblemError as error:
        return error.problems
    return ()


def _read(before: Rows, folder: Path, watch: Watch = unwatched) -> FolderContent:
    """A folder that is to be brought into a project.

    ProblemError with the faults of its files, and those between its rows.
    """
    content, problems = read_what_is_good(folder, watch)
    if problems:
        raise ProblemError(capped([*problems, *faults_across(before, content)]))
    return content


def _import(
    project: ProjectFile,
    content: FolderContent,
    what: str,
    replace: bool,
    why: str = "",
    today: dt.date | None = None,
    clock: dt.date | None = None,
    watch: Watch = unwatched,
) -> Imported:
    """The import itself, as one step."""
    changed: dict[dt.date, tuple[Snapshot, dict[str, str]] | None] = {}

    def change(before: Rows) -> tuple[Sound, Imported]:
        watch(CHECKING)
        after, notes, warnings = _bring(before, content, replace, today, clock)
        heads, snapshots = _snapshots(project, before, content, replace)
        changed.clear()
        changed.update(snapshots)
        counts = Counts(*(a + b for a, b in zip(counted(before, after), heads, strict=True)))
        return after, Imported(None, *counts, notes=notes, warnings=warnings)

    def put_snapshots(work: Work) -> bool:
        for place, (date, found) in enumerate(changed.items(), start=1):
            watch(f"Writing the snapshots, {place:,} of {len(changed):,}")
            if found is None:
                work.remove_snapshot(date)
            else:
                work.put_snapshot(*found)
        return bool(changed)

    return step(project, what, change, why, more=put_snapshots)


def _snapshots(
    project: ProjectFile, before: Rows, content: FolderContent, all_of_them: bool
) -> tuple[Counts, dict[dt.date, tuple[Snapshot, dict[str, str]] | None]]:
    """How the folder's snapshots differ from those that are there, and what to write by date: head
    and texts; None: it goes.
    """
    there = {head.date: head for head in before.get(table_of(SNAPSHOT_HEAD), ())}
    changed: dict[dt.date, tuple[Snapshot, dict[str, str]] | None] = {}
    for date, (brought, texts) in content.snapshots.items():
        head = (
            brought
            if brought.hash
            else dataclasses.replace(brought, hash=store.content_hash(texts))
        )
        if there.get(date) != head or project.snapshot(date) != texts:
            changed[date] = head, texts
    added = len(changed.keys() - there.keys())
    gone = (
        there.keys() - content.snapshots.keys()
        if all_of_them and content.snapshots
        else set[dt.date]()
    )
    return Counts(added, len(changed) - added, len(gone)), {**changed, **dict.fromkeys(gone)}


def _bring(
    before: Rows,
    content: FolderContent,
    replace: bool,
    today: dt.date | None = None,
    clock: dt.date | None = None,
) -> tuple[Sound, tuple[str, ...], tuple[str, ...]]:
    """The rows after the import, notes on what followed from it, and which of them are warnings.

    ProblemError with every fault that it would bring.
    """
    after = merged(before, content, replace)
    row = next(iter(after.get("project", ())), None)
    day = today_of(row, today, clock) if clock else today
    brought = Brought(
        content.rows, content.holidays_kept, replace and "calendar_days" in content.rows
    )
    try:
        made, notes = followed(before, after, day, brought)
        ahead = (
            {problem.sentence() for problem in refused_facts(before, after, day)}
            if day is not None
            else set()
        )
        return sound(before, made), notes, tuple(note for note in notes if note in ahead)
    except ProblemError as error:
        raise ProblemError(capped(located(error.problems, content))) from None
