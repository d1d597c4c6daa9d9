"""Project folders: a new project from one, one brought into a project, a project written as one."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from tracker.actions.carrying import carry, counted
from tracker.actions.holiday_days import with_holidays
from tracker.actions.keeping import Counts, changing, write_difference
from tracker.project_file import store
from tracker.project_file.history import BEGINNING
from tracker.project_file.store import ProjectFile, Step, Work
from tracker.project_folder import places
from tracker.project_folder.across import faults_across
from tracker.project_folder.content import FolderContent, capped, located
from tracker.project_folder.merging import merged
from tracker.project_folder.reading import read_what_is_good
from tracker.project_folder.writing import Snapshots, write
from tracker.tables import SNAPSHOT_HEAD, TABLES
from tracker.tables.consequences import status_moved
from tracker.tables.facts import refused_facts
from tracker.tables.faults import new_faults
from tracker.tables.heard import filings_told, outcomes_followed
from tracker.tables.inspected import results_followed
from tracker.values.problems import Problem, ProblemError
from tracker.values.project import Project, today_of
from tracker.values.records import Rows, key_of, new, table_of

EMPTY: Rows = {"project": (new(Project),)}
"""A new project."""


@dataclass(frozen=True)
class Imported:
    """What an import did. step: None where the file held all of it already. Counts are of rows; a snapshot counts as one."""

    step: Step | None = None
    added: int = 0
    changed: int = 0
    removed: int = 0
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Exported:
    """What an export did. replaced: a project folder that was there was written anew. papers: so many were laid into it."""

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
) -> Imported:
    """Make a project file: an empty one, or one with what a template or a project folder holds.

    start: the day on which a project from a template starts, in place of the template's own; a folder's stays.
    today, clock: as for import_folder.
    Never overwrites. ProblemError with everything that is wrong with the folder; then no file is left behind.
    """
    if template is not None and folder is not None:
        raise ProblemError(
            Problem(what="a project starts from a template or from a folder, not from both", do="give one of them")
        )
    if path.exists():
        raise ProblemError(Problem(what="there is a file of this name already", do="choose another name", value=str(path)))
    source = places.template(template) if template is not None else folder
    content = _read(EMPTY, source) if source is not None else None
    if content is not None and template is not None and start is not None:
        content = _starting(content, start)
    if content is not None:
        _bring(EMPTY, content, replace=False, today=today, clock=clock)
    with store.create(path) as project:
        if source is None or content is None:
            return Imported()
        try:
            made = _import(project, content, f"began from {source.name}", replace=False, why=BEGINNING, today=today, clock=clock)
            carry(content.rows.get("files", ()), source, path.absolute().parent)
            return made
        except BaseException:
            project.close()
            for suffix in ("", "-wal", "-shm"):
                path.with_name(path.name + suffix).unlink(missing_ok=True)
            raise


def _starting(content: FolderContent, start: dt.date) -> FolderContent:
    """A template's content with another day on which its work begins."""
    projects = tuple(replace(row, start=start) for row in content.rows.get("project", (new(Project),)))
    columns = dict.fromkeys((*content.given.get("project", ()), "start"))
    return replace(content, rows={**content.rows, "project": projects}, given={**content.given, "project": tuple(columns)})


def import_folder(
    project: ProjectFile, folder: Path, replace: bool = False, today: dt.date | None = None, clock: dt.date | None = None
) -> Imported:
    """Bring a project folder's rows into the project in one step; all of them, or none with a ProblemError.

    Same key updates, new key adds, a column that a file lacks keeps its values, an empty cell takes the default. Nothing
    goes, unless with replace: then the tables that the folder has hold its rows alone.
    today: the day that was asked for as today; where none was, the project's own day counts, else the clock's. A date after it
    that stands for what has happened is taken, moves no status date, and stands in the notes. Without any day it is not asked.
    """
    content = _read(project.tables(), folder)
    return _import(project, content, f"imported {folder.resolve().name}", replace, today=today, clock=clock)


