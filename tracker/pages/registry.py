"""The register of views: each with its question, its answer, its page, and what stands behind it.

A view is one entry here. The commands, the keys of the screen, its tables, its prints, the help and
the palette read this list and nothing else. Answers and pages are loaded when they are asked for.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from tracker.pages.page import Page
    from tracker.project_file.store import ProjectFile


@dataclass(frozen=True, slots=True)
class View:
    """A view.

    code: by which it is asked for. question: what it answers. ask: its answer for a project as of a
    day. page: what a person reads of that answer. to_read: the answer for a page, where that is
    more than `ask` gives. tables: those behind it, in the order in which a person fills them.
    prints: the documents that belong to it, the usual one first. has_key: whether it has a key of
    its own on the screen.
    """

    code: str
    question: str
    ask: Callable[[ProjectFile, dt.date], Any]
    page: Callable[[Any], Page]
    to_read: Callable[[ProjectFile, dt.date], Any] | None = None
    tables: tuple[str, ...] = ()
    prints: tuple[str, ...] = ()
    has_key: bool = True

    @property
    def name(self) -> str:
        """The name that people see."""
        return self.code.capitalize()

    def read(self, project: ProjectFile, today: dt.date) -> Any:
        """The answer that a person reads."""
        return (self.to_read or self.ask)(project, today)


def _morning(project: ProjectFile, today: dt.date) -> Any:
    from tracker.answers.morning import answer

    return answer(project, today)


def _morning_page(answer: Any) -> Page:
    from tracker.pages.morning import page

    return page(answer)


def _path(project: ProjectFile, today: dt.date) -> Any:
    from tracker.answers.path import answer

    return answer(project, today)


def _path_to_read(project: ProjectFile, today: dt.date) -> Any:
    from tracker.answers.path import with_baseline

    return with_baseline(project, today)


def _path_page(answer: Any) -> Page:
    from tracker.pages.path import page

    return page(answer)


def _cost(project: ProjectFile, today: dt.date) -> Any:
    from tracker.answers.cost import answer

    return answer(project, today)


def _cost_page(answer: Any) -> Page:
    from tracker.pages.cost import page

    return page(answer)


def _rezoning(project: ProjectFile, today: dt.date) -> Any:
    from tracker.answers.rezoning import answer

    return answer(project, today)


def _rezoning_page(answer: Any) -> Page:
    from tracker.pages.rezoning import page

    return page(answer)


def _permits(project: ProjectFile, today: dt.date) -> Any:
    from tracker.answers.permits import answer

    return answer(project, today)


def _permits_page(answer: Any) -> Page:
    from tracker.pages.permits import page

    return page(answer)


def _trades(project: ProjectFile, today: dt.date) -> Any:
    from tracker.answers.trades import answer

    return answer(project, today)


def _trades_page(answer: Any) -> Page:
    from tracker.pages.trades import page

    return page(answer)


def _changes(project: ProjectFile, today: dt.date) -> Any:
    from tracker.answers.changes import answer

    return answer(project, today)


def _changes_page(answer: Any) -> Page:
    from tracker.pages.changes import page

    return page(answer)


def _draws(project: ProjectFile, today: dt.date) -> Any:
    from tracker.answers.draws import answer

    return answer(project, today)


def _draws_page(answer: Any) -> Page:
    from tracker.pages.draws import page

    return page(answer)


def _slip(project: ProjectFile, today: dt.date) -> Any:
    from tracker.answers.slip import answer

    return answer(project, today)


def _slip_page(answer: Any) -> Page:
    from tracker.pages.slip import page

    return page(answer)


def _risk(project: ProjectFile, today: dt.date) -> Any:
    from tracker.answers.risk import answer

    return answer(project, today)


def _risk_page(answer: Any) -> Page:
    from tracker.pages.risk import page

    return page(answer)


def _health(project: ProjectFile, today: dt.date) -> Any:
    from tracker.answers.health import answer

    return answer(project, today)


def _health_page(answer: Any) -> Page:
    from tracker.pages.health import page

    return page(answer)


def _study(project: ProjectFile, today: dt.date) -> Any:
    from tracker.answers.study import answer

    return answer(project, today)


def _study_page(answer: Any) -> Page:
    from tracker.pages.study import page

    return page(answer)


def _papers(project: ProjectFile, today: dt.date) -> Any:
    from tracker.answers.papers import answer

    return answer(project, today)


def _papers_page(answer: Any) -> Page:
    from tracker.pages.papers import page

    return page(answer)


VIEWS: tuple[View, ...] = (
    View(
        "morning",
        "What must happen next?",
        _morning,
        _morning_page,
        tables=(
            "project",
            "overrides",
            "files",
        ),
        prints=(
            "lookahead",
            "inspections",
            "hearings",
        ),
    ),
    View(
        "path",
        "When do we open, and what drives it?",
        _path,
        _path_page,
        to_read=_path_to_read,
        tables=(
            "activities",
            "links",
            "deliveries",
            "calendars",
            "calendar_days",
            "weather",
            "step_costs",
            "risks",
            "buying_days",
        ),
        prints=(
            "schedule",
            "lookahead",
            "risk",
        ),
    ),
    View(
        "cost",
        "What does it cost per square foot?",
        _cost,
        _cost_page,
        tables=(
            "cost_lines",
            "budget_moves",
            "spaces",
        ),
        prints=("budget",),
    ),
    View(
        "rezoning",
        "May we use it this way?",
        _rezoning,
        _rezoning_page,
        tables=(
            "checklist",
            "hearings",
            "notices",
            "protest",
            "answers",
            "fire_layouts",
        ),
        prints=(
            "checklist",
            "hearings",
        ),
    ),
    View(
        "permits",
        "What must be inspected, and what did the inspector say?",
        _permits,
        _permits_page,
        tables=(
            "permits",
            "inspections",
            "inspection_items",
        ),
        prints=(
            "inspections",
            "checklist",
            "lookahead",
        ),
    ),
    View(
        "trades",
        "Who does what, for how much, and can I trust their papers?",
        _trades,
        _trades_page,
        tables=(
            "contractors",
            "papers",
            "packages",
            "package_items",
            "bids",
            "bid_answers",
            "words_given",
            "site_log",
        ),
        prints=(
            "bids",
            "lookahead",
        ),
    ),
    View(
        "changes",
        "What changed, who agreed, what does it do to money and time?",
        _changes,
        _changes_page,
        tables=(
            "changes",
            "change_lines",
        ),
    ),
    View(
        "draws",
        "Whom may I pay, and will the lender fund it?",
        _draws,
        _draws_page,
        tables=(
            "contracts",
            "contract_lines",
            "retainage_events",
            "applications",
            "application_lines",
            "waivers",
            "lien_notices",
            "invoices",
            "payments",
            "sources",
            "draws",
            "draw_lines",
            "draw_papers",
        ),
        prints=(
            "draw",
            "application",
        ),
    ),
    View(
        "slip",
        "Why are we late, through whom, at what cost?",
        _slip,
        _slip_page,
        tables=(
            "snapshots",
            "delays",
        ),
        prints=("slip",),
    ),
    View(
        "risk",
        "How sure is the opening?",
        _risk,
        _risk_page,
        has_key=False,
    ),
    View(
        "health",
        "Is the schedule sound?",
        _health,
        _health_page,
        has_key=False,
    ),
    View(
        "study",
        "What does the building code ask?",
        _study,
        _study_page,
        has_key=False,
    ),
    View(
        "papers",
        "Whose papers hold, and for how long?",
        _papers,
        _papers_page,
        has_key=False,
    ),
)
"""Every view: first the nine in the order of their keys, then those without one."""

BY_CODE = {view.code: view for view in VIEWS}
"""The views by their code."""

WITH_KEYS = tuple(view for view in VIEWS if view.has_key)
"""The views that have a key on the screen, in the order of their keys."""
