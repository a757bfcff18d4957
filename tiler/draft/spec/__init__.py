"""The spec: a TOML file read key by key into records, and written as text.

Every value passes through ``table``, which judges its kind and names file and key; from
there on nothing is checked twice. A spec with sizes is read once for each: the table picks
the value where a length is asked for, so a piece knows nothing of sizes.
"""
