"""The schedule: calendars, links, critical path, float, filing cut-offs, what a late day costs."""
