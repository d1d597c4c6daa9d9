"""The steps of a change: priced, approved, refused; each tells what it does to money and opening
before it is kept.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tracker.screens.entry.effect_words import opening_moves
from tracker.screens.entry.entering import Ask, Entering, Values
from tracker.screens.entry.money_words import amount, with_and_without
from tracker.screens.entry.preview_dialog import Choice
from tracker.screens.frame.open_project import OpenProject
from tracker.screens.table.sections import Line, Section
from tracker.values.kinds import Cents, Code, Codes, Day, Number, Text
from tracker.values.money import MOST_CENTS, plain_dollars
from tracker.values.problems import Problem, ProblemError, shorten
from tracker.values.records import Rows

MOUTH = (
    "A change by word of mouth is a dispute to come: have price and days in writing, signed, before"
    " the work goes on."
)


def change_of(rows: Rows, number: str) -> Any:
    """The change of a number as it is in the file. ProblemError where it is gone."""
    found = next((c for c in rows.get("changes", ()) if c.number == number), None)
    if found is None:
        raise ProblemError(
            Problem(
                "there is no such change any more", "choose one that is there", "changes", number
            )
        )
    return found


class Approving(Entering):
    """A priced change is approved: money and schedule in one step."""

    HELP = (
        "Approving puts the change's price into its contract and its days into the activities that"
        " it names, in one step; u takes both back. Ctrl S tells what that does to forecast,"
        " contingency and opening before anything is kept."
    )

    def __init__(self, desk: OpenProject, change: Any) -> None:
        """change: the row of the view's answer."""
        super().__init__(desk)
        self.change = change
        self.seen: Any = None

    def heading(self) -> str:
        """Which change."""
        return (
            f"Approve {self.change.number} {self.change.title}: {amount(self.change.price_cents)}"
        )

    def cautions(self) -> Sequence[str]:
        """In writing."""
        return (MOUTH,)

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """The day of the approval."""
        self.seen = change_of(rows, self.change.number)
        today = self.desk.today.isoformat()
        return (Ask("approved", Day(), "the day on which it was signed", start=today, needed=True),)

    def tried(self, values: Values) -> Any:
        """What the approval would do."""
        return self._do(values, only_try=True)

    def _do(self, values: Values, only_try: bool = False) -> Any:
        from tracker.actions.approve_change import approve_change

        return approve_change(
            self.desk.project,
            self.change.number,
            values["approved"],
            self.desk.today,
            self.seen,
            only_try=only_try,
        )

    def told(self, found: Any) -> Sequence[Section]:
        """Forecast, contingency and opening without it and with it; what is written."""
        return [Section("What it does", effect_table(self.change.effect, found)), *written(found)]

    def choices(self, found: Any) -> Sequence[Choice]:
        """One way."""
        return (Choice("k", "approve it", "keep"),)

    def keep(self, values: Values, choice: str) -> Any:
        """Approve it."""
        return self._do(values)

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """That it is approved."""
        words = opening_moves(result.old_opening, result.new_opening, result.days, result.cost)
        return (
            (
                f"{result.change.number} is approved: {amount(result.price)}. u takes money and"
                " days back."
            ),
            (words, *result.notes),
        )


def effect_table(effect: Any, found: Any) -> list[Line | str]:
    """Contract, forecast, contingencies, opening, without the change and with it."""
    rows = [("contract", amount(found.before.contract), amount(found.after.contract))]
    if effect is not None:
        rows.append(
            ("will cost", amount(effect.forecast_without_cents), amount(effect.forecast_with_cents))
        )
        rows.append(
            (
                "contingency",
                amount(effect.contingency_without_cents),
                amount(effect.contingency_with_cents),
            )
        )
    lines = with_and_without(rows)
    words = opening_moves(found.old_opening, found.new_opening, found.days, found.cost)
    return [*lines, Line(words, "warn" if found.days > 0 else "")]


def written(found: Any) -> list[Section]:
    """What the approval writes, and what to look at."""
    lines = [f"· {amount(found.price)} joins contract {found.change.contract}"]
    if found.lengthened:
        days = found.change.days or 0
        way = "longer" if days > 0 else "shorter"
        lines.append(
            f"· {', '.join(found.lengthened)}: {abs(days)} working day{'s' * (abs(days) != 1)}"
            f" {way}, because of it"
        )
    else:
        lines.append("· no activity takes days")
    sections = [Section("What is written, in one step", lines)]
    if found.notes:
        sections.append(Section("Look at", [f"· {note}" for note in found.notes]))
    return sections


