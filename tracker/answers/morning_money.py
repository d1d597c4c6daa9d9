"""What money asks for this morning: applications, waivers, changes without price or decision, the
draw, the short Friday.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping

from tracker.answers import draws
from tracker.answers.draw_rows import DrawState, PayApplication
from tracker.answers.draws import DrawsAnswer
from tracker.answers.morning_rows import Item, shown
from tracker.money.gates import in_words
from tracker.money.schedule_of_values import is_pending
from tracker.schedule.path.plan import Plan
from tracker.values.grouped import grouped
from tracker.values.money import dollars
from tracker.values.records import Rows


def money(rows: Rows, today: dt.date, plan: Plan) -> tuple[Item, ...]:
    """Everything about money that waits for the owner."""
    answer = draws.from_rows(rows, today, plan.opening)
    names = {who.code: who.name or who.code for who in rows.get("contractors", ())}
    found = [
        item
        for one in answer.applications
        if (item := _application(one, names.get(one.contractor, one.contractor)))
    ]
    last = max((draw.number for draw in answer.draws), default=0)
    found += [item for draw in answer.draws if (item := _draw(draw, draw.number == last))]
    found += _changes(rows, today)
    found += _waivers(answer, names)
    found += _balance(answer)
    return tuple(sorted(found, key=lambda item: ("!?~ ".find(item.mark), item.day or dt.date.min)))


def _application(one: PayApplication, who: str) -> Item | None:
    """An application that waits to be verified, for a paper, or to be paid."""
    key = f"{one.contract}/{one.number}"
    name = f"application {one.number} of {who} on {one.contract}"
    if one.state == "entered":
        mark, text = "?", f"verify {name}, period to {shown(one.period_to)}"
    elif one.state == "verified":
        closed = "; ".join(in_words(gate.gate, gate.reason) for gate in one.gates if not gate.open)
        mark, text = "!", f"{name} can't be paid: {closed}"
    elif one.state == "cleared" and one.left_to_pay_cents > 0:
        mark, text = " ", f"{name} may be paid: {dollars(one.left_to_pay_cents)}"
    else:
        return None
    return Item(mark, text, "draws", key, one.period_to, "applications", key, one.contractor)


def _changes(rows: Rows, today: dt.date) -> list[Item]:
    """Changes that nobody has priced yet, and priced ones that nobody has decided."""
    found = []
    for change in rows.get("changes", ()):
        if not is_pending(change, today):
            continue
        name = f"change {change.number} {change.title}".strip()
        if change.state == "priced":
            mark, text, since = "~", f"decide {name}: it is priced", change.priced or change.noticed
        else:
            mark, text, since = "?", f"ask for the price of {name} in writing", change.noticed
        open_for = f", open since {shown(since)}" if since else ""
        contract = next(
            iter(grouped(rows.get("contracts", ()), "code").get(change.contract, ())), None
        )
        who = contract.contractor if contract else ""
        found.append(
            Item(
                mark, text + open_for, "changes", change.number, None, "changes", change.number, who
            )
        )
    return found


def _waivers(answer: DrawsAnswer, names: Mapping[str, str]) -> list[Item]:
    """Unconditional waivers for the last payments; those for payments to come are told with the
    application.
    """
    found = []
    for one in answer.waivers_missing:
        if one.kind.startswith("unconditional"):
            key, who = (
                f"{one.contract}/{one.application}",
                names.get(one.contractor, one.contractor),
            )
            text = (
                f"collect the unconditional waiver of {who} for {key},"
                f" {dollars(one.amount_cents or 0)}"
            )
            found.append(Item("?", text, "draws", key, None, "applications", key, one.contractor))
    return found


def _draw(draw: DrawState, is_last: bool) -> Item | None:
    """The draw in preparation: what its package lacks, or that it can go; a last draw that came
    back.
    """
    missing = [paper.what for paper in draw.package if paper.state == "missing"]
    if draw.state == "returned" and is_last:
        mark, text = "!", "came back from the lender: prepare the next one with what it wants"
    elif draw.state != "draft":
        return None
    elif missing:
        mark, text = "?", f"waits for: {', '.join(missing)}"
    else:
        mark, text = " ", "has its papers: read it once more and send it"
    return Item(
        mark,
        f"draw {draw.number} {text}",
        "draws",
        str(draw.number),
        draw.period_to,
        "draws",
        str(draw.number),
    )


def _balance(answer: DrawsAnswer) -> list[Item]:
    """A loan out of balance, and the first Friday on which cash is short."""
    found = []
    if not answer.in_balance and any(source.kind == "loan" for source in answer.sources):
        text = (
            f"the loan is out of balance, short by {dollars(answer.short_cents)}: the lender may"
            " stop funding"
        )
        found.append(Item("!", text, "draws", "", None))
    short = next((week for week in answer.weeks if week.short_cents > 0), None)
    if short is not None and answer.cash_is_entered:
        text = f"cash is short by {dollars(short.short_cents)} on {shown(short.friday)}"
        found.append(Item("!", text, "draws", "", short.friday))
    return found
