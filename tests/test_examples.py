"""The scripts of the examples make what they say."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pymupdf

from tiler.proof import prove

ROOT = Path(__file__).parent.parent


def test_the_base_of_the_examples_is_a_true_pattern_with_layers(tmp_path: Path) -> None:
    target = tmp_path / "base.pdf"
    subprocess.run([sys.executable, str(ROOT / "examples" / "make_base.py"), str(target)], check=True)
    assert prove(target).verdict == "true-to-scale"
    with pymupdf.open(target) as pdf:
        assert [title for _, title, _ in pdf.get_toc()] == ["Front", "Back"]
        assert len(pdf.get_ocgs()) == 8
        assert [page.get_label() for page in pdf] == ["top-1", "top-2"]
