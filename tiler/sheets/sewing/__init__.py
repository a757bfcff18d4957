"""Instruction pages: how each finish is sewn, step by step, in section; page mm.

A section is a model, no picture: ``section`` lays centre lines level by level with half
turns between, ``strip`` and ``bindings`` lay the strip as wide as ``tiler.draft.strip.finish``
cuts it for a cloth as thick as drawn, and ``section_drawing`` draws the result. So tests
count the layers under the needle and measure that the strip keeps its width from step to
step.
"""
