"""A spec becomes pieces: edge, strip, advice and outline; numbers and geometry in millimetres.

Reads no file but the spec: the curve of a drawing comes through a function that the use case hands in.
"""
