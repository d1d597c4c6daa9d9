"""The templates that come with the program."""
