"""Pictures of a stranger's file, made in a process apart (see ``usecases.processes``)."""
