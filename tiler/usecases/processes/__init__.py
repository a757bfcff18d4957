"""Work in processes of their own.

The file of a stranger is read in a process ``apart``, which runs ``witness`` (started anew,
not forked: the same on every system). That bounds its memory and answers in records of
JSON; the asker holds the clock. Whatever becomes of the witness, there is an answer, or one
sentence and exit code 5. It ends when its standard input closes, so it never outlives the
asker. Verifying asks it once; a base is weighed by one and joined by the same.

``workers`` draw and prove our own files on every core. They are trusted, so they take and
give Python's own records, in the library's pool.
"""
