"""Throw damaged files at ``verify``: ``python -m tests.bench.fuzz.verify [COUNT] [FIRST SEED]``.

The files are made from drafts of ours and from small files of others; each goes the way
that ``verify`` goes, in two processes that are started anew when a file takes
them down, and one in fifty goes through the real command line.  Printed are the counts by exit
code, and every seed whose file ends in a traceback, takes over 10 s, needs over 1 GiB or
gets no exit code of the design; the script leaves with 1 when there is one.
``python -m tests.bench.fuzz.verify --keep SEED FILE`` writes the file of a seed.
"""

from __future__ import annotations

import json
import os
import resource
import subprocess
import sys
import tempfile
import threading
import time
import traceback
from collections import Counter
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from io import BytesIO
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[3]
sys.path.insert(0, str(ROOT))

COUNT, WORKERS, SAMPLED = 2400, 2, 50
MOST_SECONDS, MOST_MEMORY = 10.0, 1024.0
CODES = {0, 3, 4, 5, 6}
"""What verify may leave with when it is called rightly."""


def whole_files(folder: Path) -> list[bytes]:
    """Give the files that get damaged, whole as they are."""
    from tests.proof.foreign import foreign_files
    from tests.reading.files import labelled_square, pdf
    from tests.reading.hostile import forms_in_forms
    from tests.sheets.jobs import PAIR as LARGER
    from tests.sheets.jobs import drawn
    from tests.specs import piece, spec, straight
    from tiler.usecases.draft import Wishes

    cuff = spec(piece("Cuff", "4 cm", straight("22 cm")), title="Fuzzed cuffs", units="cm")
    small = drawn(cuff, folder, Wishes(cover=False)).data
    ours = [small, small, drawn(cuff, folder, Wishes(paper="a4")).data, drawn(LARGER, folder).data]
    squares = [pdf(labelled_square(144.0)), pdf(labelled_square(144.0, ""), "0 0 m 9 9 l S"), forms_in_forms(2, 3)]
    return [*ours, *squares, *foreign_files().values()]


def work(folder: Path) -> None:
    """Answer each seed on standard input with a record: its damage, exit code, traceback, seconds, MiB."""
    from tests.bench.damage import damaged

    wholes = [path.read_bytes() for path in sorted(folder.glob("whole-*.pdf"))]
    path = folder / f"damaged-{os.getpid()}.pdf"
    for line in sys.stdin:
        name, data = damaged(wholes, int(line))
        path.write_bytes(data)
        start = time.perf_counter()
        code, words = judged(path)
        seconds = time.perf_counter() - start
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (1024 if sys.platform == "linux" else 2**20)
        print(json.dumps({"damage": name, "code": code, "words": words, "seconds": seconds, "peak": peak}), flush=True)


def judged(path: Path) -> tuple[int | None, str]:
    """Give the exit code of a file and its sentence; None and the traceback when there is no exit code."""
    from tiler.errors import UnreadableError
    from tiler.proof.report.record import from_record
    from tiler.proof.report.wording import lines
    from tiler.usecases.processes.witness import serve
    from tiler.usecases.verify.apart import Limits
    from tiler.usecases.verify.witness import answers

    limits, out = Limits(), BytesIO()
    request = {"path": str(path), "objects": limits.objects, "expected": None, "pictures": False}
    try:
        serve(answers, iter([request]), limits.memory, out)
        answer = json.loads(out.getvalue().splitlines()[-1])
        if "memory" in answer:
            return int(UnreadableError.code), "it needs more memory than it may take to be read"
        if "fault" in answer:
            return answer["fault"]["code"], answer["fault"]["message"]
        report = from_record(answer["answer"])
        json.dumps(report.to_json(), allow_nan=False)
        return int(report.exit_code), next(iter([*lines(report, 80)]))
    except BaseException:
        return None, traceback.format_exc()


