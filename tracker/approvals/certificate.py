"""What is still missing for the certificate of occupancy, temporary and final.

International Building Code, section 111, before local amendments: no use before a certificate; the
official sets what a temporary one asks for. The split shown here is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tracker.approvals.applies import considered
from tracker.approvals.checklist import settled
from tracker.approvals.inspections import passed_in
from tracker.approvals.permits import Clock
from tracker.values.records import Rows

CERTIFICATE_WORDS = ("certificate", "condition", "opening")

TEMPORARY_NOTE = (
    "The official decides whether there is a temporary certificate, for which part, for how long,"
    " and what it asks for."
)


@dataclass(frozen=True, slots=True)
class Missing:
    """One thing that is missing. temporary: it stands in the way of a temporary certificate too."""

    table: str
    key: str
    text: str
    temporary: bool


def missing(rows: Rows, clocks: Mapping[str, Clock]) -> tuple[Missing, ...]:
    """What is missing for a final certificate. clocks: by permit.

    Permits not issued, inspections not passed, correction items open, and items of the stages that
    speak of conditions, of the certificate or of the opening. A temporary one may leave out
    checklist items that hold no gate, and finals.
    """
    return (*_permits(rows, clocks), *_inspections(rows), *_corrections(rows), *_items(rows))


def _permits(rows: Rows, clocks: Mapping[str, Clock]) -> list[Missing]:
    """Permits that aren't issued, or that lapsed."""
    return [
        Missing(
            "permits",
            permit.code,
            f"permit {permit.code} {permit.kind}: {clocks[permit.code].state}",
            True,
        )
        for permit in rows.get("permits", ())
        if clocks[permit.code].state in ("not applied", "applied", "lapsed")
    ]


def _inspections(rows: Rows) -> list[Missing]:
    """Inspections that haven't passed, by themselves or by a re-inspection, and aren't
    called off.
    """
    done = passed_in(rows)
    return [
        Missing(
            "inspections",
            i.code,
            f"inspection {i.code} {i.name}: {i.state}",
            not is_building_final(i.name),
        )
        for i in rows.get("inspections", ())
        if i.code not in done and i.state != "called off"
    ]


def is_building_final(name: str) -> bool:
    """Whether an inspection is the last one of the whole building, which a temporary certificate
    precedes.
    """
    said = name.lower()
    return "final" in said and ("building" in said or said.strip() in ("final", "final inspection"))


def _corrections(rows: Rows) -> list[Missing]:
    """Correction items that nobody has closed."""
    return [
        Missing(
            "inspection_items",
            f"{item.inspection}/{item.item}",
            f"correction of {item.inspection}: {item.text}",
            True,
        )
        for item in rows.get("inspection_items", ())
        if item.closed_on is None
    ]


def _items(rows: Rows) -> list[Missing]:
    """Checklist items of the stages that lead to the certificate."""
    return [
        Missing(
            "checklist", item.code, f"{item.code} {item.title}: {item.state}", bool(item.activity)
        )
        for item in considered(rows)
        if not settled(item) and any(word in item.stage.lower() for word in CERTIFICATE_WORDS)
    ]
