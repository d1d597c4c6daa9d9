"""The tables of approvals: notices, permits, inspections, checklist, answers, layouts, hearings,
protest.
"""

from __future__ import annotations

import datetime as dt

from tracker.values.kinds import Cents, Choice, Code, Codes, Day, Number, Text, YesNo
from tracker.values.records import column, record

OUTCOMES = ("approved", "approved with conditions", "continued", "tabled", "denied", "withdrawn")
CHECK_STATES = ("open", "asked", "in hand", "proven", "not needed")
HEARD = ("approved", "approved with conditions", "continued", "tabled", "denied")
"""Outcomes that a body gave at its meeting."""
INSPECTION_STATES = ("planned", "requested", "passed", "partly passed", "failed", "called off")
INSPECTED = ("passed", "partly passed", "failed")
"""States of an inspection that the inspector came for."""


@record("notices", "Notices that a body must give before its meeting")
class Notice:
    """One kind of notice: at the latest, and where there is one at the earliest, so many days
    before the meeting.
    """

    calendar: str = column(Code(), key=True, refers="calendars")
    kind: str = column(Choice(("published", "mailed", "posted")), key=True)
    latest_days: int | None = column(
        Number(0, 999), help="days before the meeting by which it must be given"
    )
    earliest_days: int | None = column(
        Number(0, 999), help="days before the meeting from which it counts; blank: no limit"
    )
    count: str = column(
        Choice(("calendar", "business")), empty="calendar", help="which days are counted"
    )
    radius_ft: int | None = column(Number(0, 99_999), help="feet within which owners are told")
    basis: str = column(
        Choice(("legal minimum", "published date", "estimate")),
        empty="estimate",
        help="what made the figure",
    )


@record("permits", "Permits and their clocks")
class Permit:
    """A permit by kind and authority."""

    code: str = column(Code(), key=True)
    kind: str = column(Text(), help="blank: the code")
    authority: str = column(Text())
    number: str = column(Text())
    applied: dt.date | None = column(Day(), fact=True)
    issued: dt.date | None = column(Day(), fact=True)
    expires: dt.date | None = column(Day())
    note: str = column(Text())


@record("inspections", "Inspections in their order, and what the inspector said")
class Inspection:
    """An inspection: the activity that it gates, and what may not be covered before it has
    passed.
    """

    code: str = column(Code(), key=True)
    permit: str = column(Code(), refers="permits")
    name: str = column(Text())
    activity: str = column(Code(), refers="activities", help="the gate in the schedule")
    covers: tuple[str, ...] = column(
        Codes(), refers="activities", help="activities that would cover the work up"
    )
    ask_days_ahead: int | None = column(
        Number(0, 365), help="calendar days ahead by which it must be asked for"
    )
    requested: dt.date | None = column(Day(), fact=True)
    date: dt.date | None = column(
        Day(), fact=("state", INSPECTED), help="the day on which the inspector came or will come"
    )
    present: str = column(Text(), help="who was there")
    state: str = column(Choice(INSPECTION_STATES), empty="planned")
    fee: int | None = column(Cents(), help="dollars for a re-inspection")


@record("inspection_items", "What the inspector asked to be corrected")
class InspectionItem:
    """One correction item; closed or still open."""

    inspection: str = column(Code(), key=True, refers="inspections")
    item: str = column(Code(), key=True)
    text: str = column(Text(), help="blank: the item's code")
    closed_on: dt.date | None = column(Day(), fact=True)
    evidence: str = column(Text())


@record("checklist", "The checklist for the change of use")
class ChecklistItem:
    """One item: who governs, what proves it, what it waits on."""

    code: str = column(Code(), key=True)
    stage: str = column(Text(), empty="checklist", help="which part of the way it belongs to")
    title: str = column(Text(), help="blank: the code")
    why: str = column(Text())
    governs: str = column(Text(), help="who decides")
    evidence: str = column(
        Text(), help="a reference with its date, or an attached file, once it is there"
    )
    waits_on: tuple[str, ...] = column(Codes(), refers="checklist")
    lead_days: int | None = column(Number(0, 9_999), help="calendar days that it usually takes")
    due: dt.date | None = column(Day())
    state: str = column(Choice(CHECK_STATES), empty="open")
    reason: str = column(Text(), help="why it is not needed")
    activity: str = column(
        Code(), refers="activities", help="the gate that opens only when this is proven"
    )
    source: str = column(Text(), help="what the item rests on")
    applies_when: str = column(
        Text(), help="answers with which it applies, like: state_road = yes; blank: always"
    )


@record("answers", "Questions on the project, who may build, and inputs of the code study")
class Answer:
    """An answer, where it came from, when that was checked, and how old the text of a law is:
    copying it makes it no newer.
    """

    question: str = column(Code(), key=True)
    answer: str = column(Text())
    source: str = column(Text())
    checked_on: dt.date | None = column(Day(), fact=True)
    text_as_of: dt.date | None = column(
        Day(), fact=True, help="of a law: the day of the text that was read; blank: not known"
    )


@record("fire_layouts", "Ways to divide the building into fire areas, to compare by cost")
class FireLayout:
    """One way: its fire areas, the walls that it needs, with or without sprinklers."""

    code: str = column(Code(), key=True)
    name: str = column(Text(), help="blank: the code")
    areas_sf: str = column(
        Text(),
        help="square feet of each fire area, separated by a space; blank: as the spaces have them",
    )
    wall_ft: int | None = column(Number(), help="feet of wall between the fire areas")
    wall_price: int | None = column(
        Cents(), help="dollars for a foot of that wall, its doors with it"
    )
    sprinklers: bool | None = column(YesNo(), help="sprinklers throughout: yes or no")
    sprinkler_price: int | None = column(
        Cents(), help="dollars for a square foot of sprinklers, their water supply with it"
    )
    note: str = column(Text())


@record("hearings", "Applications before a body and what came of them")
class Hearing:
    """One case at one meeting."""

    code: str = column(Code(), key=True)
    activity: str = column(Code(), refers="activities")
    calendar: str = column(Code(), required=True, refers="calendars")
    filed_on: dt.date | None = column(Day(), fact=True)
    hearing_on: dt.date | None = column(Day(), fact=("outcome", HEARD))
    outcome: str = column(Choice(OUTCOMES))
    continued_to: dt.date | None = column(Day())
    votes_for: int | None = column(Number(0, 999))
    votes_against: int | None = column(Number(0, 999))
    note: str = column(Text())


@record("protest", "Areas that are entitled to protest, and that protested")
class Protest:
    """One class of owners, as the jurisdiction names it; square feet."""

    class_: str = column(Text(), key=True)
    entitled_sf: int = column(Number(), required=True)
    protesting_sf: int = column(Number(), required=True)
