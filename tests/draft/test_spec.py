"""This checks that a spec is read whole, and that each fault gets one sentence with its place."""

from pathlib import Path

import pytest

from tiler.draft.compute import figure_job
from tiler.draft.spec.read import read_spec
from tiler.errors import ExitCode, SpecError, TilerError
from tiler.paper import Margins

EDGE = (
    'kind = "neckline", front-half = "7 1/4 in", back-half = "3 3/4 in", measured-on = "cut-edge", '
    'garment-allowance = "1/4 in", end-allowance = "1/4 in"'
)

GOOD = f"""
title = "Sample crew top"
units = "in"
version = "1.2"
date = 2031-05-01
copyright = "Invented Patterns"

[paper]
size = "a4"
margin = "1/2"
overlap = "12 mm"

[fabrics.rib]
rest = "4 in"
pulled = "6 3/8 in"
recovery = "95 %"
thickness = "0.8 mm"
width = "60 in"

[[pieces]]
name = "Neckband"
finish = "folded-band"
finished-width = "1/2 in"
seam-allowance = "1/4 in"
join-allowance = "1/4 in"
cut = "on-fold"
quantity = 3
fabric = "rib"
ratio = "flat"
edge = {{ {EDGE} }}
opening = {{ must-pass = "22 1/2 in" }}
notches = [{{ name = "placket", at = "2 in" }}]
"""


def test_a_spec_is_read_whole(read):
    job = read(GOOD)
    assert (job.edition.title, job.edition.units, job.edition.version, job.edition.date) == (
        "Sample crew top",
        "in",
        "1.2",
        "2031-05-01",
    )
    assert job.edition.copyright == "Invented Patterns"
    assert (job.paper.name, job.paper.overlap) == ("a4", 12)
    assert job.paper.margins == Margins(12.7, 12.7, 12.7, 12.7)
    rib = job.fabrics["rib"]
    assert rib.stretch == pytest.approx(2.375 / 4)
    assert (rib.recovery, rib.thickness_mm, rib.width_mm) == (0.95, 0.8, 1524)
    (piece,) = job.pieces
    assert (piece.name, piece.quantity, piece.fabric) == ("Neckband", 3, rib)
    assert figure_job(job)[0].quantity == 3


def test_what_may_be_left_out(read):
    job = read(
        'title = "T"\nunits = "cm"\n[[pieces]]\nname = "Hem"\nfinish = "folded-band"\nfinished-width = 5\n'
        'edge = { kind = "straight", whole = 80 }\n'
    )
    assert (job.edition.version, job.edition.date, job.edition.copyright) == (None, None, None)
    assert (job.paper.name, job.paper.margins, job.paper.overlap) == ("letter", Margins(), 10)
    assert (job.pieces[0].quantity, job.pieces[0].cut) == (1, "on-fold")
    assert figure_job(job)[0].size is None


def test_margins_may_differ_by_side(read):
    job = read(GOOD.replace('margin = "1/2"', 'margin = { left = "20 mm", bottom = 0 }'))
    assert job.paper.margins == Margins(left=20, right=10, top=10, bottom=0)


def test_an_armhole_is_cut_twice(read):
    job = read(GOOD.replace('"neckline", front-half', '"armhole", front').replace("back-half", "back"))
    assert job.pieces[0].quantity == 3
    job = read(
        GOOD.replace('"neckline", front-half', '"armhole", front')
        .replace("back-half", "back")
        .replace("quantity = 3", "")
    )
    assert job.pieces[0].quantity == 2


@pytest.mark.parametrize("title", ["Größe 42", "Ελληνικά", "Футболка", "日本語", "½ size", "a" * 200])
def test_titles_may_be_in_any_letters(read, title):
    assert read(GOOD.replace("Sample crew top", title)).edition.title == title


def test_a_byte_order_mark_and_windows_line_ends_are_taken(tmp_path: Path):
    path = tmp_path / "spec.toml"
    path.write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode())
    assert read_spec(path).edition.title == "Sample crew top"


def replaced(old: str, new: str) -> str:
    assert old in GOOD
    return GOOD.replace(old, new)


