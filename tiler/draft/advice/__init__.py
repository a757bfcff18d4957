"""What may go wrong, whether it goes over the head, how sizes follow each other; in sentences.

Lengths are judged over the whole edge and part by part (``checks``), bends over a stretch of edge
(``bends``): 1 - w turn / a, and 0.06 that cloth gives.
"""
