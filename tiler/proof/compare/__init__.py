"""What was seen, held against what was declared.

Our pages inside a longer file are found by their tags, compared as always, then held
against the place that ``host`` declares; the other pages are those of any PDF. In a file with
sizes every line of a size must lie on its layer (``layers``). A file for one printer stays
in true mm throughout: ``compensated`` divides what was read by the declared factors before
anything is compared.
"""
