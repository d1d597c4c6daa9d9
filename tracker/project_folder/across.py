"""Faults between the rows of a folder that has faults in its files, too: so that one look at the
list is enough.
"""

from __future__ import annotations

from dataclasses import replace

from tracker.project_folder.content import FolderContent, located
from tracker.project_folder.merging import merged
from tracker.tables.faults import ROOMS, faults
from tracker.tables.keys_and_references import Keys, broken_references, unknown_parties
from tracker.values.problems import Problem
from tracker.values.records import Rows


def faults_across(before: Rows, content: FolderContent) -> list[Problem]:
    """What is wrong between the rows that could be read, of a folder that is to be brought into a
    project.

    Only what is certain: a code may name a row that could not be read; and a room is asked only if
    all of its tables could be read without a fault.
    """
    readable = {
        table: (*rows, *content.doubtful.get(table, ())) for table, rows in content.rows.items()
    }
    after = merged(before, replace(content, rows=readable))
    keys = Keys(after, content.unsure)
    found = [*broken_references(after, keys), *unknown_parties(after, keys)]
    in_doubt = content.unsure | {table for table, rows in content.doubtful.items() if rows}
    for room in ROOMS:
        if room.tables.isdisjoint(in_doubt):
            found.extend(room.faults(after))
    known = set(faults(before)) if found else set()
    return located([problem for problem in found if problem not in known], content)
