"""Approvals: change of use, hearings and their notices, permits, inspections, checklist,
protest.
"""
