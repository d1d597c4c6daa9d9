"""Risk: the keys that others build on, the sentence, costs by percentile, and what days for sale
are worth.
"""

import datetime as dt

import pytest

from tests.answers.test_path import COUNCIL, day, project
from tests.every import every
from tracker.answers.as_json import as_json
from tracker.answers.risk import from_rows, share_bp
from tracker.answers.risk_words import chance_words, sentence
from tracker.command_line.page_text import sheets_of
from tracker.pages.bars import POINT, THERE, drawn, scale
from tracker.pages.page import value_of
from tracker.pages.risk import POST, histogram, outside, page
from tracker.schedule.lateness import cost_of_move
from tracker.schedule.records import Activity, BuyingDays, Risk
from tracker.values.days import full_day
from tracker.values.project import Project
from tracker.values.records import new

TODAY = day("03-02")


def rows(**cells):
    """Filing of 2 to 9 days before the council's cut-off, uncertain work after it, a risk on it, a
    day for sale.
    """
    made = project(risk_trials=4_000, **cells)
    made["activities"] = [
        Activity(code="FILE", duration=3, optimistic=2, pessimistic=30),
        *made["activities"][1:2],
        Activity(
            code="WORK",
            name="Build it",
            duration=5,
            optimistic=3,
            pessimistic=12,
            trade="carpentry",
        ),
        *made["activities"][3:],
    ]
    made["risks"] = [Risk(code="RAIN", probability=20_000, likely=3, activities=("WORK",))]
    made["buying_days"] = [BuyingDays(activity="WORK", cost_per_day=55_00, most_days=3)]
    return made


@pytest.fixture(scope="module")
def found():
    return from_rows(rows(), TODAY)


def test_json_has_the_keys_that_others_build_on(found):
    told = as_json(found)
    tenths = {f"p{q}" for q in range(10, 100, 10)}
    assert {
        "trials",
        "seed",
        "shape",
        "chance_of_promise_bp",
        "activities",
        "gates",
        *tenths,
    } <= told.keys()
    assert (told["trials"], told["seed"], told["shape"]) == (4_000, 1, "pert")
    assert {"code", "criticality_bp", "rank_correlation"} <= told["activities"][0].keys()
    assert {"code", "chance_missed_bp"} <= told["gates"][0].keys()
    assert [a["code"] for a in told["activities"]] == ["FILE", "HEAR", "WORK", "OPEN"]
    assert every(dt.date.fromisoformat(told[p]) for p in tenths)
    assert [told[f"p{q}"] for q in range(10, 100, 10)] == sorted(told[p] for p in tenths)
    work = next(a for a in told["activities"] if a["code"] == "WORK")
    assert 0 < work["rank_correlation"] < 1 and work["criticality_bp"] == 10_000


def test_a_certain_duration_has_no_rank_correlation(found):
    assert next(a for a in found.activities if a.code == "OPEN").rank_correlation is None


def test_the_hearing_shows_its_meeting_and_its_chances(found):
    (gate,) = found.gates
    assert (gate.code, gate.calendar, gate.meeting, gate.cutoff) == (
        "HEAR",
        "COUNCIL",
        day("04-14"),
        day("03-24"),
    )
    assert 0 < gate.chance_missed_bp < 10_000 and gate.chance_continued_bp == 0
    hearing = next(d for d in found.drivers if d.kind == "hearing")
    assert (hearing.code, hearing.p80_days > 0) == ("HEAR", gate.chance_missed_bp > 2_000)


def test_each_percentile_costs_its_days_late_and_the_steps_passed(found):
    steps = rows()["step_costs"]
    for p in found.percentiles:
        assert p.date == getattr(found, f"p{p.percent}")
        assert p.days_late == (p.date - day("04-14")).days
        assert p.cost_cents == cost_of_move(steps, day("04-14"), p.date, 40_00)
    assert found.percentiles[-1].cost_cents > 1_000_00  # past the fee of 20 April


