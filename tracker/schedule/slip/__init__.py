"""Why the opening moved: plans of windows, what moved them, who bears it."""
