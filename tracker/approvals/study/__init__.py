"""The code study: what the building code asks, topic by topic, each figure with its source."""
