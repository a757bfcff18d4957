"""A strip that is no ring: how its ends are finished, and the buttons that close it."""
