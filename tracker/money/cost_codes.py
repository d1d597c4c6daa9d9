"""Codes that a budget may begin with: the 22 groups of UNIFORMAT II at level 2, for hard costs.

Own codes are as welcome.

Source: UNIFORMAT II, NISTIR 6389 (Charette and Marshall, NIST 1999), public domain; the titles of
the groups G10 to G90 come from secondary public lists. Level 2 is where a federal owner follows the
growth of a budget (GSA P-120, 2007).
"""

from __future__ import annotations

UNIFORMAT = {
    "A10": "Foundations",
    "A20": "Basement Construction",
    "B10": "Superstructure",
    "B20": "Exterior Enclosure",
    "B30": "Roofing",
    "C10": "Interior Construction",
    "C20": "Stairs",
    "C30": "Interior Finishes",
    "D10": "Conveying",
    "D20": "Plumbing",
    "D30": "HVAC",
    "D40": "Fire Protection",
    "D50": "Electrical",
    "E10": "Equipment",
    "E20": "Furnishings",
    "F10": "Special Construction",
    "F20": "Selective Building Demolition",
    "G10": "Site Preparation",
    "G20": "Site Improvements",
    "G30": "Site Civil/Mechanical Utilities",
    "G40": "Site Electrical Utilities",
    "G90": "Other Site Construction",
}
"""Title by code."""
