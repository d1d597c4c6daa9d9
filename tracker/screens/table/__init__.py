"""Tables of rows, panes of sections, views made of parts."""
