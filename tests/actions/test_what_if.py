"""Keeping a what-if: one step, or nothing."""

from __future__ import annotations

from pathlib import Path

import pytest

from tracker.actions.rows import save
from tracker.actions.what_if import keep
from tracker.project_file.store import StaleError, create
from tracker.values.problems import ProblemError


def test_all_changes_are_one_step_that_undo_takes_back(tmp_path: Path) -> None:
    with create(tmp_path / "p.db") as project:
        for code in ("FRAME", "ROOF"):
            save(project, "activities", code, {"duration": "5"})
        before = project.tables()
        saved = keep(
            project,
            (("activities", "ROOF", {"duration": "8"}), ("links", "FRAME/ROOF/FS", {})),
            before,
        )
        assert saved.step is not None
        assert [row.duration for row in project.tables()["activities"]] == [5, 8]
        assert [(link.from_, link.to) for link in project.tables()["links"]] == [("FRAME", "ROOF")]
        project.undo()
        assert project.tables() == before


def test_a_row_that_somebody_changed_meanwhile_is_not_written_over(tmp_path: Path) -> None:
    with create(tmp_path / "p.db") as project:
        save(project, "activities", "ROOF", {"duration": "5"})
        seen = project.tables()
        save(project, "activities", "ROOF", {"duration": "6"})
        with pytest.raises(StaleError):
            keep(project, (("activities", "ROOF", {"duration": "8"}),), seen)
        assert project.tables()["activities"][0].duration == 6


def test_what_the_rules_refuse_is_not_kept_in_part(tmp_path: Path) -> None:
    with create(tmp_path / "p.db") as project:
        for code in ("FRAME", "ROOF"):
            save(project, "activities", code, {"duration": "5"})
        save(project, "links", "FRAME/ROOF/FS", {})
        before = project.tables()
        with pytest.raises(ProblemError, match="circle"):
            keep(
                project,
                (("activities", "ROOF", {"duration": "8"}), ("links", "ROOF/FRAME/FS", {})),
                before,
            )
        assert project.tables() == before
