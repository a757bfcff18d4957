"""The order of the packages, the sole importers, what the help loads, and what lies at the top level.

The rules are those of DEVELOPERS.md, "Packages".  Every check is a function of a
tree, so that its partner test can build one fault into a made-up tree and see
the check fail.
"""

from __future__ import annotations

import ast
import re
import subprocess
import sys
import tomllib
from collections import Counter
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path

import pytest

from tests.chosen import long

ROOT = Path(__file__).parent.parent

WORDS = (
    "__init__",
    "errors",
    "fonts",
    "printed",
    "accents",
    "sentence",
    "languages",
    "lengths",
    "turn",
    "curves",
    "paper",
    "box",
    "checksums",
    "files",
    "records",
    "declaration",
    "drawn",
)
"""The shared words: what lies in ``tiler`` itself."""

MAY_IMPORT = {
    "words": {"words"},
    "draft": {"words", "draft"},
    "catalog": {"words", "catalog"},
    "sheets": {"words", "draft", "catalog", "sheets"},
    "reading": {"words", "reading"},
    "proof": {"words", "reading", "proof"},
    "usecases": {"words", "draft", "catalog", "sheets", "reading", "proof", "usecases"},
    "commands": {"words", "draft", "catalog", "sheets", "reading", "proof", "usecases", "commands"},
    "browser": {"words", "draft", "catalog", "sheets", "reading", "proof", "usecases", "commands", "browser"},
}

OPENS_THE_BROWSER = "tiler/commands/browser.py"
"""The only module beyond the room ``browser`` that imports it."""

SOLE_IMPORTERS: dict[str, str | tuple[str, ...]] = {
    "babel": "tiler/languages/catalogue.py",
    "click": "tiler/commands/",
    "flask": "tiler/browser/",
    "fontTools": "tiler/reading/",
    "numpy": "tiler/proof/scan/",
    "pdfminer": "tiler/reading/",
    "pdfplumber": "tiler/reading/",
    "PIL": ("tiler/proof/", "tiler/reading/logo.py"),
    "pint": "tiler/lengths.py",
    "pypdf": "tiler/catalog/",
    "pypdfium2": "tiler/proof/",
    "reportlab": tuple(f"tiler/sheets/{name}.py" for name in ("canvas", "flow", "logo", "typesetting")),
    "tomlkit": "tiler/draft/spec/write.py",
    "waitress": "tiler/browser/",
}

MEETING = {
    "curves",
    "box",
    "checksums",
    "declaration",
    "drawn",
    "errors",
    "fonts",
    "printed",
    "files",
    "languages",
    "lengths",
    "paper",
    "sentence",
}
"""What writer and witness may share: the declaration, the words of a language, how texts are joined, how a fault is raised, how a length is worded, drawn edges, what a box is,
how a file is read, the names and sizes of papers."""

HEAVY = {
    "babel",
    "flask",
    "fontTools",
    "numpy",
    "pdfminer",
    "pdfplumber",
    "PIL",
    "pint",
    "pypdf",
    "pypdfium2",
    "reportlab",
    "tomlkit",
    "waitress",
}

TOP_LEVEL = {
    ".ci",
    ".gitignore",
    "DEVELOPERS.md",
    "README.md",
    "examples",
    "fonts",
    "pyproject.toml",
    "tests",
    "tiler",
}


@cache
def imports(file: Path, root: Path) -> tuple[str, ...]:
    """Name every module that a file imports, inside functions too; relative ones and literal texts resolved."""
    return tuple(_imports(file, root))


def _imports(file: Path, root: Path) -> Iterator[str]:
    package = file.relative_to(root).with_suffix("").parts[:-1]
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        match node:
            case ast.Import():
                yield from (alias.name for alias in node.names)
            case ast.ImportFrom():
                above = package[: len(package) - node.level + 1] if node.level else ()
                base = ".".join((*above, *([node.module] if node.module else [])))
                yield from (f"{base}.{alias.name}" for alias in node.names)
            case ast.Call(
                func=ast.Name(id="import_module" | "__import__") | ast.Attribute(attr="import_module"),
                args=[ast.Constant(value=str(name)), *_],
            ):
                yield name


def source_files(root: Path) -> list[Path]:
    return sorted((root / "tiler").rglob("*.py"))


def room(module: str) -> str:
    """Give the room of a dotted name below ``tiler``; an unknown one is its own and nobody may import it."""
    name = module.split(".")[1] if "." in module else "__init__"
    if name in WORDS or (name.startswith("__") and name != "__main__"):
        return "words"
    return "commands" if name == "__main__" else name


def own_room(file: Path, root: Path) -> str:
    return room(".".join(file.relative_to(root).with_suffix("").parts))


def order_faults(root: Path) -> list[str]:
    faults = []
    for file in source_files(root):
        allowed = MAY_IMPORT.get(own_room(file, root))
        if allowed is None:
            faults.append(f"{file.relative_to(root)} lies in no room")
            continue
        for module in imports(file, root):
            if room(module) == "browser" and file.relative_to(root).as_posix() == OPENS_THE_BROWSER:
                continue
            if module.split(".")[0] == "tiler" and room(module) not in allowed:
                faults.append(f"{file.relative_to(root)} imports {module}")
    return faults


