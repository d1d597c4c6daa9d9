"""Morning: what must happen next."""
