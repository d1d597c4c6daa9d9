"""What is to be known about what was entered: a status date that was moved, work that began before
its turn.
"""

from __future__ import annotations

from tracker.schedule.path.gathering import Gathered
from tracker.schedule.progress import DONE, UNDER_WAY
from tracker.schedule.records import Activity, Link
from tracker.schedule.remarks import Remark


def entered_remarks(g: Gathered) -> list[Remark]:
    """Remarks on the status date and on activities that started before what they wait for."""
    found = []
    if g.status_date != g.entered_status_date and g.status_date is not None:
        was = (
            "none was set"
            if g.entered_status_date is None
            else f"it was {g.entered_status_date.isoformat()}"
        )
        text = (
            f"an actual date lies after the status date ({was}), so the status date is"
            f" {g.status_date.isoformat()}"
        )
        found.append(Remark("status_date_moved", "", text))
    by_code = {a.code: i for i, a in enumerate(g.activities)}
    for link in g.links:
        i, p = by_code[link.to], by_code[link.from_]
        if g.mode[i] in (DONE, UNDER_WAY) and (
            text := before_its_turn(g.activities[p], g.mode[p], g.activities[i], link)
        ):
            found.append(Remark("before_its_turn", link.to, text))
    return found


def before_its_turn(p: Activity, mode: int, s: Activity, link: Link) -> str:
    """A sentence if work began (or ended) before the link allowed it; empty if it was its turn.

    A lag that was still running is reported, too, in calendar days; a working lag only where even
    so many calendar days were not over.
    """
    begun, ended = s.actual_start or s.actual_finish, s.actual_finish
    at = begun if link.type in ("FS", "SS") else ended
    from_day = (p.actual_finish if link.type in ("FS", "FF") else p.actual_start) or (
        p.actual_finish if mode == DONE else None
    )
    if at is None or begun is None:
        return ""
    verb = "started" if link.type in ("FS", "SS") else "finished"
    if from_day is None:
        waits_for = "finished" if link.type in ("FS", "FF") else "started"
        tail = (
            "; unfinished work before it still holds it"
            if mode != DONE and link.type == "FS" and not ended
            else ""
        )
        return f"{s.code} {verb} before its turn: {p.code} has not {waits_for}{tail}"
    lag = 0 if link.lag_unit == "cutoff" else link.lag or 0
    least = from_day.toordinal() + lag
    if link.type == "FS" and duration_follows(p, s):
        least += 1
    if at.toordinal() < least:
        why = "its lag after" if lag > 0 and at.toordinal() >= least - lag else ""
        return f"{s.code} {verb} before its turn: {why + ' ' if why else ''}{p.code} was not over"
    return ""


def duration_follows(p: Activity, s: Activity) -> bool:
    """Whether work after work: the successor's day lies after the predecessor's last day (a
    milestone may share it).
    """
    return s.duration != 0 and s.kind != "milestone"
