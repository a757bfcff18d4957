"""What each command does, from what was asked to the file in place.

A file is put in place only when it is proved: compute, draw, proof, replace. What fails
before that leaves nothing behind and harms no file that was there.
"""
