"""Rows of the schedule: calendars, activities, links, deliveries, risks, delays, heads of snapshots."""

from __future__ import annotations

from tracker.project_file.rows.columns import Row, constraints, of_number, of_text
from tracker.schedule import records


class StepCostRow(Row, table=True):
    """Dates that cost a lump sum when the opening passes them."""

    __tablename__ = "step_costs"
    __table_args__ = constraints(records.StepCost)

    code: str = of_text(key=True)
    date: str = of_text()
    amount: int = of_number()
    reason: str = of_text()


class CalendarRow(Row, table=True):
    """Working calendars, and the meeting calendars of boards and councils."""

    __tablename__ = "calendars"
    __table_args__ = constraints(records.Calendar)

    code: str = of_text(key=True)
    name: str = of_text()
    weekdays: str = of_text()
    holidays: str = of_text()
    recurrence: str = of_text()
    recurrence_from: str | None = of_text()
    cutoff_days: int | None = of_number()
    cutoff_calendar: str | None = of_text()
    continued_share: int | None = of_number()
    members: int | None = of_number()


class CalendarDayRow(Row, table=True):
    """Single days of a calendar, on or off, and published cut-offs."""

    __tablename__ = "calendar_days"
    __table_args__ = constraints(records.CalendarDay)

    calendar: str = of_text(key=True)
    date: str = of_text(key=True)
    works: int | None = of_number()
    cutoff: str | None = of_text()
    reason: str = of_text()
    because: str | None = of_text()


class WeatherRow(Row, table=True):
    """Working days of a month that weather is expected to take."""

    __tablename__ = "weather"
    __table_args__ = constraints(records.Weather)

    calendar: str = of_text(key=True)
    month: int = of_number(key=True)
    expected_days: int = of_number()


class ActivityRow(Row, table=True):
    """What is to be done, waited for or delivered."""

    __tablename__ = "activities"
    __table_args__ = constraints(records.Activity)

    code: str = of_text(key=True)
    name: str = of_text()
    kind: str | None = of_text()
    trade: str = of_text()
    contract: str | None = of_text()
    permit: str | None = of_text()
    space: str | None = of_text()
    calendar: str | None = of_text()
    duration: int | None = of_number()
    not_before: str | None = of_text()
    finish_by: str | None = of_text()
    optimistic: int | None = of_number()
    pessimistic: int | None = of_number()
    actual_start: str | None = of_text()
    actual_finish: str | None = of_text()
    remaining: int | None = of_number()
    held: str = of_text()
    because: str | None = of_text()
    note: str = of_text()


class LinkRow(Row, table=True):
    """What waits for what."""

    __tablename__ = "links"
    __table_args__ = constraints(records.Link)

    from_: str = of_text("from", key=True)
    to: str = of_text(key=True)
    type: str = of_text(key=True)
    lag: int | None = of_number()
    lag_unit: str | None = of_text()


class DeliveryRow(Row, table=True):
    """Long-lead goods: five dates of one delivery."""

    __tablename__ = "deliveries"
    __table_args__ = constraints(records.Delivery)

    activity: str = of_text(key=True)
    submitted: str | None = of_text()
    approved: str | None = of_text()
    ordered: str | None = of_text()
    promised_ship: str | None = of_text()
    on_site: str | None = of_text()


class RiskRow(Row, table=True):
    """Things that may happen, and the activities that they would hit."""

    __tablename__ = "risks"
    __table_args__ = constraints(records.Risk)

    code: str = of_text(key=True)
    name: str = of_text()
    probability: int = of_number()
    optimistic: int | None = of_number()
    likely: int | None = of_number()
    pessimistic: int | None = of_number()
    activities: str = of_text()


class BuyingDaysRow(Row, table=True):
    """What a working day won on an activity would cost, and how many can be had."""

    __tablename__ = "buying_days"
    __table_args__ = constraints(records.BuyingDays)

    activity: str = of_text(key=True)
    cost_per_day: int = of_number()
    most_days: int | None = of_number()
    note: str = of_text()


class DelayRow(Row, table=True):
    """What cost time on site, why, and through whom."""

    __tablename__ = "delays"
    __table_args__ = constraints(records.Delay)

    code: str = of_text(key=True)
    activity: str = of_text()
    first: str = of_text()
    last: str | None = of_text()
    days: int = of_number()
    cause: str = of_text()
    party: str = of_text()
    direct_cost: int | None = of_number()
    note: str = of_text()
    evidence: str = of_text()


class SnapshotRow(Row, table=True):
    """The plan as it stood when a status date was closed."""

    __tablename__ = "snapshots"
    __table_args__ = constraints(records.Snapshot)

    date: str = of_text(key=True)
    baseline: int = of_number()
    note: str = of_text()
    opening: str | None = of_text()
    cost_of_a_day: int | None = of_number()
    design_share: int | None = of_number()
    construction_share: int | None = of_number()
    hash: str = of_text()
