"""A drawn piece gets its words, and sizes are drawn within each other; piece mm."""
