"""Delay events that the records suggest: each kind once, none twice, none that the site log has
already.
"""

import datetime as dt
from dataclasses import replace

from tracker.answers.slip_offers import BAD_WEATHER, offers
from tracker.approvals.records import Inspection
from tracker.money.records import Change, Contract
from tracker.schedule.path.plan import compute
from tracker.schedule.records import Activity, Calendar, Delay, Link, Weather
from tracker.schedule.slip.missed import MissedCutoff, missed_cutoffs
from tracker.schedule.slip.windows import taken
from tracker.trades.records import SiteLogDay, WordGiven
from tracker.values.project import Project

MONDAY = dt.date(2026, 3, 2)
ONE = dt.timedelta(days=1)
TODAY = MONDAY + 30 * ONE
FIVE = Calendar(code="FIVE", weekdays=("mon", "tue", "wed", "thu", "fri"))
OUTSIDE = Calendar(code="OUT", weekdays=("mon", "tue", "wed", "thu", "fri"))
FRAME = Activity(
    code="FRAME",
    name="Frame",
    kind="work",
    duration=5,
    contract="C1",
    actual_start=MONDAY,
    actual_finish=MONDAY + 9 * ONE,
)
CONTRACTS = (Contract(code="C1", contractor="framer"),)


def offered(since=None, missed=(), **tables):
    rows = {
        "project": (Project(start=MONDAY, status_date=TODAY),),
        "calendars": (FIVE, OUTSIDE),
        "activities": (FRAME,),
        "contracts": CONTRACTS,
        **tables,
    }
    return offers(rows, compute(rows), missed, since, TODAY)


def told(one):
    d = one.delay
    return one.table, one.key, d.activity, d.first, d.days, d.cause, d.party


def test_a_word_not_kept_is_offered_as_a_no_show_or_as_slow_work():
    said = WordGiven(
        code="W1",
        contractor="framer",
        activity="FRAME",
        kind="confirm",
        for_date=MONDAY,
        came_on=MONDAY + 3 * ONE,
    )
    (one,) = offered(words_given=(said,))
    assert told(one) == ("words_given", "W1", "FRAME", MONDAY, 3, "no-show", "contractor:framer")
    done = replace(said, kind="date", for_date=MONDAY + 4 * ONE, came_on=MONDAY + 9 * ONE)
    (one,) = offered(words_given=(done,))
    assert told(one) == (
        "words_given",
        "W1",
        "FRAME",
        MONDAY + 5 * ONE,
        3,
        "slow work",
        "contractor:framer",
    )
    assert offered(words_given=(replace(said, came_on=MONDAY),)) == ()
    (one,) = offered(words_given=(replace(said, came_on=None),))
    assert one.delay.last == TODAY


def test_a_failed_inspection_is_offered_from_the_day_after_until_it_was_seen_again():
    gate = Activity(
        code="I-FRAME",
        kind="gate",
        duration=1,
        actual_start=MONDAY + 10 * ONE,
        actual_finish=MONDAY + 10 * ONE,
    )
    again = {"because": "IN", "actual_start": MONDAY + 11 * ONE}
    correction = Activity(
        code="COR", kind="work", duration=2, actual_finish=MONDAY + 14 * ONE, **again
    )
    seen = Activity(code="RE", kind="gate", duration=1, actual_finish=MONDAY + 15 * ONE, **again)
    tables = {
        "activities": (FRAME, gate, correction, seen),
        "links": (
            Link(from_="FRAME", to="I-FRAME"),
            Link(from_="I-FRAME", to="COR"),
            Link(from_="COR", to="RE"),
        ),
        "inspections": (
            Inspection(code="IN", activity="I-FRAME", state="failed", date=MONDAY + 10 * ONE),
        ),
    }
    (one,) = offered(**tables)
    assert told(one) == (
        "inspections",
        "IN",
        "COR",
        MONDAY + 11 * ONE,
        3,
        "failed inspection",
        "contractor:framer",
    )
    entered = Delay(
        code="D1",
        activity="FRAME",
        first=MONDAY,
        days=1,
        cause="other",
        party="owner",
        evidence="Inspection IN",
    )
    assert offered(**tables, delays=(entered,)) == ()
    passed = replace(tables["inspections"][0], state="passed")
    assert offered(**{**tables, "inspections": (passed,)}) == ()


def test_bad_weather_is_offered_for_outside_work_under_way_that_day():
    roof = replace(FRAME, code="ROOF", calendar="OUT")
    days = (
        SiteLogDay(date=MONDAY + ONE, weather="Sleet, gusts"),
        SiteLogDay(date=MONDAY + 2 * ONE, weather="Clear"),
        SiteLogDay(date=MONDAY + 20 * ONE, weather="Rain"),
    )
    wet = (Weather(calendar="OUT", month=3, expected_days=2),)
    (one,) = offered(activities=(FRAME, roof), site_log=days, weather=wet)
    assert told(one) == ("site_log", "2026-03-03", "ROOF", MONDAY + ONE, 1, "weather", "nobody")


