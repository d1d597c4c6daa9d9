"""What money asks for this morning: applications to verify, what stops a payment, the draw, the Friday that is short."""

from __future__ import annotations

import datetime as dt

from tracker.answers import draws
from tracker.answers.draw_rows import DrawState, PayApplication
from tracker.answers.draws import DrawsAnswer
from tracker.answers.morning_rows import Item, shown
from tracker.schedule.plan import Plan
from tracker.values.money import dollars
from tracker.values.records import Rows


def money(rows: Rows, today: dt.date, plan: Plan) -> tuple[Item, ...]:
    """Everything about money that waits for the owner."""
    answer = draws.from_rows(rows, today, plan.opening)
    names = {who.code: who.name or who.code for who in rows.get("contractors", ())}
    found = [item for one in answer.applications if (item := _application(one, names.get(one.contractor, one.contractor)))]
    found += [item for draw in answer.draws if (item := _draw(draw))]
    found += _balance(answer)
    return tuple(sorted(found, key=lambda item: ("!?~ ".find(item.mark), item.day or dt.date.min)))


def _application(one: PayApplication, who: str) -> Item | None:
    """An application that waits to be verified, for a paper, or to be paid."""
    key = f"{one.contract}/{one.number}"
    name = f"application {one.number} of {who} on {one.contract}"
    if one.state == "entered":
        mark, text = "?", f"verify {name}, period to {shown(one.period_to)}"
    elif one.state == "verified":
        closed = "; ".join(gate.reason for gate in one.gates if not gate.open)
        mark, text = "!", f"{name} can't be paid: {closed}"
    elif one.state == "cleared" and one.left_to_pay_cents > 0:
        mark, text = " ", f"{name} may be paid: {dollars(one.left_to_pay_cents)}"
    else:
        return None
    return Item(mark, text, "draws", key, one.period_to, "applications", key, one.contractor)


def _draw(draw: DrawState) -> Item | None:
    """The draw in preparation: what its package lacks, or that it can go; a draw that came back."""
    missing = [paper.what for paper in draw.package if paper.state == "missing"]
    if draw.state == "returned":
        mark, text = "!", "came back from the lender: see what was cut"
    elif draw.state != "draft":
        return None
    elif missing:
        mark, text = "?", f"waits for: {', '.join(missing)}"
    else:
        mark, text = " ", "has its papers: read it once more and send it"
    return Item(mark, f"draw {draw.number} {text}", "draws", str(draw.number), draw.period_to, "draws", str(draw.number))


def _balance(answer: DrawsAnswer) -> list[Item]:
    """A loan out of balance, and the first Friday on which cash is short."""
    found = []
    if not answer.in_balance and any(source.kind == "loan" for source in answer.sources):
        text = f"the loan is out of balance, short by {dollars(answer.short_cents)}: the lender may stop funding"
        found.append(Item("!", text, "draws", "", None))
    short = next((week for week in answer.weeks if week.short_cents > 0), None)
    if short is not None:
        text = f"cash is short by {dollars(short.short_cents)} on {shown(short.friday)}"
        found.append(Item("!", text, "draws", "", short.friday))
    return found
