"""The early dates again, written independently: each activity tries one day after the other until every bound holds.

Slow and plain on purpose, with sets of dates and none of the program's code for calendars or passes: an oracle.
"""

import datetime as dt

ONE = dt.timedelta(days=1)


def lag_over(moment, lag, working_days):
    """The moment (a date at its start) at which a lag is over; working_days: a set, or None for calendar days."""
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


def early_dates(activities, links, working, start):
    """activities: code -> (duration, calendar, not_before); links: (p, s, type, lag, in_working_days); working: calendar ->
    set of days. Returns code -> (start, finish) as moments.
    """
    found = {}
    left = dict(activities)
    while left:
        for code, (duration, calendar, not_before) in list(left.items()):
            into = [k for k in links if k[1] == code]
            if any(k[0] in left for k in into):
                continue
            day = max(start, not_before or start)
            while not (fits := place(duration, working[calendar], day)) or not all(
                holds(k, found, fits, activities, working) for k in into
            ):
                day += ONE
            found[code] = fits
            del left[code]
    return found


def place(duration, days, begin):
    """Work from a day on: (start, finish), or None where the day does not work. A milestone fits everywhere."""
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


def holds(link, found, fits, activities, working):
    """Whether a successor placed so meets the bound of a link."""
    p, _, kind, lag, in_working_days = link
    begun = kind in ("SS", "SF")
    moment = found[p][0 if begun else 1]
    bound = lag_over(moment, lag, working[activities[p][1]] if in_working_days else None)
    return fits[0 if kind in ("FS", "SS") else 1] >= bound
