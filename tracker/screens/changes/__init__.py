"""Changes: what changed, who agreed."""
