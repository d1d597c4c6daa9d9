"""The list of all tables, in the order in which they are written; each is declared in its room.

This is the one place where the rooms' tables come together: the project file, the project folder,
the forms and the `set` command all go through it.
"""

from __future__ import annotations

from typing import Any

from tracker.approvals import records as approvals
from tracker.money import records as money
from tracker.schedule import records as schedule
from tracker.trades import records as trades
from tracker.values import project

TABLES: tuple[type[Any], ...] = (
    project.Project,
    schedule.StepCost,
    project.Space,
    schedule.Calendar,
    schedule.CalendarDay,
    approvals.Notice,
    schedule.Weather,
    schedule.Activity,
    schedule.Link,
    schedule.Delivery,
    schedule.Risk,
    schedule.BuyingDays,
    money.CostLine,
    money.BudgetMove,
    trades.Contractor,
    trades.Paper,
    trades.Package,
    trades.PackageItem,
    trades.Bid,
    trades.BidAnswer,
    money.Contract,
    money.ContractLine,
    money.RetainageEvent,
    money.Change,
    money.ChangeLine,
    money.Application,
    money.ApplicationLine,
    money.Waiver,
    money.LienNotice,
    money.Invoice,
    money.Payment,
    money.Source,
    money.Draw,
    money.DrawLine,
    money.DrawPaper,
    approvals.Permit,
    approvals.Inspection,
    approvals.InspectionItem,
    approvals.ChecklistItem,
    approvals.Answer,
    approvals.FireLayout,
    approvals.Hearing,
    approvals.Protest,
    trades.SiteLogDay,
    schedule.Delay,
    trades.WordGiven,
    project.Override,
    project.AttachedFile,
)
"""Every table of a project folder but the snapshots, whose rows live under a folder by date."""

SNAPSHOT_HEAD: type[Any] = schedule.Snapshot
"""The head row of a snapshot."""

BY_NAME: dict[str, type[Any]] = {kind.TABLE: kind for kind in (*TABLES, SNAPSHOT_HEAD)}
"""The class that holds a table's rows, by the table's name."""
