"""Actions: one module a thing that the owner does. The only place that changes the project file."""