class Refusing(Entering):
    """A change is refused."""

    HELP = (
        "A refused change is asked for no longer: its price leaves the forecast. The reason stays"
        " in the history."
    )

    def __init__(self, desk: OpenProject, change: Any) -> None:
        super().__init__(desk)
        self.change = change
        self.seen: Any = None

    def heading(self) -> str:
        """Which change."""
        return f"Refuse {self.change.number} {self.change.title}"

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """Why."""
        self.seen = change_of(rows, self.change.number)
        return (
            Ask("why", Text(), "kept in the history; tell the other side in writing", needed=True),
        )

    def told(self, found: Any) -> Sequence[Section]:
        """What leaves the forecast."""
        effect = self.change.effect
        rows = [
            (
                "will cost",
                amount(effect.forecast_with_cents),
                amount(effect.forecast_without_cents),
            ),
            (
                "contingency",
                amount(effect.contingency_with_cents),
                amount(effect.contingency_without_cents),
            ),
        ]
        return [Section("What it does", with_and_without(rows, "asked for", "refused"))]

    def choices(self, found: Any) -> Sequence[Choice]:
        """One way."""
        return (Choice("k", "refuse it", "keep"),)

    def keep(self, values: Values, choice: str) -> Any:
        """Refuse it."""
        from tracker.actions.approve_change import refuse_change

        return refuse_change(self.desk.project, self.change.number, values["why"], self.seen)

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """That it is refused."""
        return f"{self.change.number} is refused. u takes that back.", result.notes


class Pricing(Entering):
    """A change gets its price and its days."""

    HELP = (
        "The price of a change, line by line, and the working days that it adds to the activities"
        " that it names. A price may be negative: a credit. Once priced it can be approved or"
        " refused; until then it is an estimate, and nags."
    )

    def __init__(self, desk: OpenProject, change: Any) -> None:
        super().__init__(desk)
        self.change = change
        self.lines: tuple[Any, ...] = ()

    def heading(self) -> str:
        """Which change."""
        return f"The price of {self.change.number} {self.change.title}"

    def cautions(self) -> Sequence[str]:
        """In writing."""
        return (MOUTH,)

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """A price for each line that there is, or a first one; days, activities, contract."""
        from tracker.actions.price_change import lines_of

        seen = change_of(rows, self.change.number)
        self.lines = lines_of(rows, self.change.number)
        money = Cents(least=-MOST_CENTS)
        found: list[Ask] = []
        for at, line in enumerate(self.lines, 1):
            words, called = (
                f"{line.name}, on {line.cost_line or 'no cost line'}",
                f"price, {shorten(line.name, 12)}",
            )
            found.append(
                Ask(
                    f"price_{at}",
                    money,
                    words,
                    plain_dollars(line.amount),
                    True,
                    column="amount",
                    called=called,
                )
            )
        if not self.lines:
            found = [
                Ask("price", money, "dollars; negative: a credit", needed=True, column="amount"),
                Ask(
                    "cost_line",
                    Code(),
                    "where it counts in the budget",
                    needed=True,
                    refers="cost_lines",
                ),
                Ask("what", Text(), "what is done; blank: the change's title", column="name"),
            ]
        days = "" if seen.days is None else str(seen.days)
        return (
            *found,
            Ask("days", Number(-9_999, 9_999), "working days that it adds; 0 if none", days, True),
            Ask(
                "activities",
                Codes(),
                "those that take the days",
                " ".join(seen.activities),
                refers="activities",
            ),
            Ask("contract", Code(), "whose change it is", seen.contract, True, refers="contracts"),
            Ask("priced", Day(), "the day of the price", self.desk.today.isoformat(), True),
        )

    def tried(self, values: Values) -> Any:
        """What the price would do."""
        return self._do(values, only_try=True)

    def _do(self, values: Values, only_try: bool = False) -> Any:
        from tracker.actions.price_change import PriceEntry, PriceLine, price_change

        lines = [
            PriceLine(values[f"price_{at}"], one.cost_line, one.name, one.line)
            for at, one in enumerate(self.lines, 1)
        ]
        if not self.lines:
            lines = [
                PriceLine(values["price"], values["cost_line"], values["what"] or self.change.title)
            ]
        return price_change(
            self.desk.project,
            PriceEntry(
                self.change.number,
                lines,
                values["priced"],
                contract=values["contract"],
                days=values["days"],
                activities=values["activities"],
            ),
            self.desk.today,
            only_try=only_try,
        )

    def told(self, found: Any) -> Sequence[Section]:
        """The price, the forecast with the old figure and with the new one, what is missing."""
        rows = [("will cost", amount(found.before.forecast), amount(found.after.forecast))]
        lines: list[Line | str] = [
            (
                f"{amount(found.price)} in {len(found.lines)} line{'s' * (len(found.lines) != 1)};"
                " it is asked for, not approved"
            ),
            *with_and_without(rows, "as it is", "priced so"),
        ]
        sections = [Section("What it does", lines)]
        if found.notes:
            sections.append(Section("Look at", [f"· {note}" for note in found.notes]))
        return sections

    def keep(self, values: Values, choice: str) -> Any:
        """Keep the price."""
        return self._do(values)

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """That it is priced."""
        return (
            (
                f"{result.change.number} is priced: {amount(result.price)}. y approves it, u takes"
                " the price back."
            ),
            result.notes,
        )
