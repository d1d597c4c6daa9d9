"""Trials against published path sums, closed forms, and simulations done elsewhere; the source
stands in risk.json.

Tolerances are five standard errors of the trials' own estimate, unless said otherwise.
"""

import json
import math
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from tracker.schedule.path.plan import compute
from tracker.schedule.records import Activity, Link
from tracker.schedule.risk.input import ThreePoint, risk_input
from tracker.schedule.risk.shapes import PER_SCORE, REACH, scores, tables
from tracker.schedule.risk.trials import KEPT, run_trials
from tracker.values.project import DEFAULT_START, Project

HERE = Path(__file__).parent
CASES = {case["id"]: case for case in json.loads((HERE / "risk.json").read_text())}
SINGLE = CASES["risk-10-triangular-moments-and-max"]
NETWORKS = {n["id"]: n for n in json.loads((HERE / "critical_path.json").read_text())["networks"]}
TRIALS = KEPT


def drawn(three_points, links, shape="pert", common_cause=0, trade=""):
    """How long each trial takes, in days: every day works, so that nothing but the durations
    counts.
    """
    activities = [
        Activity(code=code, trade=trade, optimistic=a, duration=m, pessimistic=b)
        for code, (a, m, b) in three_points.items()
    ]
    project = Project(risk_shape=shape, risk_trials=TRIALS, risk_seed=7, common_cause=common_cause)
    rows = {"project": [project], "activities": activities, "links": links}
    plan = compute(rows)
    return run_trials(risk_input(rows, plan.run), plan.run).moments - DEFAULT_START.toordinal()


def in_series(three_points, codes):
    """The activities of one path, one after the other."""
    return {c: three_points[c] for c in codes}, [Link(from_=p, to=s) for p, s in pairwise(codes)]


def assert_mean(found, mean, sd):
    assert abs(found.mean() - mean) < 5 * sd / math.sqrt(len(found)), (found.mean(), mean)


def assert_quantile(found, q, expected, sd):
    """sd: of the whole; the density near a percentile of these shapes is at least a fifth of that
    of the normal.
    """
    assert (
        abs(np.quantile(found, q) - expected) < 5 * sd * math.sqrt(q * (1 - q) / len(found)) * 5
    ), q


def beta_variance(a, m, b):
    """Variance of Beta(1 + 4 (m-a)/(b-a), 1 + 4 (b-m)/(b-a)) on [a, b]: (mean - a)(b - mean) / 7
    (closed form).
    """
    mean = (a + 4 * m + b) / 6
    return (mean - a) * (b - mean) / 7


@pytest.mark.parametrize(
    "case", ["risk-01-pert-seven", "risk-02-pert-fourteen", "risk-03-pert-seven-text"]
)
def test_a_path_takes_the_published_mean_and_varies_as_the_beta_distribution_does(case):
    case = CASES[case]
    published = case.get("path_mean") or case["recomputed"]["mean"]
    found = drawn(*in_series(case["three_point"], case["critical"]))
    variance = sum(beta_variance(*case["three_point"][c]) for c in case["critical"])
    assert_mean(found, published, math.sqrt(variance))
    assert abs(found.var() / variance - 1) < 0.06


@pytest.mark.parametrize("case", ["risk-01-pert-seven", "risk-04-nine-activity"])
def test_each_duration_has_the_published_mean(case):
    case = CASES[case]
    means = case.get("published_mean") or {c: p["mean"] for c, p in case["per_activity"].items()}
    for code, three in case["three_point"].items():
        edges, steps = tables("pert", (ThreePoint(*three),))
        assert abs(mean_of(edges[0], steps[0]) - means[code]) < 2e-4 * max(1, three[2] - three[0])


def all_scores(edges, steps):
    """The days at every one of the equally likely scores."""
    at = scores() + REACH * PER_SCORE
    place = at.astype(int)
    return edges[place] + steps[place] * (at - place)