def importer_faults(root: Path) -> list[str]:
    faults = []
    for file in source_files(root):
        place = file.relative_to(root).as_posix()
        for module in imports(file, root):
            library = module.split(".")[0]
            if library in sys.stdlib_module_names or library == "tiler":
                continue
            owner = SOLE_IMPORTERS.get(library)
            if owner is None or not place.startswith(owner):
                faults.append(f"{place} imports {module}")
    return faults


def meeting_faults(root: Path) -> list[str]:
    """Name the shared words that the witness imports although only the writer should."""
    return [
        f"{file.relative_to(root)} imports {module}"
        for file in source_files(root)
        if own_room(file, root) in ("reading", "proof")
        for module in imports(file, root)
        if module.split(".")[0] == "tiler" and room(module) == "words" and module.split(".")[1] not in MEETING
    ]


MOST_LINES, MOST_FILES = 300, 16


def size_faults(root: Path) -> list[str]:
    """Name the modules that are too long to have one subject, and the rooms that are too full to answer one question."""
    rooms = Counter(file.parent for file in source_files(root) if file.name != "__init__.py")
    return [
        *(
            f"{file.relative_to(root)} has {lines} lines"
            for file in source_files(root)
            if (lines := file.read_text(encoding="utf-8").count("\n")) > MOST_LINES
        ),
        *(f"{place.relative_to(root)} holds {count} files" for place, count in rooms.items() if count > MOST_FILES),
    ]


def circles(root: Path) -> list[list[str]]:
    """Name the modules that import each other round in a circle, inside functions too."""
    names = {module_name(file, root): file for file in source_files(root)}
    graph = {
        name: {found for module in imports(file, root) if (found := _module_of(module, names)) and found != name}
        for name, file in names.items()
    }
    # what imports nothing of the rest, or is imported by nothing of it, lies on no circle
    while leaves := {name for name, taken in graph.items() if not taken} | (
        graph.keys() - {one for taken in graph.values() for one in taken}
    ):
        graph = {name: taken - leaves for name, taken in graph.items() if name not in leaves}
    return [sorted(graph)] if graph else []


def module_name(file: Path, root: Path) -> str:
    parts = file.relative_to(root).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def _module_of(imported: str, names: Mapping[str, Path]) -> str | None:
    """Give the module that an imported name belongs to: itself, or the one it is taken from."""
    return imported if imported in names else above if (above := imported.rpartition(".")[0]) in names else None


def stray_files(root: Path) -> set[str]:
    """Name what lies at the top level of a tree without being ignored by its ``.gitignore``."""
    ignored = [line.rstrip("/") for line in (root / ".gitignore").read_text(encoding="utf-8").split()]
    return {
        entry.name
        for entry in root.iterdir()
        if entry.name not in {".git", "PKG-INFO", *TOP_LEVEL} and not any(entry.match(one) for one in ignored)
    }


