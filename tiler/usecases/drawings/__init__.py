"""Edges taken from drawings: the list of curves, the chosen one, and their picture."""
