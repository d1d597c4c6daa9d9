"""Write a large, consistent, invented project folder, to see how the program grows with it.

    python -m tests.scale.large_project FOLDER [--scale 1.0] [--snapshots 10] [--seed 1]

Scale 1: 5,000 activities, 8,000 links, 200 contracts of 10 lines each, 300 pay applications with
their lines, 30 draws, 2,000 checklist items, 1,000 inspections, 300 changes. Everything follows
from the seed; only the standard library is used. Then: tracker new big.db --from FOLDER
"""

from __future__ import annotations

import argparse
import csv
import datetime as dt
import random
from pathlib import Path

START = dt.date(2025, 1, 6)
STATUS = dt.date(2026, 7, 17)
BAYS = 50


def workdays(first: dt.date, last: dt.date) -> list[dt.date]:
    """Every Monday to Friday."""
    count = (last - first).days + 1
    return [d for d in (first + dt.timedelta(n) for n in range(count)) if d.weekday() < 5]


DAYS = workdays(START, dt.date(2060, 1, 1))


def money(cents: int) -> str:
    """Cents as dollars."""
    sign = "-" if cents < 0 else ""
    return f"{sign}{abs(cents) // 100}.{abs(cents) % 100:02d}"


def write(folder: Path, name: str, header: str, rows: list[list[object]]) -> None:
    """One table."""
    folder.mkdir(parents=True, exist_ok=True)
    with (folder / f"{name}.csv").open("w", newline="", encoding="utf-8") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(header.split(","))
        out.writerows(["" if cell is None else cell for cell in row] for row in rows)


SOURCE = (
    "code,name,kind,amount,order,rate,day_count,retainage,funds_deposits,funds_stored,reserve_line,"
    "minimum_draw,matures,extension_fee"
)
ACTIVITY = (
    "code,name,kind,trade,contract,permit,space,calendar,duration,not_before,finish_by,optimistic,pessimistic,"
    "actual_start,actual_finish,remaining,held,because,note"
)
PROJECT = (
    "name,address,existing_use,proposed_use,start,status_date,opening,promised_opening,jurisdiction,currency,"
    "insurance_per_day,tax_per_day,cash_on_hand,funding_days,payment_days,near_critical_days"
)


