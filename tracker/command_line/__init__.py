"""The commands: the same answers and actions as the screens, without a screen.

Each command is one small module that is imported only when it is asked for; its body imports what
it needs.
"""
