"""IACS UR S11: longitudinal strength. Of it, what other rule sets cite: working and critical buckling stresses.

Printed units inside: N/mm2 (MPa), mm for thickness, m for spacings and spans, cm2 and cm4 for sections. Everything here
is recalled; no page has been seen.
"""
