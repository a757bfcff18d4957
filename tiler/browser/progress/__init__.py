"""Work that may take long: how far it is, how it is stopped, and where its result is shown."""
