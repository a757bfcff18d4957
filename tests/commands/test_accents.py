"""A word is one word, whether its accents are composed (as most keyboards write) or not (as some systems do).

Both forms are canonically equivalent (Unicode Standard, section 3.7; UAX 15).
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Callable
from pathlib import Path
from unicodedata import normalize

import pytest

from tests.chosen import long
from tests.specs import neckline, piece, spec, straight, table, written
from tests.usecases.test_job import DRAWING
from tiler.accents import TwiceError, composed, composed_tree
from tiler.commands import run

pytestmark = pytest.mark.usefixtures("forked")

Said = Callable[..., str]

SPEC = spec(
    piece("Bündchen", "1 in", straight({"Größe": "8 in", "M": "9 in"}), fabric="Jérsey"),
    title="Größe für Zoë",
    sizes=["Größe", "M"],
    fabrics={"Jérsey": "50 %"},
)


def apart(text: str) -> str:
    """Return a text with its accents as signs of their own."""
    taken = normalize("NFD", text)
    assert taken != text
    return taken


@pytest.fixture(name="said")
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Said:
    """Give a runner of commands in a folder of its own, which returns what they say."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("TILER_PRINTERS", str(tmp_path / "printers"))

    def said(*words: str, code: int = 0) -> str:
        capsys.readouterr()
        assert run(words) == code
        told = capsys.readouterr()
        return told.out if code == 0 else told.err

    return said


def test_a_spec_says_the_same_in_both_forms(said: Said) -> None:
    for name, text in (("one.toml", SPEC), ("apart.toml", apart(SPEC))):
        written(text, Path.cwd(), name)
    assert said("figures", "apart.toml", "--json") == said("figures", "one.toml", "--json")
    picked = said("figures", "one.toml", "--sizes", apart("Größe"), "--json")
    assert picked == said("figures", "apart.toml", "--sizes", "Größe", "--json")
    assert json.loads(picked)["pieces"][0]["size"] == "Größe"


def test_two_names_that_people_cannot_tell_apart_are_refused(said: Said) -> None:
    written(SPEC.replace('"M"', f'"{apart("Größe")}"'), Path.cwd(), "sizes.toml")
    assert '"Größe" is also sizes[0]' in said("figures", "sizes.toml", code=2)
    twice = SPEC + f'\n[fabrics."{apart("Jérsey")}"]\nstretch = "20 %"\n'
    written(twice, Path.cwd(), "twice.toml")
    words = "twice.toml: fabrics.Jérsey: stands twice, its accents written in two ways; keep one"
    assert words in said("figures", "twice.toml", code=2)


@long
def test_an_id_of_a_drawing_is_found_and_a_name_of_a_file_is_not_changed(said: Said) -> None:
    drawing = DRAWING.replace('id="front"', 'id="vorn-Größe"').replace('id="back"', f'id="{apart("rück")}"')
    for name in ("Größe.svg", apart("Größe.svg")):
        for left in Path.cwd().glob("*.svg"):
            left.unlink()
        Path(name).write_text(drawing, encoding="utf-8")
        edge = neckline(table(svg=name, id=apart("vorn-Größe")), table(svg=name, id="rück"))
        written(spec(piece("Band", "1.5 cm", edge), units="cm"), Path.cwd())
        assert "Band" in said("figures", "spec.toml")
        assert {"vorn-Größe", "rück"} <= {one["id"] for one in json.loads(said("edge", name, "--json"))["curves"]}


def test_a_printer_is_known_by_its_name_in_both_forms(said: Said) -> None:
    reading = ["--nominal", "15 cm", "--across", "14.9 cm", "--down", "14.8 cm"]
    said("printer", "add", apart("Büro"), *reading)
    assert [path.name for path in Path("printers").iterdir()] == ["büro.json"]
    assert said("printer", "show", "Büro") == said("printer", "show", apart("Büro"))
    assert "is known already" in said("printer", "add", "BÜRO", *reading, code=7)


def test_a_file_system_that_takes_names_apart_still_has_the_printer(said: Said) -> None:
    """HFS+ stores names with the accents apart, and lists them so (Apple TN1150)."""
    said("printer", "add", "Büro", "--nominal", "15 cm", "--across", "14.9 cm", "--down", "14.8 cm")
    Path("printers/büro.json").rename(apart("printers/büro.json"))
    assert said("printer", "list").startswith("Büro: ")


def test_testers_are_one_in_both_forms(said: Said) -> None:
    head = "tester,printer,viewer,nominal,across,down\n"
    rows = f"Zoë,Büro,x,50 mm,50 mm,50 mm\n{apart('Zoë')},{apart('Büro')},x,50 mm,50 mm,49.9 mm\n"
    Path("round.csv").write_text(head + rows, encoding="utf-8")
    (tester,) = json.loads(said("readings", "round.csv", "--json"))["testers"]
    assert (tester["name"], tester["readings"]) == ("Zoë", 2)


def test_what_is_typed_is_written_composed(said: Said) -> None:
    given = [
        "--kind",
        "straight",
        "--edge",
        "20 in",
        "--width",
        "1 in",
        "--name",
        apart("Bündchen"),
        "--notch",
        apart("Öse"),
        "5 in",
    ]
    said("band", *given, "--save-spec", "band.toml")
    kept = tomllib.loads(Path("band.toml").read_text(encoding="utf-8"))["pieces"][0]
    assert (kept["name"], kept["notches"][0]["name"]) == ("Bündchen", "Öse")
    Path("answers.toml").write_text(
        f'place = "cuff"\nedge = "22 cm"\npull = "unknown"\ntitle = "{apart("Bündchen")}"\n', encoding="utf-8"
    )
    said("start", "--answers", "answers.toml", "-o", "cuff.pdf")
    assert 'title = "Bündchen"' in Path("cuff.toml").read_text(encoding="utf-8")


def test_a_path_on_the_command_line_is_not_changed(said: Said) -> None:
    name = apart("Größe.csv")
    written(SPEC, Path.cwd(), apart("Größe.toml"))
    said("chart", apart("Größe.toml"), "-o", name)
    assert name in {path.name for path in Path.cwd().iterdir()}


def test_composing_leaves_what_is_no_text() -> None:
    tree = {"a\u0308": ["o\u0308", 1, True, {"svg": "u\u0308"}], "svg": {"e\u0301": 2.5}}
    assert composed_tree(tree, ("svg",)) == {"ä": ["ö", 1, True, {"svg": "u\u0308"}], "svg": {"é": 2.5}}
    assert composed("3\u20448 \u00bd \u2033") == "3\u20448 \u00bd \u2033"
    with pytest.raises(TwiceError) as told:
        composed_tree({"b": {"ä": 1, "a\u0308": 2}})
    assert told.value.args == ("b", "ä")
