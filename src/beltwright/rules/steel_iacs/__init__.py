"""IACS UR S6 (use of hull steel grades) and UR W11 (hull structural steel), as rule sets for ice refer to them."""
