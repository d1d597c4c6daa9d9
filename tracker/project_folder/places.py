"""Where the folders that come with the program lie: in an installed wheel, or beside the package in
a checkout.
"""

from __future__ import annotations

from pathlib import Path

from tracker.values.problems import Problem, ProblemError


def folder(name: str) -> Path:
    """The folder `templates` or `sample_project`.

    FileNotFoundError if the installation lacks it. Never write there.
    """
    package = Path(__file__).resolve().parent.parent
    for place in (package / "_data" / name, package.parent / name):
        if place.is_dir():
            return place
    raise FileNotFoundError(f"the program's own folder {name} is missing from this installation")


def folder_or_ours(given: Path) -> Path:
    """A folder as given; if there is none of that name, the template's folder that it names, like
    jurisdictions/ga.
    """
    if given.exists() or given.is_absolute() or ".." in given.parts:
        return given
    ours = folder("templates") / given
    return ours if len(given.parts) == 2 and ours.is_dir() else given


def template_names() -> tuple[str, ...]:
    """The conversions that a project can start from."""
    return tuple(
        sorted(p.name for p in (folder("templates") / "conversions").glob("*") if p.is_dir())
    )


def template(name: str) -> Path:
    """The project folder of a template; ProblemError lists those that there are."""
    if name not in template_names():
        names = ", ".join(template_names()) or "none"
        raise ProblemError(
            Problem(what="there is no such template", do=f"choose one of: {names}", value=name)
        )
    return folder("templates") / "conversions" / name
