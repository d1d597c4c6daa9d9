"""The plan and its dates: network, passes, floats, gates, what drives the opening."""
