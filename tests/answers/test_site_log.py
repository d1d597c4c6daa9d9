"""The site log by day, with the delays that began and who came."""

from __future__ import annotations

import datetime as dt

from tracker.answers.site_log import from_rows
from tracker.schedule.records import Delay
from tracker.trades.records import Contractor, SiteLogDay, WordGiven
from tracker.values.records import new


def day(number: int) -> dt.date:
    return dt.date(2027, 3, number)


def test_a_day_stands_with_its_weather_crews_delays_and_comings_the_last_first() -> None:
    rows = {
        "site_log": [
            new(SiteLogDay, date=day(1), weather="Rain", crew="Framers 4", note="Sent home"),
            new(SiteLogDay, date=day(9)),
        ],
        "delays": [
            new(
                Delay,
                code="D-01",
                activity="a",
                first=day(1),
                days=2,
                cause="weather",
                party="nobody",
            ),
            new(
                Delay,
                code="D-02",
                activity="a",
                first=day(1),
                days=1,
                cause="no-show",
                party="contractor:f",
            ),
            new(
                Delay, code="D-03", activity="a", first=day(3), days=4, cause="other", party="owner"
            ),
        ],
        "contractors": [new(Contractor, code="f", name="Framers")],
        "words_given": [
            new(WordGiven, code="W", contractor="f", activity="a", for_date=day(1), came_on=day(4))
        ],
    }
    answer = from_rows(rows, day(8))
    assert [(one.date, one.logged, one.lost) for one in answer.days] == [
        (day(4), False, 0),
        (day(3), False, 4),
        (day(1), True, 3),
    ]
    assert answer.days[0].words == ("Framers for a: said Mon 01 Mar, came Thu 04 Mar",)
    assert [delay.code for delay in answer.days[2].delays] == ["D-01", "D-02"] and answer.lost == 7
    assert not answer.today_logged and from_rows(rows, day(9)).today_logged
