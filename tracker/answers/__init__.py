"""Answers: one module a view. Each gathers values, calls the rooms and returns one frozen
answer.
"""