def mean_of(edges, steps):
    return float(all_scores(edges, steps).mean(dtype=float))


def test_a_triangular_series_has_the_mean_and_variance_of_the_closed_form():
    case = CASES["risk-05-gao-house-section"]
    found = drawn(*in_series(case["three_point"], list(case["three_point"])), shape="triangular")
    assert_mean(found, case["if_in_series"]["mean"], case["if_in_series"]["sd"])
    assert abs(found.var() / case["if_in_series"]["variance"] - 1) < 0.06


@pytest.mark.parametrize("one", SINGLE["single"], ids=lambda s: f"{s['a']}-{s['m']}-{s['b']}")
def test_triangular_durations_have_the_moments_and_percentiles_of_the_closed_form(one):
    """At the equally likely scores themselves, without chance: to a part in a thousand of the
    range.
    """
    edges, steps = tables("triangular", (ThreePoint(one["a"], one["m"], one["b"]),))
    days, near = all_scores(edges[0], steps[0]).astype(float), (one["b"] - one["a"]) / 1_000
    assert abs(days.mean() - one["mean"]) < near and abs(days.var() - one["variance"]) < near * (
        one["b"] - one["a"]
    )
    for q in (10, 50, 80, 90):
        assert abs(np.quantile(days, q / 100) - one[f"p{q}"]) < near
    assert days.min() >= one["a"] and days.max() <= one["b"]


def test_pert_durations_keep_to_their_bounds_with_the_mode_at_an_end_too():
    for three in [(1, 1, 2), (2, 6, 6), (0, 1, 9), (5, 5, 5.5)]:
        edges, steps = tables("pert", (ThreePoint(*three),))
        days = all_scores(edges[0], steps[0]).astype(float)
        a, m, b = three
        assert days.min() >= a - 1e-6 and days.max() <= b + 1e-6
        assert abs(days.mean() - (a + 4 * m + b) / 6) < (b - a) / 2_000
        assert abs(days.var() / beta_variance(*three) - 1) < 0.003


@pytest.mark.parametrize("shape", ["triangular", "beta_pert"])
def test_a_whole_network_takes_as_long_as_in_a_simulation_of_two_million_trials(shape):
    case = CASES["risk-04-nine-activity"]
    links = [Link(from_=p, to=s) for p, s, _, _ in NETWORKS[case["network"]]["links"]]
    found, told = (
        drawn(case["three_point"], links, shape.removeprefix("beta_")),
        case[f"simulated_{shape}"],
    )
    assert_mean(found, told["mean"], told["sd"])
    assert abs(found.std() / told["sd"] - 1) < 0.03
    for q in (10, 50, 80, 90):
        assert abs(np.quantile(found, q / 100) - told[f"p{q}"]) < 5 * told["sd"] * 1.7 / math.sqrt(
            TRIALS
        )
    for day in (30, 32):
        p = told[f"p_at_{day}"]
        assert abs((found <= day).mean() - p) < 5 * math.sqrt(p * (1 - p) / TRIALS)


@pytest.mark.parametrize("case", SINGLE["max_of_parallel_paths"], ids=lambda c: str(c["paths"]))
def test_the_later_of_parallel_paths_is_as_by_numerical_integration(case):
    found = drawn({f"P{n}": path for n, path in enumerate(case["paths"])}, [], "triangular")
    assert_mean(found, case["mean"], found.std())
    for q, expected in case["quantiles"].items():
        assert_quantile(found, float(q), expected, found.std())


@pytest.mark.parametrize("paths", [2, 3, 5, 10])
def test_n_equal_parallel_paths_are_all_done_by_a_day_with_p_to_the_n(paths):
    """Closed form: a product of independent probabilities; p of one triangular duration (5, 10,
    20).
    """
    found = drawn({f"P{n}": (5, 10, 20) for n in range(paths)}, [], "triangular")
    for day in (12, 15, 18):
        joint = (1 - (20 - day) ** 2 / (15 * 10)) ** paths
        assert abs((found <= day).mean() - joint) < 5 * math.sqrt(joint * (1 - joint) / TRIALS)


