"""Faults and bad input on a large scale; each module runs by itself, and a short form of each in
the tests.

`python -m tests.harness.kills` prints one line of what was measured, and exits with 1 where
anything did not hold.
"""
