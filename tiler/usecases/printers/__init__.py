"""What is known of a printer, and what its error does to a piece.

Factors are kept to 0.01 %, so that drawing and declaration agree.
"""
