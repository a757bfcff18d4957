"""Draft every example and make the README's pictures: ``python examples/make_pictures.py FOLDER``.

The PDFs, and a picture of each of their pages, go to FOLDER; the few that the
README shows are reduced and go to ``examples/pictures``.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from PIL import Image

EXAMPLES = Path(__file__).parent
PICTURES = EXAMPLES / "pictures"
WIDEST = 1000
"""Pixels across: enough to read the type in the README, and small to keep."""

SHOWN = {
    "crew-first-page.png": "saltmarsh-crew/page-01.png",
    "crew-page-a1.png": "saltmarsh-crew/page-02.png",
    "bindings-assembled.png": "saltmarsh-bindings/assembled.png",
    "child-assembled.png": "saltmarsh-child/assembled.png",
    "scoop-assembled.png": "saltmarsh-scoop/assembled.png",
    "vee-assembled.png": "saltmarsh-vee/assembled.png",
}
"""The README's pictures and what they are made from."""


def tiler(*arguments: str | Path) -> None:
    """Run a command of this tiler."""
    subprocess.run([sys.executable, "-m", "tiler", *map(str, arguments)], check=True)


def reduce(source: Path, target: Path) -> None:
    """Save a picture smaller and in sixteen greys."""
    with Image.open(source) as picture:
        grey = picture.convert("L")
        grey.thumbnail((WIDEST, 10 * WIDEST), Image.Resampling.LANCZOS)
        grey.quantize(16).save(target, optimize=True)


def main(folder: Path) -> None:
    """Draft, preview and reduce."""
    folder.mkdir(parents=True, exist_ok=True)
    PICTURES.mkdir(exist_ok=True)
    for spec in sorted(EXAMPLES.glob("*.toml")):
        pdf = folder / f"{spec.stem}.pdf"
        tiler("draft", spec, "-o", pdf, "--force")
        tiler("preview", pdf, "-o", folder / spec.stem, "--force")
    for name, source in SHOWN.items():
        reduce(folder / source, PICTURES / name)
        print(PICTURES / name)


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("usage: python examples/make_pictures.py FOLDER")
    main(Path(sys.argv[1]))
