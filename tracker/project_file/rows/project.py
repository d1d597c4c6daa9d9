"""Rows of the project, its spaces, attached files and overrides."""

from __future__ import annotations

from tracker.project_file.rows.columns import Row, constraints, of_number, of_text
from tracker.values import project


class ProjectRow(Row, table=True):
    """The project: one row."""

    __tablename__ = "project"
    __table_args__ = constraints(project.Project)

    only_row: int = of_number(key=True)
    name: str = of_text()
    address: str = of_text()
    existing_use: str = of_text()
    proposed_use: str = of_text()
    start: str = of_text()
    status_date: str | None = of_text()
    opening: str | None = of_text()
    promised_opening: str | None = of_text()
    jurisdiction: str = of_text()
    currency: str = of_text()
    loan_interest_per_day: int | None = of_number()
    insurance_per_day: int | None = of_number()
    tax_per_day: int | None = of_number()
    utilities_per_day: int | None = of_number()
    rent_per_day: int | None = of_number()
    vacancy: int | None = of_number()
    running_costs_per_month: int | None = of_number()
    value_when_done: int | None = of_number()
    cash_on_hand: int | None = of_number()
    pinned_today: str | None = of_text()
    funding_days: int | None = of_number()
    payment_days: int | None = of_number()
    near_critical_days: int = of_number()
    risk_shape: str = of_text()
    risk_trials: int = of_number()
    risk_seed: int = of_number()
    common_cause: int = of_number()
    low_bid_share: int = of_number()


class SpaceRow(Row, table=True):
    """Rooms, bays and other areas of the building."""

    __tablename__ = "spaces"
    __table_args__ = constraints(project.Space)

    code: str = of_text(key=True)
    name: str = of_text()
    use: str = of_text()
    gross_sf: int | None = of_number()
    rentable_sf: int | None = of_number()
    units: int | None = of_number()
    fire_area: str | None = of_text()
    rent_per_month: int | None = of_number()
    function: str = of_text()


class OverrideRow(Row, table=True):
    """Reasoned exceptions to a rule that stops something."""

    __tablename__ = "overrides"
    __table_args__ = constraints(project.Override)

    code: str = of_text(key=True)
    what: str = of_text()
    key: str = of_text()
    date: str = of_text()
    reason: str = of_text()


class AttachedFileRow(Row, table=True):
    """Attached papers: the original stays where it is, its fingerprint is kept."""

    __tablename__ = "files"
    __table_args__ = constraints(project.AttachedFile)

    code: str = of_text(key=True)
    table: str = of_text()
    key: str = of_text()
    path: str = of_text()
    sha256: str = of_text()
