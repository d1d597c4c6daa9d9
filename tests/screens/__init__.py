"""The screens, driven by keys."""
