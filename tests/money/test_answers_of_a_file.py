"""Cost and draws asked of a project file, with a baseline closed in it."""

from __future__ import annotations

from pathlib import Path

from tests.money.making import cents, day
from tests.money.test_planned_value import baseline
from tracker.actions.snapshots import take_snapshot
from tracker.answers import cost, draws
from tracker.answers.as_json import as_json
from tracker.project_file.store import create


def test_a_file_answers_as_its_rows_do_with_its_baseline(tmp_path: Path) -> None:
    site = (
        baseline()
        .application(1, {"A": 10_000, "B": 400}, period_to="1-18")
        .pay("1-19", 9_000, number=1)
    )
    with create(tmp_path / "project.db") as project:
        with project.work("entered") as work:
            for table in (
                "project",
                "calendars",
                "contractors",
                "cost_lines",
                "contracts",
                "activities",
                "links",
            ):
                for row in site.tables[table]:
                    work.put(row)
            for table in ("contract_lines", "applications", "application_lines", "payments"):
                for row in site.tables[table]:
                    work.put(row)
            work.keep()
        take_snapshot(project, day("1-3"), baseline=True)
        answer = cost.answer(project, day("1-20"))
        assert answer.earned_value.bcws_cents == cents(13_000)
        assert answer.earned_value.spi == "0.800"
        assert answer.total.paid_cents == cents(9_000)
        assert draws.answer(project, day("1-20")).forecast_opening == day("1-22")
        assert as_json(answer)["earned_value"]["spi"] == "0.800"
