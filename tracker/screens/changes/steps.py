"""The steps of a change: priced, approved, refused; each tells what it does to money and opening
before it is kept.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from tracker.actions.approve_change import Approved, approve_change, refuse_change
from tracker.actions.price_change import Priced, PriceEntry, PriceLine, lines_of, price_change
from tracker.actions.rows import Saved
from tracker.money.records import Change
from tracker.screens.entry.declared import Entry, EntryField, Given, Opened
from tracker.screens.entry.effect_words import opening_moves
from tracker.screens.entry.money_words import amount, with_and_without
from tracker.screens.entry.preview_dialog import look_at
from tracker.screens.table.sections import Line, Section
from tracker.values.kinds import Cents, Code, Codes, Day, Number, Text
from tracker.values.money import MOST_CENTS
from tracker.values.problems import Problem, ProblemError, shorten

if TYPE_CHECKING:
    from tracker.answers.changes import ChangeRow, Effect

MOUTH = (
    "A change by word of mouth is a dispute to come: have price and days in writing, signed, before"
    " the work goes on."
)


def change_of(opened: Opened, number: str) -> Change:
    """The change of a number as it is in the file. ProblemError where it is gone."""
    found: Change | None = opened.found(Change, number=number)
    if found is None:
        what, do = "there is no such change any more", "choose one that is there"
        raise ProblemError(Problem(what, do, "changes", number))
    return found


def approving(change: ChangeRow) -> Entry[Approved]:
    """A priced change is approved: money and schedule in one step."""

    def fields(opened: Opened) -> Sequence[EntryField]:
        change_of(opened, change.number)
        words = "the day on which it was signed"
        return (EntryField("approved", Day(), words, opened.today, True),)

    return Entry(
        title=f"Approve {change.number} {change.title}: {amount(change.price_cents)}",
        help=(
            "Approving puts the change's price into its contract and its days into the activities"
            " that it names, in one step; u takes both back. Ctrl S tells what that does to"
            " forecast, contingency and opening before anything is kept."
        ),
        cautions=(MOUTH,),
        fields=fields,
        act=lambda given: approve_change(
            given.project,
            change.number,
            given["approved"],
            given.today,
            change_of(given, change.number),
            only_try=given.only_try,
        ),
        preview=lambda found: (
            Section("What it does", effect_table(change.effect, found)),
            Section("What is written, in one step", written(found)),
            look_at(found.notes),
        ),
        keep="approve it",
        kept=lambda done: (
            f"{done.change.number} is approved: {amount(done.price)}. u takes money and days back.",
            (moves(done), *done.notes),
        ),
    )


def moves(found: Approved) -> str:
    """Where the opening goes."""
    return opening_moves(found.old_opening, found.new_opening, found.days, found.cost)


def effect_table(effect: Effect | None, found: Approved) -> list[Line | str]:
    """Contract, forecast, contingencies, opening, without the change and with it."""
    rows = [("contract", amount(found.before.contract), amount(found.after.contract))]
    lines = with_and_without([*rows, *costs(effect)])
    return [*lines, Line(moves(found), "warn" if found.days > 0 else "")]


def costs(effect: Effect | None, back: bool = False) -> list[tuple[str, str, str]]:
    """Forecast and contingency without a change and with it; back: with it and without."""
    if effect is None:
        return []
    rows = (
        ("will cost", effect.forecast_without_cents, effect.forecast_with_cents),
        ("contingency", effect.contingency_without_cents, effect.contingency_with_cents),
    )
    found = [(name, amount(one), amount(two)) for name, one, two in rows]
    return [(name, two, one) for name, one, two in found] if back else found


def written(found: Approved) -> list[str]:
    """What the approval writes."""
    joins = f"· {amount(found.price)} joins contract {found.change.contract}"
    if not found.lengthened:
        return [joins, "· no activity takes days"]
    days = found.change.days or 0
    return [
        joins,
        f"· {', '.join(found.lengthened)}: {abs(days)} working day{'s' * (abs(days) != 1)}"
        f" {'longer' if days > 0 else 'shorter'}, because of it",
    ]


def refusing(change: ChangeRow) -> Entry[Saved]:
    """A change is refused."""

    def fields(opened: Opened) -> Sequence[EntryField]:
        change_of(opened, change.number)
        words = "kept in the history; tell the other side in writing"
        return (EntryField("why", Text(), words, needed=True),)

    asked = with_and_without(costs(change.effect, back=True), "asked for", "refused")
    return Entry(
        title=f"Refuse {change.number} {change.title}",
        help=(
            "A refused change is asked for no longer: its price leaves the forecast. The reason"
            " stays in the history."
        ),
        fields=fields,
        act=lambda given: refuse_change(
            given.project,
            change.number,
            given["why"],
            change_of(given, change.number),
            given.only_try,
        ),
        preview=lambda found: (Section("What it does", asked),),
        keep="refuse it",
        kept=lambda done: (f"{change.number} is refused. u takes that back.", done.notes),
    )


def pricing(change: ChangeRow) -> Entry[Priced]:
    """A change gets its price and its days: a price for each line that there is, or a first one."""

    def fields(opened: Opened) -> Sequence[EntryField]:
        seen = change_of(opened, change.number)
        return (
            *price_fields(opened, change.number),
            EntryField(
                "days",
                Number(-9_999, 9_999),
                "working days that it adds; 0 if none",
                seen.days,
                True,
            ),
            EntryField(
                "activities",
                Codes(),
                "those that take the days",
                seen.activities,
                False,
                "activities",
            ),
            EntryField("contract", Code(), "whose change it is", seen.contract, True, "contracts"),
            EntryField("priced", Day(), "the day of the price", opened.today, True),
        )

    def act(given: Given) -> Priced:
        lines = [
            PriceLine(given[f"price_{at}"], one.cost_line, one.name, one.line)
            for at, one in enumerate(lines_of(given.rows, change.number), 1)
        ]
        if not lines:
            name = given["what"] or change.title
            lines = [PriceLine(given["price"], given["cost_line"], name)]
        entry = PriceEntry(
            change.number,
            lines,
            given["priced"],
            contract=given["contract"],
            days=given["days"],
            activities=given["activities"],
        )
        return price_change(given.project, entry, given.today, given.only_try)

    return Entry(
        title=f"The price of {change.number} {change.title}",
        help=(
            "The price of a change, line by line, and the working days that it adds to the"
            " activities that it names. A price may be negative: a credit. Once priced it can be"
            " approved or refused; until then it is an estimate, and nags."
        ),
        cautions=(MOUTH,),
        fields=fields,
        act=act,
        preview=price_sections,
        kept=lambda done: (
            f"{done.change.number} is priced: {amount(done.price)}. y approves it, u takes the"
            " price back.",
            done.notes,
        ),
    )


def price_fields(opened: Opened, number: str) -> list[EntryField]:
    """A price for each line that there is, or a first one."""
    money = Cents(least=-MOST_CENTS)
    lines = lines_of(opened.rows, number)
    if not lines:
        counts, done = "where it counts in the budget", "what is done; blank: the change's title"
        credit = "dollars; negative: a credit"
        return [
            EntryField("price", money, credit, needed=True, column="amount"),
            EntryField("cost_line", Code(), counts, needed=True, refers="cost_lines"),
            EntryField("what", Text(), done, column="name"),
        ]
    return [
        EntryField(
            f"price_{at}",
            money,
            f"{line.name}, on {line.cost_line or 'no cost line'}",
            line.amount,
            True,
            column="amount",
            called=f"price, {shorten(line.name, 12)}",
        )
        for at, line in enumerate(lines, 1)
    ]


def price_sections(found: Priced) -> list[Section]:
    """The price, the forecast with the old figure and with the new one, what is missing."""
    rows = [("will cost", amount(found.before.forecast), amount(found.after.forecast))]
    count = f"{len(found.lines)} line{'s' * (len(found.lines) != 1)}"
    words = f"{amount(found.price)} in {count}; it is asked for, not approved"
    table = with_and_without(rows, "as it is", "priced so")
    return [Section("What it does", [words, *table]), look_at(found.notes)]
