"""Five dates of one delivery: each that is late is told before it hurts."""

from __future__ import annotations

import datetime as dt

from tracker.schedule.delivery_steps import DeliveryStanding, delivery_standing, next_step
from tracker.schedule.records import Delivery

ORDER, SITE = dt.date(2027, 4, 1), dt.date(2027, 6, 1)
ORDER_LATEST, SITE_LATEST = dt.date(2027, 4, 11), dt.date(2027, 6, 11)


def stands(today: dt.date, **dates: dt.date) -> DeliveryStanding:
    """A delivery that the plan orders on 1 April and has on site on 1 June, with ten days
    of float.
    """
    steps = Delivery(activity="GEAR", **dates)
    return delivery_standing(steps, ORDER, SITE, ORDER_LATEST, SITE_LATEST, today)


def day(text: str) -> dt.date:
    return dt.date.fromisoformat(f"2027-{text}")


def test_an_order_is_told_two_weeks_ahead_with_the_step_that_is_missing() -> None:
    assert stands(day("03-17")).mark == " "
    soon = stands(day("03-18"), submitted=day("03-01"))
    assert (soon.mark, soon.next_step, soon.order_by, soon.order_latest) == (
        "~",
        "approved",
        ORDER,
        ORDER_LATEST,
    )
    assert (
        soon.text
        == "planned on site Tue 01 Jun 2027, not approved, order by Thu 01 Apr 2027, Sun 11 Apr"
        " 2027 at the latest"
    )


def test_what_is_not_ordered_on_its_day_is_late() -> None:
    assert stands(ORDER, submitted=day("03-01"), approved=day("03-20")).mark == "!"
    assert stands(ORDER, submitted=day("03-01"), approved=day("03-20"), ordered=ORDER).mark == " "


def test_a_promise_is_late_only_once_it_moves_the_opening() -> None:
    fine = stands(day("04-02"), ordered=ORDER, promised_ship=SITE_LATEST)
    late = stands(day("04-02"), ordered=ORDER, promised_ship=day("06-14"))
    assert (fine.mark, fine.promise_late_days) == (" ", 0)
    assert (late.mark, late.promise_late_days) == ("!", 3)
    assert late.text.endswith("promised to ship Mon 14 Jun 2027, 3 days too late")


def test_a_day_that_is_over_asks_whether_it_came() -> None:
    assert stands(SITE, ordered=ORDER, promised_ship=SITE).mark == "~"
    over = stands(day("06-02"), ordered=ORDER, promised_ship=SITE)
    assert over.mark == "?" and over.text.endswith(": did it come?")
    assert stands(day("06-02"), ordered=ORDER, promised_ship=SITE, on_site=SITE).mark == "="


def test_the_next_step_is_the_first_without_a_date() -> None:
    assert next_step(None) == "submitted"
    names = ("submitted", "approved", "ordered", "promised_ship", "on_site")
    for count in range(1, 6):
        steps = Delivery(activity="GEAR", **dict.fromkeys(names[:count], ORDER))  # type: ignore[arg-type]
        assert (
            next_step(steps) == ("approved", "ordered", "promised ship", "on site", "")[count - 1]
        )
