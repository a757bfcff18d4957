"""What stands on a page besides the pieces: frame, code, title, squares, ruler lines; page mm.

Codes, titles, rulers and squares look for the place that disturbs least (``free_places``);
register marks give way to words along their joint.
"""
