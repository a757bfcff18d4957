"""Strokes and ink become a verdict."""

from tiler.proof.others import Expected
from tiler.proof.prove import Progress, prove
from tiler.proof.report import Check, Report

__all__ = ["Check", "Expected", "Progress", "Report", "prove"]