class Plan:
    """Activities with links from earlier to later ones, and their early dates as indices of working
    days.
    """

    def __init__(self, count: int, links: int, rnd: random.Random, span: int) -> None:
        self.count = count
        chain = max(2, count // BAYS)
        self.links: list[tuple[int, int]] = []
        for number in range(1, count):
            if number % chain:
                self.links.append((number - 1, number))
        known = set(self.links)
        for number in range(chain - 1, count - 1, chain):
            known.add((number, count - 1))
            self.links.append((number, count - 1))
        while len(self.links) < links:
            one, step = rnd.randrange(count - 1), rnd.randrange(1, chain)
            # to a later place of another bay: keeps the network free of loops, since place within
            # the bay only rises
            place, bay = one % chain, rnd.randrange(BAYS)
            other = bay * chain + min(chain - 1, place + 1 + step % 5)
            if (
                other % chain > place
                and other < count - 1
                and (one, other) not in known
                and one != other
            ):
                known.add((one, other))
                self.links.append((one, other))
        mean = max(1, span // chain)
        self.duration = [rnd.randint(1, 2 * mean) for _ in range(count)]
        self.duration[-1] = 0
        self.order = sorted(range(count), key=lambda n: (n == count - 1, n % chain, n))
        self.after: list[list[int]] = [[] for _ in range(count)]
        for one, other in self.links:
            self.after[one].append(other)

    def dates(self, duration: list[int]) -> tuple[list[int], list[int]]:
        """First and last working day of each activity, as indices; nothing is in progress."""
        start, finish = [0] * self.count, [0] * self.count
        for number in self.order:
            finish[number] = start[number] + duration[number]
            for other in self.after[number]:
                start[other] = max(start[other], finish[number])
        return start, finish


def activity_rows(plan: Plan, status: dt.date, contracts: int) -> list[list[object]]:
    """The activities as they stand on a status date: done, under way, to come."""
    trades = max(1, plan.count // 125)
    now = sum(d <= status for d in DAYS[:8000])
    start, finish = plan.dates(plan.duration)
    rows: list[list[object]] = []
    for n in range(plan.count):
        long = plan.duration[n]
        begun, done = start[n] < now, finish[n] <= now
        kind = "milestone" if long == 0 else "work"
        rows.append(
            [
                code(n, plan.count),
                f"Work {n} in bay {n * BAYS // plan.count}",
                kind,
                f"Trade {n % trades}" if long else "",
                f"C{n % contracts:04d}" if long else "",
                "",
                "",
                "WEEK",
                long,
                "",
                "",
                max(1, long - 1) if long else "",
                long + 4 if long else "",
                DAYS[start[n]] if begun and long else "",
                DAYS[finish[n] - 1] if done and long else "",
                finish[n] - now if begun and not done and long else "",
                "",
                "",
                "",
            ]
        )
    return rows


def code(n: int, count: int) -> str:
    """An activity's code."""
    return "OPEN" if n == count - 1 else f"A{n:05d}"


def main() -> None:
    """Write the folder."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("folder", type=Path)
    options.add_argument("--scale", type=float, default=1.0)
    options.add_argument("--snapshots", type=int, default=10)
    options.add_argument("--seed", type=int, default=1)
    given = options.parse_args()
    write_project(given.folder, given.scale, given.snapshots, given.seed)


def write_project(
    out: Path, big: float, snapshots: int = 0, seed: int = 1, monthly_draws: int | None = None
) -> None:
    """Write the folder. big: the scale; monthly_draws: so many draws at any scale, as a
    loan has.
    """
    rnd = random.Random(seed)
    count, link_count = int(5_000 * big), int(8_000 * big)
    contracts, applications = int(200 * big), int(300 * big)
    draws = int(30 * big) if monthly_draws is None else monthly_draws
    checklist, inspections, changes, cost_lines = (
        int(2_000 * big),
        int(1_000 * big),
        int(300 * big),
        int(80 * big),
    )
    plan = Plan(count, link_count, rnd, 700)
    link_rows: list[list[object]] = [
        [code(a, count), code(b, count), "FS", "", ""] for a, b in plan.links
    ]
    promised = DAYS[plan.dates(plan.duration)[1][-1] - 30]

    def project_row(status: dt.date) -> list[object]:
        return [
            "A very large invented project",
            "1 Nowhere Road",
            "rink",
            "workshops",
            START,
            status,
            "OPEN",
            promised,
            "general",
            "USD",
            "34.50",
            "29.20",
            "500000.00",
            12,
            30,
            5,
        ]

    write(out, "project", PROJECT, [project_row(STATUS)])
    calendars: list[list[object]] = [
        ["WEEK", "Work week", "mon tue wed thu fri", "", "", "", "", "", "", ""]
    ]
    calendar_head = "code,name,weekdays,holidays,recurrence,recurrence_from,cutoff_days,cutoff_calendar,continued_share,members"
    write(out, "calendars", calendar_head, calendars)
    write(out, "activities", ACTIVITY, activity_rows(plan, STATUS, contracts))
    write(out, "links", "from,to,type,lag,lag_unit", link_rows)

    lines = [f"L{n:04d}" for n in range(cost_lines)]
    value = {
        (c, n): rnd.randrange(200_000, 4_000_000, 100) for c in range(contracts) for n in range(10)
    }
    placed = {key: lines[rnd.randrange(cost_lines - 2)] for key in value}
    budget = dict.fromkeys(lines, 5_000_000)
    for key, cents in value.items():
        budget[placed[key]] += int(cents * 1.05)
    kind = {lines[-1]: "contingency_construction", lines[-2]: "soft"}
    write(
        out,
        "cost_lines",
        "code,name,kind,budget,left_to_buy,bought_out",
        [[one, f"Line {one}", kind.get(one, "hard"), money(budget[one]), "", ""] for one in lines],
    )
    write(
        out,
        "contractors",
        "code,name,trade,phone,email,note",
        [
            [
                f"K{n:04d}",
                f"Contractor {n}",
                f"Trade {n % 40}",
                f"555-{n:04d}",
                f"k{n}@example.example",
                "",
            ]
            for n in range(contracts)
        ],
    )
    write(
        out,
        "papers",
        "code,contractor,kind,number,limit,from,to,evidence",
        [
            [
                f"P{n:04d}",
                f"K{n:04d}",
                "liability",
                f"G{n}",
                "1000000.00",
                "2025-01-01",
                "2027-12-31",
                "",
            ]
            for n in range(contracts)
        ],
    )
    contract_rows: list[list[object]] = [
        [
            f"C{c:04d}",
            f"K{c:04d}",
            "",
            START,
            money(sum(value[c, n] for n in range(10))),
            10,
            "",
            "",
            "",
        ]
        for c in range(contracts)
    ]
    write(
        out,
        "contracts",
        "code,contractor,package,signed,sum,retainage,stored_retainage,stop_retainage_at,note",
        contract_rows,
    )
    line_rows: list[list[object]] = [
        [f"C{c:04d}", f"V{n}", f"Value {n}", placed[c, n], money(value[c, n]), "", "", ""]
        for c in range(contracts)
        for n in range(10)
    ]
    write(
        out,
        "contract_lines",
        "contract,line,name,cost_line,value,retainage,activities,inspections",
        line_rows,
    )

    change_rows: list[list[object]] = []
    change_line_rows: list[list[object]] = []
    for n in range(changes):
        day = START + dt.timedelta(30 + (n * 500) // changes)
        state = ("approved", "approved", "priced", "noticed", "refused")[n % 5]
        priced = "" if state == "noticed" else day
        change_rows.append(
            [
                f"CH{n:04d}",
                f"C{n % contracts:04d}",
                f"Change {n}",
                "found",
                "owner",
                state,
                day,
                priced,
                day if state == "approved" else "",
                0,
                "",
            ]
        )
        if state != "noticed":
            change_line_rows.append(
                [
                    f"CH{n:04d}",
                    "1",
                    "Extra",
                    placed[n % contracts, 0],
                    money(rnd.randrange(10_000, 500_000, 100)),
                ]
            )
    write(
        out,
        "changes",
        "number,contract,title,reason,asked_by,state,noticed,priced,approved,days,activities",
        change_rows,
    )
    write(out, "change_lines", "change,line,name,cost_line,amount", change_line_rows)

    months = [START + dt.timedelta(540 * (n + 1) // (draws + 1)) for n in range(draws)]
    application_rows: list[list[object]] = []
    application_line_rows: list[list[object]] = []
    payments: list[list[object]] = []
    waivers: list[list[object]] = []
    asked: dict[tuple[int, str], int] = {}
    number_of: dict[int, int] = {}
    for n in range(applications):
        contract = n % max(1, applications // 3)
        number = number_of[contract] = number_of.get(contract, 0) + 1
        draw = min(draws, 1 + n * draws // applications)
        period = months[draw - 1]
        who = f"C{contract % contracts:04d}"
        application_rows.append(
            [
                who,
                number,
                period,
                "Owner",
                period + dt.timedelta(3),
                period + dt.timedelta(30),
                draw,
            ]
        )
        due = 0
        for line in range(10):
            part = value[contract % contracts, line] * 20 // 100
            application_line_rows.append(
                [who, number, f"V{line}", money(part), money(part), "", ""]
            )
            held = part // 10
            due += part - held
            place = draw, placed[contract % contracts, line]
            asked[place] = asked.get(place, 0) + part - held
        waivers.append(
            [
                f"W{n:05d}",
                who,
                number,
                "",
                "conditional progress",
                money(due),
                period,
                period + dt.timedelta(4),
                "",
            ]
        )
        if period + dt.timedelta(20) < STATUS:
            payments.append(
                [
                    f"PAY{n:05d}",
                    "application",
                    who,
                    number,
                    "",
                    f"K{contract % contracts:04d}",
                    "",
                    period + dt.timedelta(20),
                    money(due),
                    "check",
                    "",
                ]
            )
    write(
        out,
        "applications",
        "contract,number,period_to,verified_by,verified_on,due,draw",
        application_rows,
    )
    write(
        out,
        "application_lines",
        "contract,number,line,claimed,verified,stored,inspector_share",
        application_line_rows,
    )
    write(
        out,
        "waivers",
        "code,contract,application,from_party,kind,amount,through,date,evidence",
        waivers,
    )
    write(
        out,
        "payments",
        "code,kind,contract,application,invoice,contractor,cost_line,date,amount,method,note",
        payments,
    )
    loan = sum(asked.values()) + 100_000_000
    write(
        out,
        "sources",
        SOURCE,
        [
            [
                "EQUITY",
                "Equity",
                "equity",
                money(max(0, sum(budget.values()) - loan)),
                1,
                "",
                "actual/360",
                "",
                "no",
                "no",
                "",
                "",
                "",
                "",
            ],
            [
                "LOAN",
                "Loan",
                "loan",
                money(loan),
                2,
                "8.125",
                "actual/360",
                "",
                "no",
                "yes",
                lines[-2],
                "",
                "",
                "",
            ],
        ],
    )
    draw_rows: list[list[object]] = []
    for n, period in enumerate(months, 1):
        funded = n < draws
        sent = period + dt.timedelta(5) if funded else ""
        draw_rows.append(
            [
                n,
                period,
                "funded" if funded else "draft",
                sent,
                period + dt.timedelta(15) if funded else "",
            ]
        )
    write(out, "draws", "number,period_to,state,sent,funded_on", draw_rows)
    write(
        out,
        "draw_lines",
        "draw,source,cost_line,asked,retainage,funded,cut_reason",
        [
            [d, "LOAN", line, money(cents), "0.00", money(cents) if d < draws else "", ""]
            for (d, line), cents in sorted(asked.items())
        ],
    )

    write(
        out,
        "permits",
        "code,kind,authority,number,applied,issued,expires,note",
        [
            [f"PE{n:03d}", "Building", "Town", f"B-{n}", START, START, "2028-01-01", ""]
            for n in range(int(20 * big))
        ],
    )
    done = sum(d <= STATUS for d in DAYS[:8000])
    first, last = plan.dates(plan.duration)
    step = max(1, count // inspections)
    inspection_rows: list[list[object]] = []
    for n in range(inspections):
        act = min(n * step, count - 2)
        passed = last[act] < done - 2
        day = DAYS[last[act]] if passed else ""
        state = "passed" if passed else "planned"
        inspection_rows.append(
            [
                f"IN{n:05d}",
                f"PE{n % int(20 * big):03d}",
                f"Inspection {n}",
                code(act, count),
                "",
                2,
                day,
                day,
                "",
                state,
                "",
            ]
        )
    write(
        out,
        "inspections",
        "code,permit,name,activity,covers,ask_days_ahead,requested,date,present,state,fee",
        inspection_rows,
    )
    stages = [
        "before you buy",
        "before filing",
        "filing",
        "hearing",
        "after",
        "building",
        "opening",
    ]
    item_rows: list[list[object]] = []
    for n in range(checklist):
        state = "proven" if n < checklist // 2 else "open"
        waits = f"I{n - 7:05d}" if n >= 7 else ""
        item_rows.append(
            [
                f"I{n:05d}",
                stages[n % 7],
                f"Item {n}",
                "because",
                "owner",
                "Paper" if state == "proven" else "",
                waits,
                3,
                "",
                state,
                "",
                "",
                "",
                "",
            ]
        )
    checklist_head = "code,stage,title,why,governs,evidence,waits_on,lead_days,due,state,reason,activity,source,applies_when"
    write(out, "checklist", checklist_head, item_rows)
    write(
        out,
        "site_log",
        "date,weather,crew,note",
        [
            [d, "Dry", "Crew of 6", f"Day {n}"]
            for n, d in enumerate(d for d in DAYS[:500] if d <= STATUS)
        ],
    )

    dates = [
        START + dt.timedelta(5 + n * (STATUS - START).days // (snapshots + 1))
        for n in range(snapshots)
    ]
    for n, date in enumerate(sorted(set(dates))):
        place = out / "snapshots" / date.isoformat()
        write(
            place,
            "snapshot",
            "date,baseline,note",
            [[date, "yes" if n == 0 else "no", f"Status {n}"]],
        )
        write(place, "project", PROJECT, [project_row(date)])
        write(place, "calendars", calendar_head, calendars)
        # the later the snapshot, the more of the unfinished work has grown by a day
        true = plan.duration
        grown = [
            d - 1 if d > 2 and first[a] > 30 and (a * 7919) % snapshots > n else d
            for a, d in enumerate(true)
        ]
        plan.duration = [
            t if first[a] < sum(x <= date for x in DAYS[:800]) else g
            for a, (t, g) in enumerate(zip(true, grown, strict=True))
        ]
        try:
            write(place, "activities", ACTIVITY, activity_rows(plan, date, contracts))
        finally:
            plan.duration = true
        write(place, "links", "from,to,type,lag,lag_unit", link_rows)
        write(
            place,
            "contract_lines",
            "contract,line,name,cost_line,value,retainage,activities,inspections",
            line_rows,
        )
        write(
            place,
            "changes",
            "number,contract,title,reason,asked_by,state,noticed,priced,approved,days,activities",
            change_rows,
        )
        write(place, "change_lines", "change,line,name,cost_line,amount", change_line_rows)
        there = {(row[0], row[1]) for row in application_rows if row[2] <= date}
        kept = [row for row in application_rows if (row[0], row[1]) in there]
        write(
            place,
            "applications",
            "contract,number,period_to,verified_by,verified_on,due,draw",
            kept,
        )
        kept = [row for row in application_line_rows if (row[0], row[1]) in there]
        write(
            place,
            "application_lines",
            "contract,number,line,claimed,verified,stored,inspector_share",
            kept,
        )


if __name__ == "__main__":
    main()
