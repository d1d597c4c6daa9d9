"""How the program grows with a project: a generator of large ones, and that nothing grows by its
square.
"""
