"""Files put in place in one step, their names, and a request to end."""