class Worker:
    """A process that judges one file after another."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._start()

    def _start(self) -> None:
        command = [sys.executable, __file__, "--work", str(self.folder)]
        self.process = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
        )

    def judge(self, seed: int) -> dict[str, Any]:
        """Give the record of a seed; a process that is taken down is followed by another."""
        assert self.process.stdin
        assert self.process.stdout
        clock = threading.Timer(3 * MOST_SECONDS, self.process.kill)
        clock.start()
        print(seed, file=self.process.stdin, flush=True)
        line = self.process.stdout.readline()
        rang = not clock.is_alive()
        clock.cancel()
        record: dict[str, Any]
        if line:
            record = json.loads(line)
        else:
            ended = self.process.wait()
            record = {
                "damage": "?",
                "seconds": 3 * MOST_SECONDS if rang else 0.0,
                "peak": 0.0,
                "words": f"ended: {ended}",
            }
            # The asker turns a reader that crashed into exit code 5.
            record["code"] = None if rang or ended == 1 else 5
        if not line or record["peak"] > MOST_MEMORY:
            self.process.kill()
            self.process.wait()
            self._start()
        return {"seed": seed, **record}

    def judge_all(self, seeds: Sequence[int]) -> Iterator[dict[str, Any]]:
        for seed in seeds:
            record = self.judge(seed)
            if wrong(record) or record["words"].startswith("ended"):
                print(f"# seed {seed} ({record['damage']}): {record['code']}, {record['words'].strip()}", flush=True)
            yield record
        self.process.kill()
        self.process.wait()


def by_command_line(folder: Path, wholes: Sequence[bytes], seed: int) -> dict[str, Any]:
    """Judge a file as a person would."""
    from tests.bench.damage import damaged

    name, data = damaged(wholes, seed)
    path = folder / f"line-{seed}.pdf"
    path.write_bytes(data)
    done = subprocess.run(
        [sys.executable, "-m", "tiler", "verify", str(path)], cwd=ROOT, capture_output=True, text=True, check=False
    )
    sound = "fault of its own" not in done.stderr and done.stderr.count("\n") == (1 if done.returncode > 4 else 0)
    code = done.returncode if sound else None
    return {"seed": seed, "damage": name, "code": code, "words": done.stderr, "seconds": 0.0, "peak": 0.0}


def wrong(record: dict[str, Any]) -> bool:
    return record["code"] not in CODES or record["seconds"] > MOST_SECONDS or record["peak"] > MOST_MEMORY


def main(count: int, first: int) -> int:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        wholes = whole_files(folder)
        for number, data in enumerate(wholes):
            (folder / f"whole-{number:02}.pdf").write_bytes(data)
        seeds = range(first, first + count)
        with ThreadPoolExecutor(WORKERS) as pool:
            shares = [seeds[start::WORKERS] for start in range(WORKERS)]
            records = [one for share in pool.map(lambda s: list(Worker(folder).judge_all(s)), shares) for one in share]
        sample = [by_command_line(folder, wholes, seed) for seed in seeds[::SAMPLED]]
    codes = Counter(record["code"] for record in records)
    print(f"{len(records)} damaged files, {len(sample)} of them through the command line too")
    for code in sorted(codes, key=str):
        print(f"  exit code {code}: {codes[code]}")
    print(
        f"  longest {max(one['seconds'] for one in records):.1f} s, most {max(one['peak'] for one in records):.0f} MiB"
    )
    print(f"  crashed readers: {sum(one['words'].startswith('ended') for one in records)}")
    bad = [record for record in [*records, *sample] if wrong(record)]
    for record in bad:
        print(f"seed {record['seed']} ({record['damage']}): {record['code']}, {record['seconds']:.1f} s", end="")
        print(f", {record['peak']:.0f} MiB")
    print(f"  traceback, hang, memory or a wrong exit code: {len(bad)}")
    return 1 if bad else 0


def keep(seed: int, target: Path) -> None:
    from tests.bench.damage import damaged

    with tempfile.TemporaryDirectory() as name:
        target.write_bytes(damaged(whole_files(Path(name)), seed)[1])


if __name__ == "__main__":
    match sys.argv[1:]:
        case ["--work", folder]:
            work(Path(folder))
        case ["--keep", seed, target]:
            keep(int(seed), Path(target))
        case numbers:
            os.environ["PYTHONPATH"] = str(ROOT)
            given = [int(number) for number in numbers]
            sys.exit(main(*[*given, *(COUNT, 0)[len(given) :]]))
