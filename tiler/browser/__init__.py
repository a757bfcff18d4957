"""The page in the browser: forms over the same options, figures, proofs and printers as the commands have.

It listens on this computer alone and holds no formula and no second wording.  Only ``tiler browser`` imports it.
"""
