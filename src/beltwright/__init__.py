"""Beltwright: the ice-strengthened hull structure of a polar or Baltic ship, from hull form to drawing."""

__version__ = "0.1.0"
