"""Test rounds: the table of readings, what they show, and the report."""
