"""Cost: what it costs per square foot."""
