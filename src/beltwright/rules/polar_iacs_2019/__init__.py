"""IACS UR I1 (Rev.2, 2016) and UR I2 (Rev.4, 2019): Polar Class, hull structure.

A module per chapter in the document's own order, a function per printed equation, a CSV per printed table. Inside, the
printed units: MN, m, MPa, kt, mm, cm2, cm3, degrees.
"""
