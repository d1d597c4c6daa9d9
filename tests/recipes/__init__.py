"""The recipes of DEVELOPERS.md, followed step by step in a copy of the tree."""
