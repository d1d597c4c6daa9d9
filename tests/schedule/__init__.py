"""The schedule against oracles, properties and sentences of the trade."""
