"""Give bad files of every kind to the command line: ``python -m tests.bench.fuzz [KIND …]``.

Each file goes through ``python -m tiler`` as a person would call it, two at a time; a PDF
through ``verify``, ``edge`` and ``preview`` in turn.  Noted are exit code, time, peak memory
of the largest process, and what was said.  A call is wrong when it takes over 20 s or 1 GiB,
leaves with a code that is none of the design's, prints a traceback, a control or direction
sign or "a fault of its own", or says more than one sentence (a line on standard error that
begins with "tiler:") where it leaves with an error.  The script leaves with 1 when one is.
Every wrong file is kept beside the system's other temporary files, and named.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path
from unicodedata import category

from tests.bench.fuzz.pdfs import pdfs
from tests.bench.fuzz.texts import KINDS, ROOT
from tests.bench.fuzz.verify import whole_files

WORKERS = 2
MOST_SECONDS, MOST_MEMORY = 20.0, 1024.0
GIVEN_UP = 60.0
CODES = {0, 2, 3, 4, 5, 6, 7, 8, 130}
PDFS = 200

CALLS = {
    "spec": [("draft", "FILE", "-o", "out.pdf", "--force"), ("figures", "FILE", "--json")],
    "svg": [("edge", "FILE"), ("edge", "FILE", "--picture", "out.png", "--force")],
    "csv": [("readings", "FILE", "--chart", "out.pdf", "--force"), ("readings", "FILE", "--json", "--unit", "mm")],
    "answers": [("start", "--answers", "FILE", "-o", "out.pdf", "--force")],
    "profile": [("printer", "show", "laser"), ("printer", "list")],
    "pdf": [
        ("verify", "FILE"),
        ("edge", "FILE"),
        ("preview", "FILE", "-o", "out", "--force"),
        ("bundle", str(ROOT / "examples" / "saltmarsh-vee.toml"), "--with", "FILE", "-o", "release"),
    ],
}
"""How a file of a kind is called for; one call after the other for one file after the other."""

ENDINGS = {"spec": ".toml", "answers": ".toml", "profile": ".json"}

RUNNER = """
import json, os, resource, subprocess, sys
done = subprocess.run([sys.executable, "-m", "tiler", *sys.argv[1:]], stdin=subprocess.DEVNULL, capture_output=True)
peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss
json.dump([done.returncode, peak, *(s.decode("utf-8", "backslashreplace") for s in (done.stdout, done.stderr))], sys.stdout)
"""
"""Runs one call and answers with its code, the peak of all its processes and what it wrote."""


@dataclass
class Outcome:
    """What became of one file."""

    kind: str
    number: int
    words: Sequence[str]
    code: int | None
    seconds: float
    peak: float
    told: str = ""
    faults: list[str] = field(default_factory=list)


def called(folder: Path, kind: str, number: int, data: bytes) -> Outcome:
    place = folder / f"{kind}-{number}"
    place.mkdir()
    printers = place / "config" / "tiler" / "printers"
    printers.mkdir(parents=True)
    file = (
        printers if kind == "profile" else place
    ) / f"{'laser' if kind == 'profile' else 'file'}{ENDINGS.get(kind, f'.{kind}')}"
    file.write_bytes(data)
    (place / "saltmarsh-necks.svg").write_bytes((ROOT / "examples" / "saltmarsh-necks.svg").read_bytes())
    words = [word.replace("FILE", file.name) for word in CALLS[kind][number % len(CALLS[kind])]]
    environment = os.environ | {"PYTHONPATH": str(ROOT), "XDG_CONFIG_HOME": str(place / "config")}
    start = time.monotonic()
    try:
        done = subprocess.run(
            [sys.executable, "-c", RUNNER, *words],
            cwd=place,
            env=environment,
            capture_output=True,
            timeout=GIVEN_UP,
            check=True,
        )
        code, peak, out, err = json.loads(done.stdout)
    except subprocess.TimeoutExpired:
        code, peak, out, err = None, 0, "", "it did not end"
    found = Outcome(kind, number, words, code, time.monotonic() - start, peak / 1024, (err or out)[:300])
    found.faults = list(faults(found, out, err))
    return found


def faults(found: Outcome, out: str, err: str) -> Iterator[str]:
    if found.code not in CODES:
        yield f"code {found.code}"
    if found.seconds > MOST_SECONDS:
        yield f"{found.seconds:.0f} s"
    if found.peak > MOST_MEMORY:
        yield f"{found.peak:.0f} MiB"
    if "Traceback" in out + err or "fault of its own" in out + err:
        yield "a fault of its own"
    if any(sign != "\n" and category(sign) in ("Cc", "Cf", "Zl", "Zp", "Cs") for sign in out + err):
        yield "a control sign"
    sentences = sum(line.startswith("tiler: ") for line in err.splitlines())
    refused = found.code not in (0, 3, 4) and "--json" not in found.words
    if refused and found.words[0] not in ("readings", "bundle", "printer") and (sentences, err.count("\n")) != (1, 1):
        yield f"{err.count(chr(10))} lines for a refusal"
    if sentences > 1 and found.words[0] != "printer":
        yield f"{sentences} sentences"


def files(kinds: Sequence[str], folder: Path) -> Iterator[tuple[str, int, bytes]]:
    for kind in kinds:
        if kind == "pdf":
            made = pdfs(PDFS, whole_files(folder))
        else:
            make, count = KINDS[kind]
            made = make(count)
        for number, data in enumerate(made):
            yield kind, number, data


def told(kind: str, outcomes: Sequence[Outcome]) -> None:
    codes = Counter(str(one.code) for one in outcomes)
    slowest, largest = max(one.seconds for one in outcomes), max(one.peak for one in outcomes)
    counts = ", ".join(f"{code}: {codes[code]}" for code in sorted(codes))
    print(f"{kind:<8} {len(outcomes):>4} files; codes {counts}; longest {slowest:.1f} s, most {largest:.0f} MiB")


def main(kinds: Sequence[str]) -> int:
    kept = Path(tempfile.gettempdir()) / "tiler-fuzz"
    outcomes: list[Outcome] = []
    with tempfile.TemporaryDirectory() as name, ThreadPoolExecutor(WORKERS) as pool:
        folder = Path(name)
        waiting = []
        for kind, number, data in files(kinds, folder):
            waiting.append((pool.submit(called, folder, kind, number, data), data))
            # few files are held at a time: some are large
            while len(waiting) > 2 * WORKERS:
                outcomes.append(judged(*waiting.pop(0), kept))
        outcomes += [judged(future, data, kept) for future, data in waiting]
    for kind in kinds:
        told(kind, [one for one in outcomes if one.kind == kind])
    wrong = [one for one in outcomes if one.faults]
    print(f"{len(outcomes)} files, {len(wrong)} of them wrong")
    return 1 if wrong else 0


def judged(future: object, data: bytes, kept: Path) -> Outcome:
    found: Outcome = future.result()  # type: ignore[attr-defined]
    if found.faults:
        kept.mkdir(exist_ok=True)
        (kept / f"{found.kind}-{found.number}").write_bytes(data)
        print(f"# {found.kind}-{found.number} ({' '.join(found.words)}): {'; '.join(found.faults)}", flush=True)
        print(f"#   {found.told.strip()[:200]!a}", flush=True)
    return found


if __name__ == "__main__":
    os.environ["PYTHONPATH"] = str(ROOT)
    sys.exit(main(sys.argv[1:] or [*KINDS, "pdf"]))
