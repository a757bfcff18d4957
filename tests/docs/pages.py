"""The pages that people read, and what works through them: ``examples/refresh_guide.py``, which is a script and no package."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

ROOT = Path(__file__).parents[2]


def _script() -> ModuleType:
    source = importlib.util.spec_from_file_location("refresh_guide", ROOT / "examples" / "refresh_guide.py")
    assert source
    assert source.loader
    module = importlib.util.module_from_spec(source)
    # its dataclasses look themselves up by the name of their module
    sys.modules[source.name] = module
    source.loader.exec_module(module)
    return module


refresh = _script()
README = ROOT / "README.md"
GUIDE = ROOT / "examples" / "guide"
PAGES = (README, *sorted(GUIDE.glob("*.md")))
TEXTS = {page.name: page.read_text(encoding="utf-8") for page in PAGES}
