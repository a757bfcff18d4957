"""Pictures within the page: the edge with its notches, the range of good lengths, and where to measure.

They are SVG without a colour of their own, so that the style of the page colours them in the light and in the dark.
"""
