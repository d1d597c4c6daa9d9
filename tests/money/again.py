"""The account of a contract computed a second time from the written rules, in fractions and without
a line of the program.

Only what an owner can enter is read. The program's figures are held against it.
"""

from __future__ import annotations

import datetime as dt
from fractions import Fraction
from math import floor
from typing import Any

Tables = dict[str, list[Any]]


def cent(value: Fraction) -> int:
    """Half away from zero."""
    return floor(value + Fraction(1, 2)) if value >= 0 else -floor(-value + Fraction(1, 2))


def shared(total: int, weights: list[int]) -> list[int]:
    """Largest remainder, ties by order; all to the first where nobody has a weight."""
    if not sum(weights):
        return [total, *[0] * (len(weights) - 1)] if weights else []
    exact = [Fraction(total * w, sum(weights)) for w in weights]
    parts = [floor(e) for e in exact]
    order = sorted(range(len(weights)), key=lambda n: (-(exact[n] - parts[n]), n))
    for n in order[: total - sum(parts)]:
        parts[n] += 1
    return parts


def account(tables: Tables, code: str, today: dt.date) -> list[dict[str, Any]]:
    """One dict an application that counts: earned, held and due by line, due and payable of the
    contract.
    """
    contract = next(c for c in tables["contracts"] if c.code == code)
    approved = {
        c.number: c
        for c in tables.get("changes", ())
        if c.state == "approved" and c.contract == code and c.approved <= today
    }
    lines = [
        (li.line, li.value, li.retainage, None)
        for li in tables["contract_lines"]
        if li.contract == code
    ]
    lines += [
        (f"{li.change}/{li.line}", li.amount, None, approved[li.change].approved)
        for li in tables.get("change_lines", ())
        if li.change in approved
    ]
    events = sorted(
        (e for e in tables.get("retainage_events", ()) if e.contract == code and e.date <= today),
        key=lambda e: e.date,
    )
    billed = {
        (r.number, r.line): r for r in tables.get("application_lines", ()) if r.contract == code
    }
    known = [
        a
        for a in tables.get("applications", ())
        if a.contract == code and a.verified_on and a.verified_on <= today
    ]
    found: list[dict[str, Any]] = []
    used, contract_rate, stopped, earned_before, payable_before = (
        0,
        contract.retainage or 0,
        False,
        0,
        0,
    )
    rate: dict[str, tuple[int, bool]] = {}
    at_old_rates: dict[str, Fraction] = {}
    from_here: dict[str, int] = {}
    place: dict[str, int] = {}
    gross: dict[str, int] = {}
    released: dict[str, int] = {}
    dues: dict[str, int] = {}
    set_by_hand: set[str] = set()
    for application in sorted(known, key=lambda a: a.number):
        end = application.period_to
        now = [li for li in lines if li[3] is None or li[3] <= end]
        before, stored = dict(place), {}
        for line, value, own, since in now:
            if line not in rate:
                rate[line] = (contract_rate, False) if own is None else (own, True)
                gross[line] = 0
            row = billed.get((application.number, line))
            touched = row is not None and (row.verified is not None or row.stored is not None)
            takes_all = since is not None and value < 0 and line not in set_by_hand
            if touched:
                if takes_all:
                    place[line] = 0
                set_by_hand.add(line)
                place[line] = place.get(line, 0) + (row.verified or 0)
                stored[line] = row.stored or 0
            elif takes_all:
                place[line] = value
        mine = []
        while used < len(events) and events[used].date <= end:
            mine.append(events[used])
            used += 1
        for event in mine:
            if event.kind == "rate":
                if not event.line:
                    contract_rate = event.rate
                for line in [
                    li for li in rate if li == event.line or (not event.line and not rate[li][1])
                ]:
                    if event.reading == "all":
                        at_old_rates[line], from_here[line] = Fraction(0), 0
                    else:
                        done = before.get(line, 0)
                        at_old_rates[line] = at_old_rates.get(line, Fraction(0)) + Fraction(
                            rate[line][0] * (done - from_here.get(line, 0)), 100_000
                        )
                        from_here[line] = done
                    rate[line] = (event.rate, rate[line][1] or bool(event.line))

        def full(
            line: str, place: dict[str, int] = place, stored: dict[str, int] = stored
        ) -> Fraction:
            on_stored = (
                rate[line][0] if contract.stored_retainage is None else contract.stored_retainage
            )
            return (
                at_old_rates.get(line, Fraction(0))
                + Fraction(rate[line][0] * (place.get(line, 0) - from_here.get(line, 0)), 100_000)
                + Fraction(on_stored * stored.get(line, 0), 100_000)
            )

        earned = sum(place.get(line, 0) + stored.get(line, 0) for line, *_ in now)
        contract_now = contract.sum + sum(value for _, value, _, since in now if since is not None)
        stop = contract.stop_retainage_at
        if stopped:
            for event in mine:
                if event.kind == "rate" and event.reading == "all":
                    for line, value, *_ in now:
                        if line == event.line or (not event.line and not rate[line][1]):
                            anew = cent(full(line))
                            gross[line] = (
                                min(gross[line], max(anew, 0))
                                if value >= 0
                                else max(gross[line], min(anew, 0))
                            )
        else:
            part = Fraction(1)
            if stop is not None and contract_now > 0 and earned * 100_000 >= stop * contract_now:
                stopped = True
                part = Fraction(0)
                if earned > earned_before:
                    part = (Fraction(stop * contract_now, 100_000) - earned_before) / (
                        earned - earned_before
                    )
                    part = min(max(part, Fraction(0)), Fraction(1))
            for line, value, *_ in now:
                held = cent(gross[line] + part * (full(line) - gross[line]))
                gross[line] = max(held, 0) if value >= 0 else held
        for event in mine:
            if event.kind == "release":
                those = [li for li in gross if event.line in ("", li)]
                weights = [max(kept(gross, released, li), 0) for li in those]
                for line, some in zip(
                    those, shared(min(event.amount, sum(weights)), weights), strict=True
                ):
                    released[line] = released.get(line, 0) + some
        held_now = {line: kept(gross, released, line) for line, *_ in now}
        due = {}
        for line, *_ in now:
            total = place.get(line, 0) + stored.get(line, 0) - held_now[line]
            due[line] = total - dues.get(line, 0)
            dues[line] = total
        deposits = sum(
            p.amount
            for p in tables.get("payments", ())
            if p.kind == "deposit" and p.contract == code and p.date <= min(end, today)
        )
        payable = max(sum(dues.values()) - deposits - payable_before, 0)
        payable_before += payable
        earned_before = earned
        found.append(
            {
                "number": application.number,
                "earned": {line: place.get(line, 0) + stored.get(line, 0) for line, *_ in now},
                "held": held_now,
                "due": due,
                "payable": payable,
            }
        )
    return found


def kept(gross: dict[str, int], released: dict[str, int], line: str) -> int:
    """Held on a line after what was released."""
    return max(gross[line] - released[line], 0) if released.get(line) else gross[line]
