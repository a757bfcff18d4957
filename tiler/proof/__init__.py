"""Strokes and ink become a verdict.

``prove`` and ``Expected`` load both engines, and only when they are asked for: a command
that words a report, which another process has made, needs neither.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from tiler.proof.report.verdict import Check, Report

if TYPE_CHECKING:
    from tiler.proof.foreign.any_pdf import Expected
    from tiler.proof.proving import Progress, prove

__all__ = ["Check", "Expected", "Progress", "Report", "prove"]


def __getattr__(name: str) -> Any:
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module("tiler.proof.proving"), name)
