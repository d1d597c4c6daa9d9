"""Forms, fields, dialogs: what the owner types, and the preview before it is kept."""