def export_folder(project: ProjectFile, folder: Path, with_files: bool = False) -> Exported:
    """Write the project as a folder of readable tables; into a new file it gives the same project again.

    A project folder that is there already is written anew, and the attached papers in it stay; one that holds anything else is
    refused. with_files: the attached papers are laid into the folder; without it the notes say how many it lacks.
    """
    rows = {table: values for table, values in project.tables().items() if table != table_of(SNAPSHOT_HEAD)}
    heads = project.rows(SNAPSHOT_HEAD)
    snapshots: Snapshots = {head.date: (head, project.snapshot(head.date)) for head in heads}
    replaced = write(folder, rows, snapshots)
    carried = carry(rows["files"], project.path.parent, folder, only_look=not with_files)
    notes = [f"the project folder that was at {folder} was replaced"] if replaced else []
    notes.extend(carried.remarks() if with_files else ())
    if carried.left:
        notes.append(f"{counted(len(carried.left))} left behind; --with-files lays them into the folder")
    return Exported(folder, replaced, sum(map(len, rows.values())), tuple(notes), len(carried.copied))


def check_folder(folder: Path) -> tuple[Problem, ...]:
    """Everything that would keep a new project from being made of this folder, with its places."""
    try:
        _bring(EMPTY, _read(EMPTY, folder), replace=False)
    except ProblemError as error:
        return error.problems
    return ()


def _read(before: Rows, folder: Path) -> FolderContent:
    """A folder that is to be brought into a project. ProblemError with the faults of its files, and those between its rows."""
    content, problems = read_what_is_good(folder)
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
) -> Imported:
    """The import itself, as one step."""
    with changing(project, what, why) as (work, before):
        after, notes = _bring(before, content, replace, today, clock)
        rows = write_difference(work, before, after)
        heads = _put_snapshots(project, work, content, replace)
        counts = Counts(*(a + b for a, b in zip(rows, heads, strict=True)))
        step = work.keep() if any(counts) or _order(before) != _order(after) else None
        return Imported(step, *counts, notes=tuple(notes))


def _put_snapshots(project: ProjectFile, work: Work, content: FolderContent, all_of_them: bool) -> Counts:
    """The folder's snapshots; one of a date that is there already is changed only where it differs."""
    there = {head.date: head for head in work.rows(SNAPSHOT_HEAD)}
    added = changed = removed = 0
    for date, (brought, texts) in content.snapshots.items():
        head = brought if brought.hash else replace(brought, hash=store.content_hash(texts))
        if date not in there:
            added += 1
        elif there[date] != head or project.snapshot(date) != texts:
            changed += 1
        else:
            continue
        work.put_snapshot(head, texts)
    if all_of_them and content.snapshots:
        for date in there.keys() - content.snapshots.keys():
            removed += 1
            work.remove_snapshot(date)
    return Counts(added, changed, removed)


def _order(rows: Rows) -> dict[str, list[tuple[object, ...]]]:
    """The order of all rows, by their keys."""
    return {table_of(kind): [key_of(row) for row in rows.get(table_of(kind), ())] for kind in TABLES}


def _bring(
    before: Rows, content: FolderContent, replace: bool, today: dt.date | None = None, clock: dt.date | None = None
) -> tuple[dict[str, Any], list[str]]:
    """The rows after the import, and notes on what followed from it. ProblemError with every fault that it would bring."""
    after = merged(before, content, replace)
    try:
        replaced = replace and "calendar_days" in content.rows
        after, notes = with_holidays(before, after, content.rows, content.holidays_kept, replaced)
    except ProblemError as error:
        raise ProblemError(located(error.problems, content)) from None
    row = next(iter(after.get("project", ())), None)
    day = today_of(row, today, clock) if clock else today
    ahead = [problem.sentence() for problem in refused_facts(before, after, day)] if day else []
    after, heard = outcomes_followed(before, after)
    after, inspected = results_followed(before, after)
    after, moved = status_moved(after, day)
    if problems := new_faults(before, after):
        raise ProblemError(capped(located(problems, content)))
    return after, [*notes, *heard, *inspected, *([moved] if moved else []), *filings_told(before, after), *ahead]
