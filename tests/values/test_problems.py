"""One fault in one clear sentence."""

from tracker.values.problems import Problem


def test_a_column_name_without_end_leaves_room_for_what_to_do():
    problem = Problem(
        what="there is no such column",
        do="use one of: code",
        file="activities.csv",
        row=1,
        column="z" * 5000,
    )
    assert problem.sentence().endswith("use one of: code")
    assert len(problem.sentence()) < 200
