"""Retainage: what is held back of a contract, line by line, from application to application.

Held on a line = rate x in place to date + stored rate x stored, rounded once to the cent. Around
it: changes of the rate (all work re-rated, or only work from then on), the share of the contract
from which nothing more is held back, releases. The chain follows the cumulative form of a public
agency (USDA RD 1924-18, line 7); where a rate changes, the reading has to be said, because the
cumulative form would release old retainage in silence.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from tracker.money.records import Contract, RetainageEvent
from tracker.money.schedule_of_values import ValueLine
from tracker.values.money import WHOLE_RATE, divide, split
from tracker.values.sums import add


@dataclass(slots=True)
class LineRate:
    """The rate of one line over time. fixed: rate x work of closed stretches, in cents x
    thousandths of a percent.

    since: in place to date when the rate of today began to count. own: whether a blank event passes
    the line by.
    """

    rate: int
    own: bool
    fixed: int = 0
    since: int = 0

    def rerate(self, rate: int) -> None:
        """All work takes the new rate."""
        self.rate, self.fixed, self.since = rate, 0, 0

    def rate_from(self, rate: int, in_place_before: int) -> None:
        """Only work since the application before takes the new rate."""
        self.fixed += self.rate * (in_place_before - self.since)
        self.rate, self.since = rate, in_place_before


@dataclass(frozen=True, slots=True)
class Work:
    """What one application brings: by line in place to date and stored, cents; earned and the
    contract as they stand then.
    """

    period_to: dt.date
    in_place: Mapping[str, int]
    stored: Mapping[str, int]
    earned: int
    earned_before: int
    contract_now: int


@dataclass(frozen=True, slots=True)
class Released:
    """What one release after the last application gave back on a day, by line, in cents. code: of
    its event.
    """

    code: str
    day: dt.date
    by_line: Mapping[str, int]


@dataclass(slots=True)
class Holding:
    """What a contract holds back, brought forward application by application: it changes with every
    step().

    gross: by line, held before releases. released: by line. Both in cents. stopped: nothing more is
    held back.
    """

    contract: Contract
    events: Sequence[RetainageEvent]
    rate: int = 0
    rates: dict[str, LineRate] = field(default_factory=dict)
    gross: dict[str, int] = field(default_factory=dict)
    released: dict[str, int] = field(default_factory=dict)
    before: Mapping[str, int] = field(default_factory=dict)
    stopped: bool = False
    used: int = 0
    over_released: list[RetainageEvent] = field(default_factory=list)
    """Releases of more than was held on their day, through the last application before it; they
    gave back what there was.
    """

    def __post_init__(self) -> None:
        self.rate = self.contract.retainage or 0

    def held(self) -> dict[str, int]:
        """What each line holds now: never less than nothing because of a release."""
        return {line: self._held(line) for line in self.gross}

    def step(self, lines: Sequence[ValueLine], work: Work) -> dict[str, int]:
        """Take one application in: by line what is held after it, in cents."""
        due = self._events_until(work.period_to)
        self._see_what_is_too_early(due, work.period_to)
        for line in lines:
            self._rate_of(line)
            self.gross.setdefault(line.line, 0)
        for event in due:
            if event.kind == "rate":
                self._change_rate(event)
        if self.stopped:
            self._lower(lines, due, work)
        else:
            self._hold(lines, work)
        for event in due:
            if event.kind == "release":
                self._release(event)
        self.before = work.in_place
        return self.held()

    def release_rest(self) -> tuple[Released, ...]:
        """Releases after the last application, oldest first. They are payable by themselves."""
        found = []
        for event in self.events[self.used :]:
            if event.kind == "release":
                before = self.held()
                self._release(event)
                back = {line: before[line] - held for line, held in self.held().items()}
                found.append(Released(event.code, _date(event), back))
        self.used = len(self.events)
        return tuple(found)

    def _events_until(self, day: dt.date) -> list[RetainageEvent]:
        """Events that count from this application on: dated on or before the end of its period."""
        first = self.used
        while self.used < len(self.events) and _date(self.events[self.used]) <= day:
            self.used += 1
        return list(self.events[first : self.used])

    def _rate_of(self, line: ValueLine) -> LineRate:
        """The line's rate; a line that is new takes its own, else the contract's as it is
        by now.
        """
        if line.line not in self.rates:
            own = line.own_rate is not None
            rate = line.own_rate if line.own_rate is not None else self.rate
            self.rates[line.line] = LineRate(rate=rate, own=own)
        return self.rates[line.line]

    def _change_rate(self, event: RetainageEvent) -> None:
        """Give the new rate to the line that the event names, else to all without a rate of their
        own.
        """
        rate = event.rate or 0
        if not event.line:
            self.rate = rate
        for key, known in self.rates.items():
            if key != event.line and (event.line or known.own):
                continue
            known.own = known.own or bool(event.line)
            if event.reading == "all":
                known.rerate(rate)
            else:
                known.rate_from(rate, self.before.get(key, 0))

    def _unrounded(self, key: str, work: Work) -> int:
        """Rate x in place + stored rate x stored of a line, in cents x thousandths of a percent."""
        known = self.rates[key]
        stored_rate = self.contract.stored_retainage
        on_stored = (known.rate if stored_rate is None else stored_rate) * work.stored.get(key, 0)
        return known.fixed + known.rate * (work.in_place.get(key, 0) - known.since) + on_stored

    def _hold(self, lines: Sequence[ValueLine], work: Work) -> None:
        """Hold by the rates; in the application that reaches the stopping share only the part up to
        that share.

        Not below nothing: work done at a low rate and rejected at a higher one would else be paid
        above what is earned.
        """
        top, bottom = self._part(work)
        for line in lines:
            key, old = line.line, self.gross[line.line]
            step = top * (self._unrounded(key, work) - old * WHOLE_RATE)
            held = divide(old * bottom * WHOLE_RATE + step, bottom * WHOLE_RATE)
            self.gross[key] = held if line.value < 0 else max(held, 0)

    def _part(self, work: Work) -> tuple[int, int]:
        """Which part of this application still holds, as a fraction: 1 until the stopping share is
        reached.
        """
        share = self.contract.stop_retainage_at
        if (
            share is None
            or work.contract_now <= 0
            or work.earned * WHOLE_RATE < share * work.contract_now
        ):
            return 1, 1
        self.stopped = True
        if work.earned <= work.earned_before:
            return 0, 1
        bottom = (work.earned - work.earned_before) * WHOLE_RATE
        top = share * work.contract_now - work.earned_before * WHOLE_RATE
        return min(max(top, 0), bottom), bottom

    def _lower(self, lines: Iterable[ValueLine], due: Iterable[RetainageEvent], work: Work) -> None:
        """Once stopped, held stays as it is; only a re-rating of all work can lower it."""
        for event in due:
            if event.kind != "rate" or event.reading != "all":
                continue
            for line in lines:
                if event.line not in ("", line.line) or (
                    not event.line and self.rates[line.line].own
                ):
                    continue
                new, old = (
                    divide(self._unrounded(line.line, work), WHOLE_RATE),
                    self.gross[line.line],
                )
                self.gross[line.line] = max(min(new, old), 0) if old >= 0 else min(max(new, old), 0)

    def _see_what_is_too_early(self, due: Iterable[RetainageEvent], period_to: dt.date) -> None:
        """Note releases before the end of the period that give back more than the applications
        before them hold.
        """
        held = {line: max(amount, 0) for line, amount in self.held().items()}
        for event in due:
            if event.kind != "release" or _date(event) >= period_to:
                continue
            lines = [key for key in held if event.line in ("", key)]
            there = sum(held[key] for key in lines)
            if (event.amount or 0) > there:
                self.over_released.append(event)
            for key, part in zip(
                lines,
                split(min(event.amount or 0, there), [held[key] for key in lines]),
                strict=True,
            ):
                held[key] -= part

    def _release(self, event: RetainageEvent) -> None:
        """Release an amount over the lines by what they hold; never more than is held (that is
        refused on the way in).
        """
        held = self.held()
        lines = [key for key in held if event.line in ("", key)]
        weights = [max(held[key], 0) for key in lines]
        amount = min(event.amount or 0, sum(weights))
        if amount < (event.amount or 0) and event not in self.over_released:
            self.over_released.append(event)
        for key, part in zip(lines, split(amount, weights), strict=True):
            add(self.released, key, part)

    def _held(self, line: str) -> int:
        released = self.released.get(line, 0)
        return max(self.gross[line] - released, 0) if released else self.gross[line]


def _date(event: RetainageEvent) -> dt.date:
    """The day of an event, which every row has."""
    if event.date is None:
        raise ValueError("a retainage event without a date")
    return event.date