def test_words_of_the_weather_are_whole_words():
    assert (
        BAD_WEATHER.search("light Rain early")
        and BAD_WEATHER.search("Freezing")
        and BAD_WEATHER.search("snowy")
    )
    assert not BAD_WEATHER.search("nice and warm, police on the street") and not BAD_WEATHER.search(
        "Clear, 41 F"
    )


def test_an_approved_change_is_offered_unless_the_plan_or_the_site_log_names_it():
    change = Change(
        number="CH-1",
        title="More studs",
        asked_by="authority",
        state="approved",
        noticed=MONDAY,
        approved=MONDAY + ONE,
        days=3,
        activities=("FRAME",),
    )
    (one,) = offered(changes=(change,))
    assert told(one) == ("changes", "CH-1", "FRAME", MONDAY, 3, "change", "authority")
    assert offered(changes=(change,), activities=(replace(FRAME, because="CH-1"),)) == ()
    named = Delay(
        code="D1",
        activity="FRAME",
        first=MONDAY,
        days=1,
        cause="change",
        party="owner",
        note="see CH-1.",
    )
    assert offered(changes=(change,), delays=(named,)) == ()
    other = replace(named, note="see CH-10")
    assert len(offered(changes=(change,), delays=(other,))) == 1
    assert offered(changes=(replace(change, state="refused"),)) == ()
    assert (
        offered(changes=(replace(change, asked_by="the tenant of bay 3"),))[0].delay.party
        == "owner"
    )


def test_an_event_of_the_same_days_on_the_activity_is_offer_enough():
    said = WordGiven(
        code="W1",
        contractor="framer",
        activity="FRAME",
        kind="confirm",
        for_date=MONDAY,
        came_on=MONDAY + 3 * ONE,
    )
    there = Delay(
        code="D1", activity="FRAME", first=MONDAY + ONE, days=1, cause="weather", party="nobody"
    )
    assert offered(words_given=(said,), delays=(there,)) == ()
    long_ago = replace(there, first=MONDAY - 40 * ONE)
    assert len(offered(words_given=(said,), delays=(long_ago,))) == 1


def test_only_days_after_the_first_snapshot_are_asked_about():
    said = WordGiven(
        code="W1",
        contractor="framer",
        activity="FRAME",
        kind="confirm",
        for_date=MONDAY,
        came_on=MONDAY + 3 * ONE,
    )
    assert offered(since=MONDAY, words_given=(said,)) == ()


def test_a_missed_cut_off_is_offered_to_whoever_had_to_file():
    body = Calendar(
        code="BODY",
        recurrence="FREQ=MONTHLY;BYDAY=1TU",
        recurrence_from=dt.date(2026, 1, 1),
        cutoff_days=10,
    )
    file = Activity(code="FILE", name="File", kind="work", duration=3, contract="C1")
    hear = Activity(code="HEAR", name="Hearing", kind="gate", duration=1, calendar="BODY")
    links = (Link(from_="FILE", to="HEAR", type="FS", lag_unit="cutoff"),)
    rows = {
        "project": (Project(start=MONDAY),),
        "calendars": (FIVE, body),
        "activities": (file, hear),
        "links": links,
    }
    late = {
        **rows,
        "activities": (
            replace(file, actual_start=MONDAY + 20 * ONE, actual_finish=MONDAY + 28 * ONE),
            hear,
        ),
    }
    found = missed_cutoffs(taken(rows, MONDAY - ONE), taken(late, MONDAY + 29 * ONE))
    cutoff = dt.date(2026, 3, 28)
    assert found == (
        MissedCutoff("FILE", "HEAR", dt.date(2026, 4, 7), cutoff, dt.date(2026, 3, 30)),
    )
    early = {**rows, "activities": (replace(file, actual_start=MONDAY, actual_finish=cutoff), hear)}
    assert missed_cutoffs(taken(rows, MONDAY - ONE), taken(early, MONDAY + 29 * ONE)) == ()
    assert missed_cutoffs(taken(rows, MONDAY - ONE), taken(rows, cutoff - ONE)) == ()
    (one,) = offered(
        missed=found, activities=late["activities"], calendars=rows["calendars"], links=links
    )
    assert told(one) == (
        "activities",
        "FILE",
        "FILE",
        cutoff + ONE,
        1,
        "hearing missed",
        "contractor:framer",
    )
    there = Delay(
        code="D1",
        activity="HEAR",
        first=cutoff + ONE,
        days=1,
        cause="hearing missed",
        party="owner",
    )
    tables = {"activities": late["activities"], "calendars": rows["calendars"], "links": links}
    assert offered(missed=found, delays=(there,), **tables) == ()
