"""The early dates again, written independently: each activity tries one day after the other until
every bound holds.

Slow and plain on purpose, with sets of dates and none of the program's code for calendars or
passes: an oracle.
"""

import datetime as dt
from dataclasses import dataclass

ONE = dt.timedelta(days=1)


@dataclass
class Work:
    """One activity: days of work (what remains, if under way), its calendar, bounds and actual
    dates.

    floor: the earliest moment. started, ended: actual moments. at_start: a milestone that stands on
    the day that begins.
    """

    days: int
    calendar: str
    floor: dt.date
    started: dt.date | None = None
    ended: dt.date | None = None
    at_start: bool = False


def lag_over(moment, lag, working_days):
    """The moment (a date at its start) at which a lag is over; working_days: a set, or None for
    calendar days.
    """
    if working_days is None:
        return moment + lag * ONE
    day = moment
    while lag > 0:
        if day in working_days:
            lag -= 1
        day += ONE
    while lag < 0:
        day -= ONE
        if day in working_days:
            lag += 1
    return day


def early_dates(works, links, working, cutoffs):
    """works: code -> Work; links: (p, s, type, lag, in_working_days), type CUT for a cut-off link;
    working: calendar -> set of days; cutoffs: calendar -> {meeting: last day of filing}. Returns
    code -> (begin of what remains, start, finish).
    """
    found = {}
    left = {}
    for code, w in works.items():
        if w.ended:
            found[code] = (None, w.started, w.ended)
        else:
            left[code] = w
    while left:
        for code, w in list(left.items()):
            into = [k for k in links if k[1] == code]
            if any(k[0] in left for k in into):
                continue
            day = w.floor
            while not (fits := place(w.days, working[w.calendar], day)) or not all(
                holds(k, found, fits, works, working, cutoffs) for k in into
            ):
                day += ONE
            found[code] = (fits[0], w.started or fits[0], fits[1])
            del left[code]
    return found


def place(duration, days, begin):
    """Work from a day on: (start, finish), or None where the day does not work.

    A milestone fits everywhere.
    """
    if duration == 0:
        return begin, begin
    if begin not in days:
        return None
    finish = begin
    while duration:
        if finish in days:
            duration -= 1
        finish += ONE
    return begin, finish


def holds(link, found, fits, works, working, cutoffs):
    """Whether a successor placed so meets the bound of a link."""
    p, s, kind, lag, in_working_days = link
    before, after = works[p], works[s]
    if after.started and (kind == "SS" or (kind in ("FS", "CUT") and before.ended)):
        return True  # under way: only unfinished work before it still holds it
    _, started, ended = found[p]
    if kind == "CUT":
        filed = ended if before.at_start else ended - ONE
        return cutoffs[after.calendar][fits[0]] >= filed
    bound = lag_over(
        started if kind in ("SS", "SF") else ended,
        lag,
        working[before.calendar] if in_working_days else None,
    )
    return fits[0 if kind in ("FS", "SS") else 1] >= bound