BAD = {
    "publisher without a name": (
        replaced("[paper]", '[publisher]\nweb = "x.example"\n[paper]'),
        "publisher.name: is missing",
    ),
    "publisher with an address": (
        replaced("[paper]", '[publisher]\nstreet = "1"\n[paper]'),
        "publisher.street: is not a known key",
    ),
    "changes is a text": (
        replaced("[paper]", 'changes = "new"\n[paper]'),
        "changes: must be a list of texts, not a text",
    ),
    "a change of two lines": (replaced("[paper]", 'changes = ["a", "b\\nc"]\n[paper]'), "changes[1]: has a line break"),
    "too many changes": (replaced("[paper]", f"changes = {['a'] * 21}\n[paper]"), "changes: are 21; at most 20 fit"),
    "no title": (replaced('title = "Sample crew top"', ""), "title: is missing"),
    "empty title": (replaced("Sample crew top", "  "), "title: is empty"),
    "title of two lines": (replaced('"Sample crew top"', '"a\\nb"'), "title: has a line break"),
    "title with a null": (replaced('"Sample crew top"', '"a\\u0000b"'), "title: has a line break"),
    "long title": (replaced("Sample crew top", "a" * 201), "title: has 201 characters"),
    "title is a number": (replaced('"Sample crew top"', "5"), "title: must be a text in quotes, not a number"),
    "title is true": (replaced('"Sample crew top"', "true"), "title: must be a text in quotes, not true or false"),
    "no units": (replaced('units = "in"', ""), "units: is missing"),
    "units of another kind": (replaced('units = "in"', 'units = "mm"'), 'units: "mm" is not known'),
    "version is a number": (replaced('version = "1.2"', "version = 1.2"), "version: must be a text in quotes"),
    "date with a time": (replaced("2031-05-01", "2031-05-01T10:00:00"), "date: must be a text in quotes"),
    "unknown key at the top": (
        replaced("version =", "versoin ="),
        "versoin: is not a known key; did you mean version?",
    ),
    "unknown key of a piece": (
        replaced("finished-width", "finish-width"),
        "pieces[0].finish-width: is not a known key; did you mean finished-width?",
    ),
    "unknown key of an edge": (
        replaced("back-half", "backhalf"),
        "pieces[0].edge.backhalf: is not a known key; did you mean back-half?",
    ),
    "unknown key of a fabric": (replaced("pulled", "puled"), "fabrics.rib.puled: is not a known key"),
    "unknown key of the paper": (replaced("overlap", "overlop"), "paper.overlop: is not a known key"),
    "unknown key with a line break": (replaced("version =", '"a\\nb" ='), "'a\\nb': is not a known key"),
    "unknown paper": (replaced('"a4"', '"A4"'), 'paper.size: "A4" is not known'),
    "negative margin": (replaced('margin = "1/2"', "margin = -1"), "paper.margin: -1 is negative"),
    "margin list": (replaced('margin = "1/2"', "margin = [1, 2]"), "paper.margin: a list is not a length"),
    "margin of an unknown side": (
        replaced('margin = "1/2"', "margin = { lft = 1 }"),
        "paper.margin.lft: is not a known key; did you mean left?",
    ),
    "paper is a text": (
        replaced('[paper]\nsize = "a4"\nmargin = "1/2"\noverlap = "12 mm"', 'paper = "a4"'),
        "paper: must be a table, not a text",
    ),
    "fabrics is a list": ('fabrics = []\ntitle = "t"\nunits = "in"', "fabrics: must be a table, not a list"),
    "fabric is a text": ('fabrics = { rib = "60 %" }\ntitle = "t"\nunits = "in"', "fabrics.rib: must be a table"),
    "fabric without stretch": (replaced('rest = "4 in"\npulled = "6 3/8 in"', ""), "fabrics.rib.stretch: is missing"),
    "pulled alone": (replaced('rest = "4 in"', ""), "fabrics.rib.rest: is missing"),
    "pulled shorter than rest": (replaced("6 3/8 in", "3 in"), "fabrics.rib.pulled: must be from 1 to 5 times"),
    "stretch twice": (replaced('rest = "4 in"', 'stretch = "5 %"'), "fabrics.rib.pulled: contradicts stretch"),
    "recovery over 100": (replaced("95 %", "105 %"), "fabrics.rib.recovery: '105 %' is out of range"),
    "stretch as a whole number": (
        replaced('rest = "4 in"\npulled = "6 3/8 in"', "stretch = 60"),
        'fabrics.rib.stretch: 60 would be 6000 %; write "60 %"',
    ),
    "fabric width as a percentage": (replaced('"60 in"', '"60 %"'), "fabrics.rib.width: '60 %' is a percentage"),
    "no pieces": (GOOD.split("[[pieces]]", maxsplit=1)[0], "pieces: is missing"),
    "empty pieces": ('title = "t"\nunits = "in"\npieces = []', "pieces: is empty"),
    "pieces is a table": ('title = "t"\nunits = "in"\n[pieces]\nname = "x"', "pieces: must be a list of tables"),
    "pieces is a list of numbers": (
        'title = "t"\nunits = "in"\npieces = [1]',
        "pieces[0]: must be a table, not a number",
    ),
    "two pieces of one name": (GOOD + GOOD[GOOD.index("[[pieces]]") :], 'pieces[1].name: "Neckband" is also the name'),
    "no name": (replaced('name = "Neckband"', ""), "pieces[0].name: is missing"),
    "no finish": (replaced('finish = "folded-band"', ""), "pieces[0].finish: is missing"),
    "unknown finish": (
        replaced('"folded-band"', '"foldedband"'),
        'pieces[0].finish: "foldedband" is not known; did you mean folded-band?',
    ),
    "no width": (replaced('finished-width = "1/2 in"', ""), "pieces[0].finished-width: is missing"),
    "both widths": (replaced("quantity = 3", 'cut-width = "2 in"'), "pieces[0].cut-width: contradicts finished-width"),
    "zero width": (replaced('finished-width = "1/2 in"', "finished-width = 0"), "pieces[0].finished-width: 0 is zero"),
    "width is true": (
        replaced('finished-width = "1/2 in"', "finished-width = true"),
        "pieces[0].finished-width: true is not a length",
    ),
    "width is a date": (
        replaced('finished-width = "1/2 in"', "finished-width = 2031-05-01"),
        "pieces[0].finished-width: a date or a time is not a length",
    ),
    "comma": (replaced('"7 1/4 in"', '"1,5 cm"'), "pieces[0].edge.front-half: '1,5 cm' is not a length; write 1.5 cm"),
    "overflowing number": (replaced('"7 1/4 in"', "1e400"), "pieces[0].edge.front-half: inf is far too large"),
    "nan": (replaced('"7 1/4 in"', "nan"), "pieces[0].edge.front-half: nan is not a length"),
    "huge integer": (replaced('"7 1/4 in"', "9" * 4000), "pieces[0].edge.front-half: this number is far too large"),
    "huge hexadecimal": (
        replaced('"7 1/4 in"', "0x" + "f" * 9000),
        "pieces[0].edge.front-half: this number is far too",
    ),
    "integer past reading": (replaced('"7 1/4 in"', "9" * 5000), "is not TOML"),
    "angle as a length": (replaced('"7 1/4 in"', '"7 deg"'), "pieces[0].edge.front-half: '7 deg' is an angle"),
    "length as an angle": (
        replaced('kind = "neckline"', 'kind = "neckline", shoulder-slope = "2 in"'),
        "pieces[0].edge.shoulder-slope: '2 in' is not an angle",
    ),
    "steep shoulder": (
        replaced('kind = "neckline"', 'kind = "neckline", shoulder-slope = 61'),
        "pieces[0].edge.shoulder-slope: 61 is out of range; an angle here is 0 to 60 degrees",
    ),
    "turning twice": (
        replaced('kind = "neckline"', 'kind = "neckline", shoulder-slope = 20, turning = 280'),
        "pieces[0].edge.shoulder-slope: contradicts turning",
    ),
    "corner list is a number": (
        replaced('kind = "neckline"', 'kind = "neckline", corners = 90'),
        "pieces[0].edge.corners: must be a list of angles, not a number",
    ),
    "impossible corner": (
        replaced('kind = "neckline"', 'kind = "neckline", corners = [180]'),
        "pieces[0].edge.corners[0]: 180 is out of range",
    ),
    "straight with corners": (
        replaced(
            EDGE,
            'kind = "straight", whole = 9, corners = [90]',
        ),
        "pieces[0].edge.corners: has no meaning for a straight edge",
    ),
    "curved without turning": (
        replaced(
            EDGE,
            'kind = "curved", whole = 9',
        ),
        "pieces[0].edge.turning: is missing",
    ),
    "curved with a shoulder": (
        replaced(
            EDGE,
            'kind = "curved", whole = 9, shoulder-slope = 20',
        ),
        "pieces[0].edge.shoulder-slope: has no meaning for a curved edge",
    ),
    "no edge": (GOOD[: GOOD.index("edge =")], "pieces[0].edge: is missing"),
    "edge is a length": (
        GOOD[: GOOD.index("edge =")] + 'edge = "22 in"',
        "pieces[0].edge: must be a table, not a text",
    ),
    "unknown kind": (replaced('"neckline"', '"neck"'), 'pieces[0].edge.kind: "neck" is not known'),
    "one half missing": (replaced('back-half = "3 3/4 in", ', ""), "pieces[0].edge.back-half: is missing"),
    "mixed parts": (
        replaced("back-half", "back"),
        "pieces[0].edge.back: does not belong to a neckline edge measured as front-half and back-half",
    ),
    "whole and a half": (replaced("back-half", "whole"), "pieces[0].edge.whole: does not belong to a neckline edge"),
    "halves of an armhole": (
        replaced('"neckline"', '"armhole"'),
        "pieces[0].edge.front-half: does not belong to an armhole",
    ),
    "end allowance with whole": (
        replaced('front-half = "7 1/4 in", back-half = "3 3/4 in"', 'whole = "22 in"'),
        "pieces[0].edge.end-allowance: is for parts that end in a sewn seam",
    ),
    "part shorter than its end allowance": (
        replaced('"7 1/4 in"', '"1/4 in"'),
        "pieces[0].edge.front-half: is not longer than its end allowance; check both",
    ),
    "cut edge without its allowance": (
        replaced('garment-allowance = "1/4 in", ', ""),
        "pieces[0].edge.garment-allowance: is missing",
    ),
    "cover of a band": (replaced("quantity = 3", 'cover = "1/8"'), "pieces[0].cover: has no meaning for a folded-band"),
    "trimming of a band": (replaced("quantity = 3", "trim-allowance = 1"), "pieces[0].trim-allowance: has no meaning"),
    "quantity zero": (replaced("quantity = 3", "quantity = 0"), "pieces[0].quantity: must be a whole number from 1"),
    "quantity a fraction": (replaced("quantity = 3", "quantity = 1.5"), "pieces[0].quantity: must be a whole number"),
    "quantity true": (replaced("quantity = 3", "quantity = true"), "pieces[0].quantity: must be a whole number"),
    "quantity huge": (replaced("quantity = 3", f"quantity = {10**300}"), "pieces[0].quantity: must be a whole number"),
    "unknown fabric": (
        replaced('fabric = "rib"', 'fabric = "ribb"'),
        "pieces[0].fabric: there is no [fabrics.ribb]; did you",
    ),
    "fabric is a list": (replaced('fabric = "rib"', 'fabric = ["rib"]'), "pieces[0].fabric: must be a text in quotes"),
    "must-pass missing": (replaced('must-pass = "22 1/2 in"', ""), "pieces[0].opening.must-pass: is missing"),
    "opening is a length": (
        replaced('{ must-pass = "22 1/2 in" }', '"22 1/2 in"'),
        "pieces[0].opening: must be a table, not a text",
    ),
    "notch without a name": (replaced('name = "placket", ', ""), "pieces[0].notches[0].name: is missing"),
    "notches is a table": (
        replaced('[{ name = "placket", at = "2 in" }]', '{ name = "placket", at = "2 in" }'),
        "pieces[0].notches: must be a list of tables",
    ),
    "pair without its edge": (replaced('"flat"', "{ loop = 19 }"), "pieces[0].ratio.edge: is missing"),
    "ease as a length": (
        replaced('ratio = "flat"', 'fits = { body = "17 cm", ease = "2 cm" }'),
        "pieces[0].fits.ease: '2 cm' is not a percentage",
    ),
    "empty file": ("", "units: is missing"),
    "not TOML": (replaced('units = "in"', "units = in"), "is not TOML: Invalid value (at line 3, column"),
    "key given twice": (replaced('units = "in"', 'units = "in"\nunits = "cm"'), "is not TOML: "),
    "nested too deeply": ("a = " + "[" * 100_000, "nested too deeply"),
}


