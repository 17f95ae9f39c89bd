"""The pages of the documentation that are written by the program."""
