"""Attached papers come along with a new project, only from inside of its folder, and never over
something that is there.
"""

from __future__ import annotations

from pathlib import Path

from tracker.actions.carrying import carry
from tracker.values.project import AttachedFile


def attached(path: str) -> AttachedFile:
    """A paper at a path."""
    return AttachedFile(code="F-1", table="permits", key="P-1", path=path)


def places(tmp_path: Path) -> tuple[Path, Path]:
    """A project folder with one paper, a secret beside it, and the place of the new file."""
    folder, beside = tmp_path / "folder", tmp_path / "new"
    (folder / "papers").mkdir(parents=True)
    beside.mkdir()
    (folder / "papers" / "permit.txt").write_text("permit")
    (tmp_path / "secret.txt").write_text("secret")
    return folder, beside


def test_a_paper_of_the_folder_is_copied_to_the_same_place(tmp_path: Path) -> None:
    folder, beside = places(tmp_path)
    assert carry([attached("papers/permit.txt")], folder, beside).copied == ["papers/permit.txt"]
    assert (beside / "papers" / "permit.txt").read_text() == "permit"


def test_nothing_is_written_over(tmp_path: Path) -> None:
    folder, beside = places(tmp_path)
    (beside / "papers").mkdir()
    (beside / "papers" / "permit.txt").write_text("mine")
    done = carry([attached("papers/permit.txt")], folder, beside)
    assert (done.copied, done.unlike) == ([], ["papers/permit.txt"])
    assert (beside / "papers" / "permit.txt").read_text() == "mine"


def test_a_path_that_leads_out_of_the_folder_is_left_alone(tmp_path: Path) -> None:
    folder, beside = places(tmp_path)
    (folder / "papers" / "out.txt").symlink_to(tmp_path / "secret.txt")
    (folder / "papers" / "loop.txt").symlink_to("loop.txt")
    odd = [
        "papers/loop.txt",
        "../secret.txt",
        str(tmp_path / "secret.txt"),
        "papers/out.txt",
        "papers",
        "papers/not-there.txt",
        "x" * 5000,
    ]
    done = carry([attached(path) for path in odd], folder, beside)
    assert (done.copied, len(done.unfit)) == ([], len(odd))
    assert list(beside.rglob("*.txt")) == []
