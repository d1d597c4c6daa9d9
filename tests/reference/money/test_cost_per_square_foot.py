"""Cost per square foot against a published cost summary, and areas."""

from __future__ import annotations

from tests.money.making import TODAY, Site, cents
from tracker.answers.cost import from_rows
from tracker.money.cost_per_square_foot import cost_per
from tracker.values.project import Space
from tracker.values.records import new

SUMMARY = [
    ("Foundations", 92_096, 1.84),
    ("Substructures", 65_053, 1.30),
    ("Superstructures", 328_565, 6.57),
    ("Exterior Closures", 286_536, 5.73),
    ("Roofing", 151_015, 3.02),
    ("Interior Construction", 1_046_939, 20.94),
    ("Elevators", 190_482, 3.81),
    ("Mechanical", 879_146, 17.58),
    ("Electrical", 566_561, 11.33),
    ("Specialties", 72_128, 1.44),
    ("Architect/Design Fee", 323_570, 6.47),
]
"""Source: an elemental cost summary printed on a public page (not the table of NISTIR 6389); the
area of 50,000 square feet is implied by its total of 4,002,091 at 80.04. How we know: read as
printed.
"""


def test_every_element_costs_per_square_foot_as_printed() -> None:
    assert [cost_per(cents(cost), 50_000) for _, cost, _ in SUMMARY] == [
        cents(each) for _, _, each in SUMMARY
    ]


def test_the_total_costs_per_square_foot_as_printed() -> None:
    site = Site().add(new(Space, code="S1", gross_sf=50_000, rentable_sf=40_000))
    for number, (name, cost, _) in enumerate(SUMMARY):
        site.cost_lines(f"L{number}", budget=cost, name=name)
    found = from_rows(site.tables, TODAY)
    assert found.total.forecast_cents == cents(4_002_091)
    assert found.per_gross_sf_cents.forecast_cents == cents(80.04)


def test_the_same_cost_by_two_divisors() -> None:
    """480,000 over 4,000 gross is 120.00, over 3,200 rentable 150.00 (arithmetic, own numbers)."""
    site = (
        Site()
        .add(new(Space, code="S1", gross_sf=4_000, rentable_sf=3_200))
        .cost_lines("A", budget=480_000)
    )
    found = from_rows(site.tables, TODAY)
    assert (found.gross_sf, found.rentable_sf) == (4_000, 3_200)
    assert found.per_gross_sf_cents.forecast_cents == cents(120)
    assert found.per_rentable_sf_cents.forecast_cents == cents(150)
    assert found.rentable_share_bp == 8_000