def test_the_plot_holds_all_trials(found):
    """Each bar's share is rounded by itself, so that the sum may be off by half a basis
    point each.
    """
    assert abs(sum(bar.share_bp for bar in found.histogram) - 10_000) <= len(found.histogram)
    assert found.histogram[-1].by_then_bp == 10_000
    bars = [row.cells[-1] for row in histogram(found).rows]
    assert len(bars) == len(found.histogram)
    letters = [drawn(bar, scale(bars), 30) for bar in bars]
    assert every(len(line) == 30 and line.count(POINT) == 1 for line in letters)
    longest = max(range(len(bars)), key=lambda k: found.histogram[k].share_bp)
    assert letters[longest].count(THERE) + letters[longest].count(POINT) >= 29
    assert not any(POST in span for span in spans(found))
    assert "before the first trial" in outside(found)


def spans(found):
    return [value_of(row.cells[0]) for row in histogram(found).rows]


def test_the_stretch_of_the_promise_carries_a_post():
    found = from_rows(rows(promised_opening=day("04-24")), TODAY)
    (marked,) = [k for k, span in enumerate(spans(found)) if POST in span]
    assert outside(found) == ""
    stretch = found.histogram[marked]
    assert stretch.first <= day("04-24") <= stretch.last


def test_days_for_sale_are_told_with_what_they_save(found):
    """40.00 a day.

    The plan opens on Tue 21 April; the three days sold bring it to Thu 16 April, before the fee of
    20 April.
    """
    assert found.forecast_opening == day("04-21")
    ways = {way.days_won: (way.cost_cents, way.saved_cents) for way in found.buying.ways}
    assert ways == {
        1: (55_00, 40_00 + 1_000_00),
        4: (110_00, 4 * 40_00 + 1_000_00),
        5: (165_00, 5 * 40_00 + 1_000_00),
    }
    assert found.buying.complete and found.buying.pays_days == 4
    assert [b.days for way in found.buying.ways if way.pays for b in way.buys] == [2]


def test_a_project_without_activities_has_nothing_to_be_sure_of():
    told = as_json(from_rows({"project": [new(Project)]}, TODAY))
    assert told["p80"] is None and told["chance_of_promise_bp"] is None and told["activities"] == []
    assert "no activity yet" in told["sentence"]


def test_where_nothing_is_uncertain_every_trial_is_the_plan():
    made = project(risk_trials=100)
    found = from_rows(made, TODAY)
    assert {p.date for p in found.percentiles} == {found.forecast_opening}
    assert (
        found.sentence.startswith("Nothing is uncertain yet") and "21 April 2026" in found.sentence
    )


def test_what_has_opened_is_said_to_have_opened():
    made = rows(status_date=day("04-30"))
    made["activities"] = [Activity(code="OPEN", kind="milestone", actual_finish=day("04-29"))]
    made["links"], made["risks"], made["buying_days"] = [], [], []
    assert from_rows(made, TODAY).sentence == "It opened on 29 April 2026."


def test_a_promise_whose_day_went_by_is_missed_whatever_the_trials_say():
    """Every trial opens before the promise, but today lies after both and nothing was entered
    since.
    """
    found = from_rows(rows(promised_opening=day("12-01")), dt.date(2026, 12, 10))
    assert found.p90 < day("12-01")
    assert (found.promise_is_over, found.chance_of_promise_bp, found.chance_of_forecast_bp) == (
        True,
        0,
        None,
    )
    assert {(p.is_over, p.days_late) for p in found.percentiles} == {(True, 9)}
    assert (
        "Promise 1 December 2026: missed: that day is over" in found.sentence
        and "every trial" not in found.sentence
    )
    text = "\n".join(cell for sheet in sheets_of(page(found)) for row in sheet.rows for cell in row)
    assert "0 %, missed" in text and full_day(found.p80) in text
    (note,) = [s.note for s in sheets_of(page(found)) if s.title == "Opening by percentile"]
    assert "80 of 100, 90 of 100: over, before today, and it has not opened" in note


