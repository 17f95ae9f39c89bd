"""Parametric hull forms with given angles at the waterline and a given displacement."""
