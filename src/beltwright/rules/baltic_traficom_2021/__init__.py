"""Finnish-Swedish ice class rules, Traficom regulation of 2021: engine output, hull regions, loads and structure.

A module per chapter in the document's own order, a function per printed equation, a CSV per printed table. Inside, the
printed units: MN, m, MPa, t, kW, N, mm, cm2, cm3, degrees.
"""