def near_normal(name, count, three):
    """A path of many equal activities, near enough to normal by the central limit; its mean and
    standard deviation.
    """
    a, m, b = three
    codes = [f"{name}{n}" for n in range(count)]
    variance = count * (a * a + m * m + b * b - a * m - a * b - m * b) / 18
    return (
        dict.fromkeys(codes, three),
        in_series(dict.fromkeys(codes, three), codes)[1],
        count * (a + m + b) / 3,
        math.sqrt(variance),
    )


def test_the_later_of_two_equal_near_normal_paths_comes_as_late_as_known():
    """Jones (1948): E max of two N(mu, s) = mu + s / sqrt(pi), its deviation 0.825645 s."""
    told = CASES["risk-09-max-of-n-normals"]
    one, links, mean, sd = near_normal("A", 24, (2, 4, 6))
    two, more, _, _ = near_normal("B", 24, (2, 4, 6))
    found = drawn({**one, **two}, [*links, *more], "triangular")
    assert_mean(found, mean + sd * told["expected_max_standard"]["2"], sd)
    assert abs(found.std() / (told["sd_of_max_of_two"] * sd) - 1) < 0.03


def test_the_later_of_two_unequal_near_normal_paths_comes_as_late_as_known():
    """Clark (1961), from memory: E max = mu1 Phi(a) + mu2 Phi(-a) + s phi(a), s^2 = v1 + v2, a =
    (mu1 - mu2) / s.
    """
    one, links, mu1, sd1 = near_normal("A", 24, (2, 4, 6))
    two, more, mu2, sd2 = near_normal("B", 30, (1, 3, 5))
    s = math.hypot(sd1, sd2)
    a = (mu1 - mu2) / s
    phi, up = math.exp(-a * a / 2) / math.sqrt(2 * math.pi), 0.5 * math.erfc(-a / math.sqrt(2))
    found = drawn({**one, **two}, [*links, *more], "triangular")
    assert_mean(found, mu1 * up + mu2 * (1 - up) + s * phi, max(sd1, sd2))


@pytest.mark.parametrize("correlation", [0.0, 0.3, 0.8])
def test_two_durations_of_one_trade_go_together_as_a_gaussian_copula_does(correlation):
    """Kruskal (1958), from memory: the rank correlation of two normals with correlation r is 6/pi
    asin(r/2).
    """
    rows = {
        "project": [Project(risk_trials=TRIALS, common_cause=round(correlation * 1_000))],
        "activities": [
            Activity(code=c, trade=t, duration=5, optimistic=3, pessimistic=12)
            for c, t in zip("ABC", "xxy", strict=True)
        ],
    }
    plan = compute(rows)
    durations = run_trials(risk_input(rows, plan.run), plan.run).durations

    def ranks(i):
        return np.argsort(np.argsort(durations[i])).astype(float)

    expected = 6 / math.pi * math.asin(correlation / 2)
    assert abs(np.corrcoef(ranks(0), ranks(1))[0, 1] - expected) < 5 / math.sqrt(TRIALS)
    assert abs(np.corrcoef(ranks(0), ranks(2))[0, 1]) < 5 / math.sqrt(TRIALS)


def test_common_cause_leaves_each_duration_as_it_is():
    rows = {
        "activities": [
            Activity(code=c, trade="x", duration=5, optimistic=3, pessimistic=12) for c in "AB"
        ]
    }
    plan = compute(rows)
    given = replace(risk_input(rows, plan.run), trials=TRIALS, correlation=0.6, shape="pert")
    days = run_trials(given, plan.run).durations[0].astype(float)
    sd = math.sqrt(beta_variance(3, 5, 12))
    assert_mean(days, (3 + 4 * 5 + 12) / 6, sd)
    assert abs(days.std() / sd - 1) < 0.03
