"""Measuring the picture of a printed page in a process apart (see ``usecases.processes``)."""