def loaded_by(statement: str) -> list[str]:
    """Run a statement in a fresh interpreter and name all modules that it loads, and what they lie in."""
    script = f"import sys\n{statement}\nprint(*sys.modules, file=sys.stderr)"
    done = subprocess.run([sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, check=True)
    return done.stderr.split()


def made_tree(folder: Path, files: Mapping[str, str]) -> Path:
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder


@long
def test_packages_import_one_way() -> None:
    assert order_faults(ROOT) == []


@pytest.mark.parametrize(
    ("place", "line"),
    [
        ("tiler/draft/outline.py", "from tiler.sheets.canvas import Canvas"),
        ("tiler/proof/ink/pixels.py", "import tiler.sheets.canvas"),
        ("tiler/sheets/cover/sizes.py", "from tiler import proof"),
        ("tiler/reading/pdf/text.py", "from ...proof import report"),
        ("tiler/sheets/cover/sizes.py", "def late():\n    from tiler.usecases import draft"),
        ("tiler/usecases/draft.py", "import importlib\nimportlib.import_module('tiler.commands.draft')"),
        ("tiler/lengths.py", "from .draft import spec"),
        ("tiler/helpers/text.py", ""),
        ("tiler/draft/spec/read.py", "from tiler.elsewhere import word"),
        ("tiler/commands/verify.py", "from tiler.browser.serving import serve"),
    ],
)
def test_an_import_against_the_order_is_found(tmp_path: Path, place: str, line: str) -> None:
    assert len(order_faults(made_tree(tmp_path, {place: line}))) == 1


@long
def test_each_library_has_one_importer() -> None:
    assert importer_faults(ROOT) == []


@pytest.mark.parametrize(
    ("place", "line"),
    [
        ("tiler/sheets/cover/sizes.py", "from reportlab.pdfgen.canvas import Canvas"),
        ("tiler/sheets/reports/chart.py", "from reportlab.platypus import Paragraph"),
        ("tiler/proof/report/verdict.py", "def late():\n    import pypdf"),
        ("tiler/usecases/draft.py", "import click"),
        ("tiler/draft/spec/read.py", "from pint import UnitRegistry"),
        ("tiler/proof/report/verdict.py", "import pdfminer.layout"),
        ("tiler/sheets/canvas.py", "import pypdfium2"),
        ("tiler/draft/spec/read.py", "import numpy"),
        ("tiler/proof/ink/pixels.py", "import numpy"),
        ("tiler/commands/browser.py", "import flask"),
        ("tiler/usecases/draft.py", "import waitress"),
    ],
)
def test_a_second_importer_is_found(tmp_path: Path, place: str, line: str) -> None:
    assert len(importer_faults(made_tree(tmp_path, {place: line}))) == 1


def test_what_is_drawn_and_what_flows_may_both_take_their_library(tmp_path: Path) -> None:
    tree = made_tree(
        tmp_path,
        {
            "tiler/sheets/canvas.py": "from reportlab.pdfgen.canvas import Canvas",
            "tiler/sheets/flow.py": "from reportlab.platypus import Paragraph",
        },
    )
    assert importer_faults(tree) == []


def test_writer_and_witness_meet_only_in_the_declaration() -> None:
    assert meeting_faults(ROOT) == []


def test_another_meeting_is_found(tmp_path: Path) -> None:
    tree = made_tree(tmp_path, {"tiler/proof/tiles.py": "from tiler.turn import Turn"})
    assert meeting_faults(tree) == ["tiler/proof/tiles.py imports tiler.turn.Turn"]


def test_modules_and_rooms_are_small() -> None:
    assert size_faults(ROOT) == []


def test_a_long_module_and_a_crowded_room_are_found(tmp_path: Path) -> None:
    files = {f"tiler/draft/m{number}.py": "" for number in range(MOST_FILES + 1)}
    tree = made_tree(tmp_path, {**files, "tiler/lengths.py": "\n" * (MOST_LINES + 1)})
    assert size_faults(tree) == ["tiler/lengths.py has 301 lines", "tiler/draft holds 17 files"]


def test_no_modules_import_each_other_in_a_circle() -> None:
    assert circles(ROOT) == []


def test_a_circle_is_found(tmp_path: Path) -> None:
    files = {
        "tiler/draft/a.py": "from tiler.draft.b import one",
        "tiler/draft/b.py": "def late():\n    from tiler.draft import c",
        "tiler/draft/c.py": "import tiler.draft.a",
        "tiler/draft/d.py": "from tiler.draft.a import two",
    }
    assert circles(made_tree(tmp_path, files)) == [["tiler.draft.a", "tiler.draft.b", "tiler.draft.c"]]


def test_every_declared_dependency_is_imported_and_the_other_way_round() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    declared = {re.split(r"[<>=!~ ]", entry)[0].lower() for entry in project["dependencies"]}
    # pdfminer.six is pinned exactly by pdfplumber; a bound of ours could only contradict it
    imported = {"pillow" if name == "PIL" else name.lower() for name in SOLE_IMPORTERS} - {"pdfminer"}
    assert declared == imported


def test_the_help_loads_no_library_but_click() -> None:
    loaded = loaded_by("from tiler.commands import run\nrun(['--help'])")
    assert "click" in loaded
    assert HEAVY.isdisjoint(loaded)


@long
def test_verify_edge_and_preview_read_no_file_in_their_own_process() -> None:
    calls = "run(['verify', 'README.md'])\nrun(['edge', 'README.md'])\nrun(['preview', 'README.md', '-o', '.'])"
    assert HEAVY.isdisjoint(loaded_by(f"from tiler.commands import run\n{calls}"))


@long
def test_only_pages_to_read_load_what_makes_them_flow(tmp_path: Path) -> None:
    drafting, charting = (
        f"run(['{name}', 'examples/saltmarsh-crew.toml', '-o', r'{tmp_path / name}.pdf'])"
        for name in ("draft", "chart")
    )
    halt = "print(*sys.modules, 'and.then', file=sys.stderr)"
    loaded = loaded_by(f"from tiler.commands import run\n{drafting}\n{halt}\n{charting}")
    assert loaded.index("reportlab.pdfgen.canvas") < loaded.index("and.then") < loaded.index("reportlab.platypus")
    # neither is what only scans need, though Pint would take it along
    assert "pint" in loaded
    assert "numpy" not in loaded


def test_a_loaded_library_is_seen() -> None:
    assert HEAVY.intersection(loaded_by("import tomlkit")) == {"tomlkit"}


def test_the_top_level_holds_only_what_belongs_there() -> None:
    assert stray_files(ROOT) == set()


def test_a_stray_file_is_found(tmp_path: Path) -> None:
    tree = made_tree(tmp_path, {".gitignore": ".venv*/\n*.pdf\n", "notes.txt": "", "crew.pdf": "", ".venv-x/bin": ""})
    assert stray_files(tree) == {"notes.txt"}
