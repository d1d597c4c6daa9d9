"""The tests, in rooms as the program."""
