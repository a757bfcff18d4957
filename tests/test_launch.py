"""The start by a double-click: what it fetches and where to, and what it says of whatever is in the way."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Callable
from importlib.machinery import SourceFileLoader
from importlib.util import module_from_spec, spec_from_loader
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

FILE = Path(__file__).parent.parent / "tiler" / "launch.pyw"
PROJECT = '[project]\ndependencies = ["click>=8.4", "flask>=3.1"]\n'


@pytest.fixture
def launch() -> ModuleType:
    loader = SourceFileLoader("launch", str(FILE))
    spec = spec_from_loader("launch", loader)
    assert spec
    module = module_from_spec(spec)
    loader.exec_module(module)
    return module


@pytest.fixture
def root(tmp_path: Path) -> Path:
    (tmp_path / "pyproject.toml").write_text(PROJECT, encoding="utf-8")
    return tmp_path


class Pretended:
    """Commands that do nothing but leave what the real ones would, and say what they are told to."""

    def __init__(self, launch: ModuleType, says: str = "", fails: BaseException | None = None) -> None:
        self.launch, self.says, self.fails = launch, says, fails
        self.commands: list[list[str]] = []

    def run(self, command: list[str], heard: Callable[[str], None]) -> None:
        self.commands.append(command)
        if command[1:3] == ["-m", "venv"]:
            python = self.launch.python_in(Path(command[3]))
            python.parent.mkdir(parents=True)
            python.write_text("")
            return
        for line in self.says.splitlines():
            heard(line)
        if self.fails:
            raise self.fails


def test_it_needs_the_standard_library_alone_and_an_older_python_reads_it() -> None:
    tree = ast.parse(FILE.read_text(encoding="utf-8"), feature_version=(3, 7))
    names = {alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names}
    names |= {node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    assert "subprocess" in names
    assert {name.split(".")[0] for name in names} <= sys.stdlib_module_names


def test_the_libraries_of_the_project_are_fetched_once(launch: ModuleType, root: Path) -> None:
    work = Pretended(launch, "Collecting click>=8.4\nInstalling collected packages: click")
    told: list[str] = []
    wanted = launch.libraries(root)
    assert wanted == ["click>=8.4", "flask>=3.1"]
    assert not launch.is_made(root / ".venv-page", wanted)
    launch.make(root, told.append, work)
    assert told == ["Making room for the libraries …", "Fetching click …", "Putting the libraries in place …"]
    assert work.commands[1][-2:] == wanted
    assert launch.is_made(root / ".venv-page", wanted)
    assert sorted(path.name for path in root.iterdir()) == [".venv-page", "pyproject.toml"]
    # a newer tiler may need others, and a Python that is gone takes its environment with it
    assert not launch.is_made(root / ".venv-page", [*wanted, "waitress"])
    launch.python_in(root / ".venv-page").unlink()
    assert not launch.is_made(root / ".venv-page", wanted)


@pytest.mark.parametrize("fault", [KeyboardInterrupt(), OSError(28, "No space left on device")])
def test_of_an_environment_that_does_not_become_whole_nothing_stays(
    launch: ModuleType, root: Path, fault: BaseException
) -> None:
    with pytest.raises(KeyboardInterrupt if isinstance(fault, KeyboardInterrupt) else launch.StartError) as told:
        launch.make(root, lambda _: None, Pretended(launch, fails=fault))
    assert [path.name for path in root.iterdir()] == ["pyproject.toml"]
    assert isinstance(told.value, KeyboardInterrupt) or "No space left" in str(told.value)


def test_of_two_starts_at_once_the_first_one_done_counts(launch: ModuleType, root: Path) -> None:
    class Other(Pretended):
        def run(self, command: list[str], heard: Callable[[str], None]) -> None:
            super().run(command, heard)
            if len(self.commands) == 2:
                launch.make(root, lambda _: None, Pretended(launch))
                (root / ".venv-page" / "first").write_text("")

    launch.make(root, lambda _: None, Other(launch))
    assert (root / ".venv-page" / "first").exists()
    assert len(list(root.iterdir())) == 2


@pytest.mark.parametrize(
    ("printed", "said"),
    [
        (
            "WARNING: Retrying after connection broken by 'NewConnectionError(...)': /simple/babel/\n"
            "ERROR: No matching distribution found for babel>=2.16",
            "on the network",
        ),
        ("ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device", "disk is full"),
        ("x\nERROR: No matching distribution found for babel>=2.16\n\nnotice", "No matching distribution found for b"),
        ("", "nothing was said why"),
    ],
)
def test_what_is_in_the_way_is_a_sentence(launch: ModuleType, root: Path, printed: str, said: str) -> None:
    with pytest.raises(launch.StartError, match=said):
        launch.make(root, lambda _: None, Pretended(launch, fails=launch.StartError(printed)))


def test_a_missing_module_a_folder_without_its_project_and_one_that_takes_nothing_are_sentences(
    launch: ModuleType, root: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(**_: Any) -> str:
        raise PermissionError(13, "Permission denied")

    with monkeypatch.context() as patch:
        patch.setitem(sys.modules, "ensurepip", None)
        with pytest.raises(launch.StartError, match="has no module ensurepip"):
            launch.make(root, print, Pretended(launch))
    with monkeypatch.context() as patch:
        patch.setattr(launch.tempfile, "mkdtemp", refused)
        with pytest.raises(launch.StartError, match=r"Nothing can be stored in .* \(Permission denied\)"):
            launch.make(root, print, Pretended(launch))
    (root / "pyproject.toml").unlink()
    with pytest.raises(launch.StartError, match="not the whole folder"):
        launch.make(root, print, Pretended(launch))


def test_a_command_is_heard_line_by_line_and_stopped_from_elsewhere(launch: ModuleType) -> None:
    work, heard = launch.Work(), []
    work.run([sys.executable, "-c", "print('one'); print('two')"], heard.append)
    assert heard == ["one\n", "two\n"]
    with pytest.raises(launch.StartError, match="why"):
        work.run([sys.executable, "-c", "import sys; sys.exit('why')"], heard.append)
    with pytest.raises(KeyboardInterrupt):
        work.run([sys.executable, "-c", "print(flush=True); import time; time.sleep(60)"], lambda _: work.stop())
    with pytest.raises(KeyboardInterrupt):
        work.run([sys.executable, "-c", ""], heard.append)


def test_an_old_python_without_a_newer_one_is_told(
    launch: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    shown: list[str] = []
    monkeypatch.setattr(launch, "show", shown.append)
    monkeypatch.setattr(launch, "OLDEST", (99, 0))
    monkeypatch.setattr(launch, "NEWER", ["no-such-python"])
    assert launch.main() == 2
    assert "needs Python 3.11 or later, and this is 3." in shown[0]
    # with a newer one at hand that one goes on
    started: list[list[str]] = []
    monkeypatch.setattr(launch, "NEWER", [sys.executable])
    monkeypatch.setattr(launch.subprocess, "call", lambda command: started.append(command) or 0)
    assert launch.main() == 0
    assert started[0][0] == sys.executable
    assert subprocess.call is launch.subprocess.call


def test_the_page_starts_with_the_environment_and_a_fault_of_it_is_shown(
    launch: ModuleType, root: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """This test ensures that a window is opened at the address that the page prints, and a fault is told."""
    opened: list[str] = []
    monkeypatch.setattr(launch, "is_made", lambda *_: True)
    monkeypatch.setattr(launch, "python_in", lambda _: sys.executable)
    monkeypatch.setattr(launch.webbrowser, "open", lambda address: opened.append(address) or True)
    package = root / "tiler"
    package.mkdir()
    (package / "__init__.py").write_text("")
    script = package / "__main__.py"
    script.write_text("import sys; print('http://127.0.0.1:8123', sys.argv[1:])")
    assert launch.start(root, False, ["--keep"]) == 0
    assert opened == ["http://127.0.0.1:8123 ['browser', '--keep', '--no-open']"]
    assert launch.start(root, False, ["--no-open"]) == 0
    assert len(opened) == 1
    script.write_text("import sys; sys.exit('tiler: 80 is in use')")
    with pytest.raises(launch.StartError, match="80 is in use"):
        launch.start(root, False, [])
    assert "http://127.0.0.1:8123" in capsys.readouterr().out
