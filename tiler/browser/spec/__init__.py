"""A spec to go on with: held in the address of its window, its values as fields, its sizes as a table.

Nothing of it is stored, so that two windows do not mix and a server that ends loses nothing.  The text stays as it was
written but for the values that are changed.
"""
