"""Tests of tracker/tables."""
