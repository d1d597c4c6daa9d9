"""Approvals: rules on rows, without a file or a screen."""
