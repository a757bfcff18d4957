"""The pages that people read, and what works through them: ``examples/refresh_guide.py``, a script and no package."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

ROOT = Path(__file__).parents[2]


def script(name: str) -> ModuleType:
    """Load a script of the examples without running it."""
    source = importlib.util.spec_from_file_location(name, ROOT / "examples" / f"{name}.py")
    assert source
    assert source.loader
    module = importlib.util.module_from_spec(source)
    # its dataclasses look themselves up by the name of their module
    sys.modules[source.name] = module
    source.loader.exec_module(module)
    return module


refresh = script("refresh_guide")
README = ROOT / "README.md"
GUIDE = ROOT / "examples" / "guide"
PAGES = (README, *sorted(GUIDE.glob("*.md")))
TEXTS = {page.name: page.read_text(encoding="utf-8") for page in PAGES}
