"""Tests of tracker/actions."""
