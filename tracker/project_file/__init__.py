"""The owner's project file: one SQLite database, its unit of work, history, migrations and
backup.
"""
