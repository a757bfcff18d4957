"""Proving the file of a stranger in a process apart (see ``usecases.processes``), and the page that reports it."""
