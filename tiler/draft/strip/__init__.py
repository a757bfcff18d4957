"""The strip: how wide, how long, how it is shared out along the edge, its ends and its marks; mm.

Its length is advised between two bounds, E / (1 + 0.6 s) and (E - W - C) / 1.02 + C, part by part
(``bounds``); who knows better states it (``loop``).  The same bounds share it out (``ease``).
"""
