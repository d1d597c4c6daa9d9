"""Rows of approvals: notices, permits, inspections, checklist, answers, hearings, protest."""

from __future__ import annotations

from tracker.approvals import records
from tracker.project_file.rows.columns import Row, constraints, of_number, of_text


class NoticeRow(Row, table=True):
    """Notices that a body must give before its meeting."""

    __tablename__ = "notices"
    __table_args__ = constraints(records.Notice)

    calendar: str = of_text(key=True)
    kind: str = of_text(key=True)
    latest_days: int | None = of_number()
    earliest_days: int | None = of_number()
    count: str = of_text()
    radius_ft: int | None = of_number()
    basis: str = of_text()


class PermitRow(Row, table=True):
    """Permits and their clocks."""

    __tablename__ = "permits"
    __table_args__ = constraints(records.Permit)

    code: str = of_text(key=True)
    kind: str = of_text()
    authority: str = of_text()
    number: str = of_text()
    applied: str | None = of_text()
    issued: str | None = of_text()
    expires: str | None = of_text()
    note: str = of_text()


class InspectionRow(Row, table=True):
    """Inspections in their order, and what the inspector said."""

    __tablename__ = "inspections"
    __table_args__ = constraints(records.Inspection)

    code: str = of_text(key=True)
    permit: str | None = of_text()
    name: str = of_text()
    activity: str | None = of_text()
    covers: str = of_text()
    ask_days_ahead: int | None = of_number()
    requested: str | None = of_text()
    date: str | None = of_text()
    present: str = of_text()
    state: str = of_text()
    fee: int | None = of_number()


class InspectionItemRow(Row, table=True):
    """What the inspector asked to be corrected."""

    __tablename__ = "inspection_items"
    __table_args__ = constraints(records.InspectionItem)

    inspection: str = of_text(key=True)
    item: str = of_text(key=True)
    text: str = of_text()
    closed_on: str | None = of_text()
    evidence: str = of_text()


class ChecklistItemRow(Row, table=True):
    """The checklist for the change of use."""

    __tablename__ = "checklist"
    __table_args__ = constraints(records.ChecklistItem)

    code: str = of_text(key=True)
    stage: str = of_text()
    title: str = of_text()
    why: str = of_text()
    governs: str = of_text()
    evidence: str = of_text()
    waits_on: str = of_text()
    lead_days: int | None = of_number()
    due: str | None = of_text()
    state: str = of_text()
    reason: str = of_text()
    activity: str | None = of_text()
    source: str = of_text()
    applies_when: str = of_text()


class AnswerRow(Row, table=True):
    """Questions on the project, who may build, and inputs of the code study."""

    __tablename__ = "answers"
    __table_args__ = constraints(records.Answer)

    question: str = of_text(key=True)
    answer: str = of_text()
    source: str = of_text()
    checked_on: str | None = of_text()
    text_as_of: str | None = of_text()


class FireLayoutRow(Row, table=True):
    """Ways to divide the building into fire areas, to compare by cost."""

    __tablename__ = "fire_layouts"
    __table_args__ = constraints(records.FireLayout)

    code: str = of_text(key=True)
    name: str = of_text()
    areas_sf: str = of_text()
    wall_ft: int | None = of_number()
    wall_price: int | None = of_number()
    sprinklers: int | None = of_number()
    sprinkler_price: int | None = of_number()
    note: str = of_text()


class HearingRow(Row, table=True):
    """Applications before a body and what came of them."""

    __tablename__ = "hearings"
    __table_args__ = constraints(records.Hearing)

    code: str = of_text(key=True)
    activity: str | None = of_text()
    calendar: str = of_text()
    filed_on: str | None = of_text()
    hearing_on: str | None = of_text()
    outcome: str | None = of_text()
    continued_to: str | None = of_text()
    votes_for: int | None = of_number()
    votes_against: int | None = of_number()
    note: str = of_text()


class ProtestRow(Row, table=True):
    """Areas that are entitled to protest, and that protested."""

    __tablename__ = "protest"
    __table_args__ = constraints(records.Protest)

    class_: str = of_text("class", key=True)
    entitled_sf: int = of_number()
    protesting_sf: int = of_number()
