"""Tests of tracker/project_folder."""
