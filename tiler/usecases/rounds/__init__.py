"""Test rounds: the table of readings, what they show, and the report.

``table`` reads the lines and names bad ones, ``judging`` judges (a reading first, then medians
and who stands out), ``report`` words the result. No judgement may come from less than the
reading error of a ruler.
"""