@pytest.mark.parametrize("case", BAD)
def test_each_fault_gets_one_sentence_with_its_place(read, case):
    text, expected = BAD[case]
    with pytest.raises(TilerError) as caught:
        figure_job(read(text))
    message = str(caught.value)
    assert expected in message
    assert message.startswith("spec.toml: ")
    assert message.count("spec.toml") == (2 if "also the name" in message else 1)
    assert "\n" not in message
    assert len(message) < 400
    assert caught.value.code is ExitCode.USAGE


def test_the_good_spec_of_these_faults_is_good(read):
    assert figure_job(read(GOOD))[0].name == "Neckband"


def test_a_spec_that_is_not_there(tmp_path: Path):
    with pytest.raises(SpecError, match="there is no such file"):
        read_spec(tmp_path / "none.toml")


def test_a_folder_is_no_spec(tmp_path: Path):
    with pytest.raises(SpecError, match="is a folder; name the spec itself"):
        read_spec(tmp_path)


def test_a_text_in_another_encoding_names_its_line(tmp_path: Path):
    path = tmp_path / "spec.toml"
    path.write_bytes('title = "x"\n# Größe\n'.encode("latin-1"))
    with pytest.raises(SpecError, match=r"spec\.toml: line 2 is not UTF-8"):
        read_spec(path)


def test_a_file_of_many_megabytes_is_no_spec(tmp_path: Path):
    path = tmp_path / "spec.toml"
    path.write_bytes(b"#" * (2**20 + 1))
    with pytest.raises(SpecError, match="larger than 1 MB"):
        read_spec(path)


def test_a_spec_of_far_too_many_pieces_is_refused(tmp_path: Path):
    path = tmp_path / "spec.toml"
    path.write_text('title = "x"\nunits = "cm"\nsizes = ["S", "L"]\n' + "[[pieces]]\n" * 501)
    with pytest.raises(SpecError, match=r"spec\.toml: pieces: are 501 in 2 sizes; at most 1000 are taken in all"):
        read_spec(path)
