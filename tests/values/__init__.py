"""Tests of tracker/values."""
