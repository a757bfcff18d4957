"""Proving the file of a stranger in a process apart, and the page that reports it.

``apart`` starts ``witness`` (anew, not forked: the same on every system, and no engine is
loaded by the one who asks), which bounds its memory and tells page after page, then the
report, as records of JSON. The asker holds the clock. Whatever becomes of the witness,
there is an answer: a report, or one sentence and exit code 5. The witness ends when its
standard input closes, so it never outlives the asker.
"""
