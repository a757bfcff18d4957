"""The ink of rendered pages: whether a line or a word is visible, and where; pixels and mm.

In nested sizes nearly every line has neighbours that disturb its ink, so ``beside`` keeps
what is printed by cells of the page. Ink means contrast: a black page under the drawing
has darkness everywhere.
"""
