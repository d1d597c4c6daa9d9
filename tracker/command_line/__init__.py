"""The commands: the same answers and actions without a screen."""
