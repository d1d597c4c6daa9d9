"""Tests of the sample project."""
