"""A month of mornings on the sample project, day by day, against what its tables say.

Nothing is entered in that month. Each fact below is read off the tables by hand, with the table
beside it; dates that only the plan has (the start of heaters on 5 August, of the second rough
wiring on 17 August, the rough inspections on 25 August) are said to be so. It holds on exactly the
days named, and on no other.
"""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from tests.command_line.running import tracker
from tests.conftest import copied
from tracker.answers.as_json import as_json
from tracker.answers.morning import MorningAnswer, answer
from tracker.project_file.store import open_file

FIRST, LAST = dt.date(2026, 7, 18), dt.date(2026, 8, 17)
DAYS = [FIRST + dt.timedelta(days=days) for days in range((LAST - FIRST).days + 1)]
"""Saturday 18 July to Monday 17 August; the status date is Friday 17 July."""

ASK, COME, FILE = "Inspections to ask for", "Inspections that come", "Filings before a cut-off"
CALL, WORD, GOODS = "Calls to make", "Words given", "Deliveries"
PAPER, ITEM, PERMIT, GONE = (
    "Papers that run out before their work",
    "Checklist",
    "Permits that lapse",
    "Gone by since the status date",
)

FACTS: tuple[tuple[str, str, tuple[tuple[str, str, str], ...]], ...] = (
    # inspections.csv: 27 July, five days ahead: Wednesday 22 July
    (ASK, "IN-HYDRO", (("~", "07-18", "07-21"), ("!", "07-22", "08-17"))),
    (ASK, "ask for IN-HYDRO Sprinkler pressure test today", (("!", "07-22", "07-22"),)),
    (
        ASK,
        "IN-HYDRO Sprinkler pressure test was planned for Mon 27 Jul 2026",
        (("!", "07-28", "08-17"),),
    ),
    # inspections.csv: 29 July, two days ahead: Monday 27; 30 July: Tuesday 28
    (ASK, "IN-ROUGH-P ", (("~", "07-18", "07-26"), ("!", "07-27", "08-17"))),
    (ASK, "IN-FRAME-A ", (("~", "07-18", "07-27"), ("!", "07-28", "08-17"))),
    # by the plan on Tuesday 25 August; two days ahead is a Sunday, and calendar COUNTY works Monday
    # to Thursday: 20 August
    (
        ASK,
        "ask for IN-ROUGH-M Rough mechanical and gas test (section 110.3.4) by Thu 20 Aug 2026",
        (("~", "08-06", "08-17"),),
    ),
    # inspections.csv: requested, 21 July
    (COME, "IN-FLINE-2", ((" ", "07-18", "07-21"), ("?", "07-22", "08-17"))),
    # calendars.csv: second Tuesday of September is the 8th, 30 days before is a Sunday, rolled back
    # to Thursday 6 August
    (
        FILE,
        "file for Planning commission approves screen",
        (("~", "07-18", "07-29"), ("!", "07-30", "08-06")),
    ),
    (FILE, "today, Thu 06 Aug 2026", (("!", "08-06", "08-06"),)),
    (FILE, "screen and planting was Thu 06 Aug 2026; enter the filing", (("!", "08-07", "08-17"),)),
    # papers.csv: license to 31 July; the plan has the heaters from Wednesday 5 August on, two weeks
    # before is 22 July
    (PAPER, "Mockup Heating & Air: license", (("~", "07-18", "07-21"), ("!", "07-22", "08-17"))),
    # papers.csv: to 30 September; the plan sets the switchgear from 1 October on
    (PAPER, "Notional Electric: workers comp", (("~", "07-18", "08-17"),)),
    # permits.csv: expires 10 August, told thirty days ahead; P-ROOF has its final and is told on no
    # day
    (PERMIT, "P-DEMO", (("~", "07-18", "08-09"), ("!", "08-10", "08-17"))),
    (PERMIT, "P-ROOF", ()),
    # checklist.csv: due, told two weeks ahead; in hand or asked before, overdue after
    (ITEM, "PER-14", (("~", "07-18", "07-24"), ("!", "07-25", "08-17"))),
    (ITEM, "CON-05", (("?", "07-18", "07-31"), ("!", "08-01", "08-17"))),
    (ITEM, "PER-22", (("?", "07-20", "08-03"), ("!", "08-04", "08-17"))),
    (ITEM, "CON-04", (("~", "07-23", "08-06"), ("!", "08-07", "08-17"))),
    (ITEM, "PER-18", (("?", "07-24", "08-07"), ("!", "08-08", "08-17"))),
    # checklist.csv: open, due 26 August and 1 September, two days each: to begin by 24 and 30
    # August
    (ITEM, "INS-04 Roughs of the trades, then the frame: begin", (("~", "08-10", "08-17"),)),
    (ITEM, "INS-06", (("~", "08-16", "08-17"),)),
    # words_given.csv: W-30, said on 16 July for 30 July, two weeks ahead; called again on 23 July
    # and on 29 July
    (
        CALL,
        "bays 8-14 starts Thu 30 Jul 2026; confirmed Thu 16 Jul 2026, once more a week ahead",
        (("~", "07-23", "07-28"),),
    ),
    (
        CALL,
        "bays 8-14 starts Thu 30 Jul 2026; confirmed Thu 16 Jul 2026, once more the day before",
        (("~", "07-29", "07-29"),),
    ),
    (CALL, "call Sample & Daughters Carpentry", (("~", "07-23", "07-29"),)),
    (
        WORD,
        "Sample & Daughters Carpentry said Thu 30 Jul",
        (("~", "07-23", "07-29"), ("?", "07-31", "08-17")),
    ),
    (WORD, "Sample & Daughters Carpentry comes today by their word", (("~", "07-30", "07-30"),)),
    # nobody has given a word: two weeks before 5 August, and before 17 August by the plan
    (CALL, "call Mockup Heating & Air, 555-0107", (("?", "07-22", "08-17"),)),
    (CALL, "Unit heaters, ducts and gas piping was to start", (("?", "08-06", "08-17"),)),
    (CALL, "Rough wiring, bays 8-14 starts Mon 17 Aug 2026", (("?", "08-03", "08-17"),)),
    # deliveries.csv, activities.csv: ordered 6 May, 84 days on calendar ALLDAYS: the last is 28
    # July
    (GOODS, "Overhead doors", (("~", "07-18", "07-28"), ("?", "07-29", "08-17"))),
    # ordered 3 March, 212 days: 30 September, more than thirty days off and not promised too late
    (GOODS, "Switchgear", ()),
    # activities.csv: begun 16 July, two working days: Monday 20 July; asked once the status date is
    # over a week old
    (
        GONE,
        "Replace the leaking joint of the fire line was to be done Mon 20 Jul 2026",
        (("?", "07-25", "08-17"),),
    ),
)


