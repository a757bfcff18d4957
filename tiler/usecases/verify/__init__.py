"""Proving the file of a stranger in a process apart, and the page that reports it."""