def test_trials_in_the_past_give_no_chance_of_a_promise_ahead():
    found = from_rows(rows(promised_opening=day("12-20")), dt.date(2026, 12, 10))
    assert (found.promise_is_over, found.chance_of_promise_bp) == (False, None)
    assert {(p.is_over, p.days_late, p.cost_cents) for p in found.percentiles} == {
        (True, None, None)
    }
    assert "no longer possible" in found.sentence


def test_a_promise_that_was_kept_is_not_missed():
    made = rows(status_date=day("04-30"), promised_opening=day("04-29"))
    made["activities"] = [Activity(code="OPEN", kind="milestone", actual_finish=day("04-29"))]
    made["links"], made["risks"], made["buying_days"] = [], [], []
    found = from_rows(made, day("05-10"))
    assert (found.promise_is_over, found.chance_of_promise_bp) == (False, 10_000)


def test_without_a_promise_there_is_no_chance_and_no_cost():
    found = from_rows(rows(promised_opening=None), TODAY)
    assert found.chance_of_promise_bp is None
    assert {p.cost_cents for p in found.percentiles} == {None}
    assert found.sentence.startswith("For 4 in 5, say ")


def test_a_body_that_continues_cases_says_so():
    from dataclasses import replace

    made = rows()
    made["calendars"] = [made["calendars"][0], replace(COUNCIL, continued_share=25_000)]
    (gate,) = from_rows(made, TODAY).gates
    assert gate.chance_continued_bp == 2_500


def test_weather_is_counted_in_the_calendars_and_never_twice():
    from tracker.schedule.records import Weather

    assert "no weather days" in from_rows(rows(), TODAY).weather
    wet = rows() | {"weather": [Weather(calendar="WEEK", month=4, expected_days=3)]}
    assert "WEEK" in from_rows(wet, TODAY).weather


@pytest.mark.parametrize(
    "basis_points, words",
    [
        (0, "met in no trial"),
        (10, "less than 1 chance in 20"),
        (1_650, "1 chance in 6"),
        (3_400, "1 chance in 3"),
        (5_000, "1 chance in 2"),
        (5_600, "a little better than 1 chance in 2"),
        (6_700, "2 chances in 3"),
        (8_000, "4 chances in 5"),
        (9_000, "9 chances in 10"),
        (9_900, "nearly certain"),
        (10_000, "met in every trial"),
    ],
)
def test_a_chance_is_said_as_people_say_it(basis_points, words):
    assert chance_words(basis_points) == words


def test_the_sentence_is_that_of_the_rules():
    words = sentence(
        dt.date(2026, 6, 12),
        1_667,
        dt.date(2026, 8, 3),
        dt.date(2026, 6, 10),
        ("the May hearing", 40),
    )
    assert (
        words
        == "Promise 12 June 2026: 1 chance in 6. For 4 in 5, say 3 August. Most of that is the May"
        " hearing."
    )


def test_the_sentence_says_what_is_late_already_and_what_is_uncertain():
    words = sentence(
        dt.date(2026, 6, 12), 0, dt.date(2026, 8, 3), dt.date(2026, 7, 20), ("the wall", 9)
    )
    assert "Most of that is in the plan already: if all goes as likely, it opens 20 July." in words
    assert words.endswith("The largest part of what is uncertain: the wall, 9 calendar days.")


def test_a_safe_promise_is_said_to_be_one():
    words = sentence(
        dt.date(2026, 9, 1), 9_500, dt.date(2026, 8, 3), dt.date(2026, 7, 20), ("the wall", 9)
    )
    assert words == "Promise 1 September 2026: 19 chances in 20. Even 4 in 5 is 3 August."


def test_shares_are_rounded_half_up():
    assert [share_bp(part, 20_000) for part in (0, 1, 3, 20_000)] == [0, 1, 2, 10_000]


def test_the_terminal_shows_the_figures_of_the_answer(found):
    text = "\n".join(cell for sheet in sheets_of(page(found)) for row in sheet.rows for cell in row)
    assert full_day(found.p80) in text and "WORK\nBuild it" in text and "HEAR\nHEAR" in text
    assert text.startswith(found.sentence)
    assert "Buying days" in [sheet.title for sheet in sheets_of(page(found))]
