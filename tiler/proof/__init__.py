"""Strokes and ink become a verdict."""

from tiler.proof.prove import Progress, prove
from tiler.proof.report import Check, Report

__all__ = ["Check", "Progress", "Report", "prove"]