@pytest.fixture(scope="module")
def file(sample_made: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sample project's file."""
    return copied(sample_made, tmp_path_factory.mktemp("month") / "s.db")


@pytest.fixture(scope="module")
def mornings(file: Path) -> dict[dt.date, MorningAnswer]:
    """Every morning of the month."""
    with open_file(file) as project:
        return {day: answer(project, day) for day in DAYS}


def day_of(text: str) -> dt.date:
    return dt.date.fromisoformat(f"2026-{text}")


def marks(morning: MorningAnswer, title: str, words: str) -> list[str]:
    """The marks of the lines of a section that hold these words."""
    return [
        item.mark
        for section in morning.sections
        if section.title == title
        for item in section.items
        if words in item.text
    ]


@pytest.mark.parametrize(
    ("title", "words", "spans"), FACTS, ids=[f"{title}: {words}"[:60] for title, words, _ in FACTS]
)
def test_a_fact_is_told_on_its_days_and_on_no_other(
    mornings: dict[dt.date, MorningAnswer],
    title: str,
    words: str,
    spans: tuple[tuple[str, str, str], ...],
) -> None:
    for day, morning in mornings.items():
        wanted = [mark for mark, first, last in spans if day_of(first) <= day <= day_of(last)]
        assert marks(morning, title, words) == wanted, f"{day}: {words}"


def test_the_status_date_is_old_from_the_eighth_day_on(
    mornings: dict[dt.date, MorningAnswer],
) -> None:
    old = [day for day, morning in mornings.items() if morning.as_of is not None]
    assert old == [day for day in DAYS if day >= dt.date(2026, 7, 25)]


def test_no_inspection_is_to_be_asked_for_on_a_day_on_which_the_office_is_closed(
    mornings: dict[dt.date, MorningAnswer],
) -> None:
    """Calendar COUNTY works Monday to Thursday, and not on 13 August."""
    asked = {
        item.day
        for morning in mornings.values()
        for section in morning.sections
        if section.title == ASK
        for item in section.items
    }
    assert asked and all(day and day.weekday() < 4 and day != dt.date(2026, 8, 13) for day in asked)


@pytest.mark.parametrize("day", ["2026-07-22", "2026-08-06", "2026-08-07"])
def test_the_command_says_the_same_as_the_answer(
    file: Path, mornings: dict[dt.date, MorningAnswer], day: str
) -> None:
    shown = tracker("show", file, "morning", "--json", "--today", day).json
    assert shown == as_json(mornings[dt.date.fromisoformat(day)])
