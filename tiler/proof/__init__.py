"""Strokes and ink become a verdict."""

from tiler.proof.prove import Expected, Progress, prove
from tiler.proof.report import Check, Report

__all__ = ["Check", "Expected", "Progress", "Report", "prove"]
