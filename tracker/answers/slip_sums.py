"""The shares of the slip added up: by cause, by party, by activity; and what stands beside it.

Costs are exact cents.

A day costs what its window's end says; so each part is days x cents, and the parts add up to the
whole without rounding.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence

from tracker.answers.slip_reading import Closed
from tracker.answers.slip_rows import (
    ActivityRow,
    CauseRow,
    DirectCostRow,
    EvidenceRow,
    PartyRow,
    StepCostRow,
    Sum,
)
from tracker.schedule.lateness import steps_passed
from tracker.schedule.records import Delay
from tracker.schedule.slip.causes import MADE_UP, NOT_EXPLAINED, Account, Share
from tracker.schedule.slip.revisions import PROJECT
from tracker.trades import words
from tracker.values.records import Rows
from tracker.values.sums import totals

APART = (NOT_EXPLAINED, MADE_UP)
"""What stands beside causes and parties, and adds up with each of the two."""


def sum_of(shares: Iterable[Share], rates: Sequence[int]) -> Sum:
    """The days of some shares and their cost. rates: cents a day by window."""
    days = cost = concurrent = 0
    for share in shares:
        days += share.days
        cost += share.days * rates[share.window]
        concurrent += share.days if share.concurrent else 0
    return Sum(days, cost, concurrent)


def grouped(shares: Iterable[Share], key: str) -> dict[str, list[Share]]:
    """Shares that have a reason, by its cause or party."""
    found: dict[str, list[Share]] = {}
    for share in shares:
        if share.reason.cause not in APART:
            found.setdefault(getattr(share.reason, key), []).append(share)
    return found


def by_cause(shares: Sequence[Share], rates: Sequence[int]) -> tuple[CauseRow, ...]:
    """Each cause, the most days first."""
    sums = {cause: sum_of(those, rates) for cause, those in grouped(shares, "cause").items()}
    rows = [CauseRow(cause, one.days, one.cost_cents) for cause, one in sums.items()]
    return tuple(sorted(rows, key=lambda row: (-row.days, row.cause)))


def by_party(
    shares: Sequence[Share], rates: Sequence[int], rows: Rows, since: dt.date | None, to: dt.date
) -> tuple[PartyRow, ...]:
    """Each party, the most days first, with the words that it gave for days after `since` and by
    `to`, and kept.
    """
    names = party_names(rows)
    found = []
    for party, those in grouped(shares, "party").items():
        one = sum_of(those, rates)
        code = party.removeprefix("contractor:")
        given = words.kept(
            (
                w
                for w in rows.get("words_given", ())
                if party in names
                and w.contractor == code
                and w.for_date
                and (since is None or w.for_date > since)
            ),
            to,
        )
        name = names.get(party, party)
        found.append(
            PartyRow(
                party, name, one.days, one.cost_cents, one.concurrent_days, given.due, given.kept
            )
        )
    return tuple(sorted(found, key=lambda row: (-row.days, row.party)))


def by_activity(
    shares: Sequence[Share], rates: Sequence[int], names: dict[str, str]
) -> tuple[ActivityRow, ...]:
    """Each activity or calendar over all windows, the most days first; their days add up to the
    slip.
    """
    own: dict[str, list[Share]] = {}
    for share in shares:
        own.setdefault(share.code, []).append(share)
    found = []
    for code, those in own.items():
        one = sum_of(those, rates)
        progress = sum(share.days for share in those if share.what == "progress")
        unexplained = sum(share.days for share in those if share.reason.cause == NOT_EXPLAINED)
        name = names.get(code, code)
        found.append(
            ActivityRow(
                code, name, one.days, progress, one.days - progress, unexplained, one.cost_cents
            )
        )
    return tuple(sorted(found, key=lambda row: (-row.days, row.code)))


def names_of(windows: Sequence[Closed], rows: Rows) -> dict[str, str]:
    """Names by code: as the project has them now, else as the last snapshot that names them had."""
    names = {PROJECT: "Opening or start of the project"}
    for one in windows:
        names.update(one.names)
    for table in ("calendars", "activities"):
        names.update((row.code, row.name or row.code) for row in rows.get(table, ()))
    return names


def step_costs(windows: Sequence[Closed]) -> tuple[StepCostRow, ...]:
    """The lump sums whose dates the opening passed in each window, as its end has them; negative
    where it moved back.
    """
    found = []
    for one in windows:
        before, after, to = one.window.opening_before, one.window.opening_after, one.window.to
        for sign, passed in (
            (1, steps_passed(one.steps, before, after)),
            (-1, steps_passed(one.steps, after, before)),
        ):
            found += [
                StepCostRow(s.date, sign * s.amount, s.reason, s.code, to)
                for s in passed
                if s.date is not None
            ]
    return tuple(found)


def direct_costs(delays: Iterable[Delay], end: dt.date | None) -> tuple[DirectCostRow, ...]:
    """What delay events cost by themselves, by date; those that began by the last status date."""
    found = [
        DirectCostRow(d.code, d.first, d.direct_cost, d.cause, d.party, d.note)
        for d in delays
        if d.direct_cost and d.first is not None and end is not None and d.first <= end
    ]
    return tuple(sorted(found, key=lambda row: (row.date, row.code)))


def party_names(rows: Rows) -> dict[str, str]:
    """The names of contractors as parties; other parties are called by their word."""
    return {f"contractor:{c.code}": c.name or c.code for c in rows.get("contractors", ())}


def evidence(
    rows: Rows, end: dt.date | None, told: Account, names: dict[str, str]
) -> tuple[EvidenceRow, ...]:
    """Every delay event that began by the last status date, in row order, with what it
    explained.
    """
    who = party_names(rows)
    explained = totals((share.reason.event, share.days) for share in told.shares)
    used = totals((one.event, one.days) for one in told.used)
    return tuple(
        EvidenceRow(
            code=d.code,
            activity=d.activity,
            name=names.get(d.activity, d.activity),
            first=d.first,
            last=d.last,
            cause=d.cause,
            party=d.party,
            who=who.get(d.party, d.party),
            days_lost=d.days,
            used_up=used.get(d.code, 0),
            days_explained=explained.get(d.code, 0),
            note=d.note,
            evidence=d.evidence,
        )
        for d in rows.get("delays", ())
        if d.first is not None and end is not None and d.first <= end
    )
