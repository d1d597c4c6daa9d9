"""Path: when we open, what drives it, how sure it is."""
