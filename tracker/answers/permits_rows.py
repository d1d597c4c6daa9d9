"""The rows of the Permits answer."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from tracker.approvals import cautions, certificate
from tracker.approvals.inspections import Uncovered


@dataclass(frozen=True, slots=True)
class PermitRow:
    """One permit with its clock: see approvals.permits.Clock. passed: inspections passed, of: all
    that are not called off.
    """

    code: str
    kind: str
    authority: str
    number: str
    applied: dt.date | None
    issued: dt.date | None
    expires: dt.date | None
    state: str
    counts_from: dt.date | None
    lapses_on: dt.date | None
    ends_on: dt.date | None
    days_left: int | None
    passed: int
    of: int
    note: str
    text: str
    mark: str


@dataclass(frozen=True, slots=True)
class CorrectionItem:
    """What the inspector asked to be corrected."""

    item: str
    text: str
    closed_on: dt.date | None
    evidence: str
    open: bool


@dataclass(frozen=True, slots=True)
class InspectionRow:
    """One inspection. day: set, or by the plan (day_basis "set" or "plan"). ask_by: last day to ask
    for it.

    passed: by itself or by a re-inspection (repeated_by). may_not_cover: activities that must wait
    for it. visit: the how many-eth visit to the same thing this is; fees_cents: fees of these
    visits so far, this one with them.
    """

    code: str
    permit: str
    name: str
    activity: str
    state: str
    passed: bool
    day: dt.date | None
    day_basis: str
    ask_by: dt.date | None
    ask_days_left: int | None
    requested: dt.date | None
    present: str
    fee_cents: int | None
    covers: tuple[str, ...]
    may_not_cover: tuple[str, ...]
    repeated_by: tuple[str, ...]
    items: tuple[CorrectionItem, ...]
    open_items: int
    visit: int
    fees_cents: int
    mark: str


@dataclass(frozen=True, slots=True)
class DeliveryRow:
    """Long-lead goods with their five dates: see schedule.delivery_steps.DeliveryStanding.
    recorded: they have a row.
    """

    activity: str
    name: str
    state: str
    submitted: dt.date | None
    approved: dt.date | None
    ordered: dt.date | None
    promised_ship: dt.date | None
    on_site: dt.date | None
    next_step: str
    planned: dt.date
    needed: dt.date
    order_by: dt.date | None
    order_latest: dt.date | None
    promise_late_days: int
    text: str
    mark: str
    recorded: bool


@dataclass(frozen=True, slots=True)
class GateRow:
    """A gate that is neither a hearing nor an inspection: a permit, a utility's cut-off or meter,
    the certificate.

    waits_for: checklist items that must be settled before it opens.
    """

    activity: str
    name: str
    state: str
    permit: str
    day: dt.date
    held: str
    waits_for: tuple[str, ...]
    mark: str


@dataclass(frozen=True, slots=True)
class Certificate:
    """What is missing for a temporary and for the final certificate of occupancy."""

    temporary: tuple[certificate.Missing, ...]
    final: tuple[certificate.Missing, ...]
    note: str


@dataclass(frozen=True, slots=True)
class Doubt:
    """Something on record that doesn't look right."""

    kind: str
    code: str
    text: str


@dataclass(frozen=True, slots=True)
class PermitsAnswer:
    """Permits and inspections as they stand. not_to_cover: what may not be covered yet, with the
    override if there is one.

    reinspections: visits that repeated a failed one, or will; reinspection_fees_cents: what they
    cost.
    """

    permits: tuple[PermitRow, ...]
    inspections: tuple[InspectionRow, ...]
    not_to_cover: tuple[Uncovered, ...]
    certificate: Certificate
    deliveries: tuple[DeliveryRow, ...]
    gates: tuple[GateRow, ...]
    reinspections: int
    reinspection_fees_cents: int
    warnings: tuple[Doubt, ...]
    cautions: tuple[cautions.CautionLine, ...]
    notice: str
