"""Study: what does the building code ask?

A first look, to know what to ask the design professional and the officials.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from tracker.answers.code_figures import code_tables
from tracker.approvals import cautions
from tracker.approvals.questions import is_old
from tracker.approvals.study import whole as study
from tracker.approvals.study.building import Building, SpaceLoad, building_of
from tracker.approvals.study.figures import LOCAL, figures_of, local_problem
from tracker.approvals.study.inputs import InputLine, inputs_of
from tracker.approvals.study.layouts import LayoutLine, compare
from tracker.approvals.study.lines import StudyLine
from tracker.project_file.store import ProjectFile
from tracker.values.records import Rows

NOTICE = (
    "A first look, not advice: it says what lies under, close to or over the figure of a model"
    " code, and what to ask. It never says that a plan is lawful. The adopted edition with its"
    " local amendments, the design professional and the officials govern."
)


@dataclass(frozen=True, slots=True)
class SpaceRow:
    """One space with its people. sq_ft_each: square feet a person by the function; section and
    edition of that figure.
    """

    code: str
    name: str
    function: str
    fire_area: str
    sq_ft: int | None
    sq_ft_each: int | None
    occupants: int | None
    section: str
    edition: str
    source: str


@dataclass(frozen=True, slots=True)
class AreaRow:
    """One fire area. unmeasured: its spaces without square feet. assigned: no for the spaces that
    name no fire area.
    """

    code: str
    sq_ft: int
    occupants: int | None
    unmeasured: tuple[str, ...]
    assigned: bool


@dataclass(frozen=True, slots=True)
class TopicCount:
    """How the lines of a topic stand."""

    topic: str
    over: int
    close: int
    ask: int
    under: int


@dataclass(frozen=True, slots=True)
class StudyAnswer:
    """The study. edition: the building code that the town adopted, blank if nobody said. layouts:
    of fire walls, by cost.
    """

    existing_group: str
    proposed_group: str
    edition: str
    occupants: int | None
    lines: tuple[StudyLine, ...]
    topics: tuple[TopicCount, ...]
    layouts: tuple[LayoutLine, ...]
    fire_areas: tuple[AreaRow, ...]
    spaces: tuple[SpaceRow, ...]
    inputs: tuple[InputLine, ...]
    cautions: tuple[cautions.CautionLine, ...]
    notice: str


def answer(project: ProjectFile, today: dt.date) -> StudyAnswer:
    """The answer for a project file on a day."""
    return from_rows(project.tables(), today)


def from_rows(rows: Rows, today: dt.date) -> StudyAnswer:
    """The answer from a project's rows."""
    building = building_from(rows, today)
    lines = study.lines(building)
    return StudyAnswer(
        existing_group=" ".join(building.existing),
        proposed_group=" ".join(building.proposed),
        edition=building.figures.edition,
        occupants=building.occupants,
        lines=lines,
        topics=topics_of(lines),
        layouts=compare(tuple(rows.get("fire_layouts", ())), building),
        fire_areas=tuple(
            AreaRow(a.code, a.sq_ft, a.occupants, a.unmeasured, a.assigned)
            for a in building.fire_areas
        ),
        spaces=tuple(_space(load) for load in building.loads),
        inputs=(*building.inputs.lines, *local_figures(rows, today)),
        cautions=cautions.lines("study"),
        notice=NOTICE,
    )


def building_from(rows: Rows, today: dt.date) -> Building:
    """The building as the study sees it, with the figures that hold for it."""
    answers = tuple(rows.get("answers", ()))
    inputs = inputs_of(answers, today)
    figures = figures_of(code_tables(), answers, inputs.get("code_edition") or "", today)
    return building_of(inputs, figures, tuple(rows.get("spaces", ())))


def local_figures(rows: Rows, today: dt.date) -> tuple[InputLine, ...]:
    """The local figures that were entered; one that replaces nothing says why."""
    return tuple(
        InputLine(
            question=one.question,
            meaning="local figure in place of the table's",
            answer=one.answer.strip(),
            source=one.source,
            checked_on=one.checked_on,
            old=is_old(one.checked_on, today),
            problem=local_problem(code_tables(), one),
            on_record=True,
        )
        for one in rows.get("answers", ())
        if one.question.startswith(LOCAL) and one.answer.strip()
    )


def topics_of(lines: tuple[StudyLine, ...]) -> tuple[TopicCount, ...]:
    """How each topic stands, in the order of the study."""
    counts: dict[str, dict[str, int]] = {}
    for line in lines:
        counts.setdefault(line.topic, dict.fromkeys(("over", "close", "ask", "under"), 0))[
            line.verdict
        ] += 1
    return tuple(TopicCount(topic=topic, **count) for topic, count in counts.items())


def _space(load: SpaceLoad) -> SpaceRow:
    """One space for the answer."""
    basis = load.row.basis if load.row else None
    return SpaceRow(
        code=load.code,
        name=load.name,
        function=load.function,
        fire_area=load.fire_area,
        sq_ft=load.sq_ft,
        sq_ft_each=load.sq_ft_each,
        occupants=load.occupants,
        section=basis.section if basis else "",
        edition=basis.edition if basis else "",
        source=basis.source if basis else "",
    )
