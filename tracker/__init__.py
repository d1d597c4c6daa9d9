"""tracker: the owner-builder's project file, answered in a terminal."""

__version__ = "0.2.0"
