"""The suite with every case of tables of which it tries some: ``python tests/bench/whole.py [ARGUMENTS OF PYTEST]``.

What is left out of the suite ``tests/chosen.py`` says: meetings of things that are tried apart, and random examples.
The long tests are among them.  It leaves with the code of pytest.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT))

from tests.chosen import WHOLE  # noqa: E402

if __name__ == "__main__":
    words = [sys.executable, "-m", "pytest", "-m", "", *(sys.argv[1:] or ["-n", "auto"])]
    sys.exit(subprocess.run(words, cwd=ROOT, env=os.environ | {WHOLE: "1"}, check=False).returncode)
