"""This checks ``tiler figures``: the chart that people cut by, and its exact JSON."""

import json
from pathlib import Path

import pytest

from tests.specs import armhole, neckline, piece, spec, straight, table, written
from tiler.commands import run

CREW = piece(
    "Neckband",
    "5/8 in",
    neckline(7, "4 1/4", measured_on="cut-edge", garment_allowance="3/8", end_allowance="3/8"),
    fabric="rib",
    ratio="flat",
)
CUFF = piece("Cuff", "6 cm", straight("24 cm"), fabric="rib", ratio=0.72, opening=table(must_pass="36 cm"))
ARMHOLE = piece("Armhole binding", "9/32 in", armhole(8, 9), "double-fold-binding", cut="full-loop", cover=0)
TOP = {"title": "Sample crew top", "fabrics": {"rib": "80 %"}}

KEYS = {
    "name": str,
    "size": type(None),
    "finish": str,
    "cut": str,
    "quantity": int,
    "edge_mm": float,
    "turning_deg": float,
    "parts": list,
    "ratio": dict,
    "loop_mm": float,
    "cut_length_mm": float,
    "cut_width_mm": float,
    "finished_width_mm": float,
    "widest_mm": (float, type(None)),
    "notches": list,
    "seam_strain": float,
    "stretch_used": (float, type(None)),
    "opening": (dict, type(None)),
    "warnings": list,
}


@pytest.fixture(name="spec")
def crew_file(tmp_path: Path) -> Path:
    return written(spec(CREW, CUFF, ARMHOLE, **TOP), tmp_path)


def test_json_has_the_keys_of_the_contract_and_no_others(spec, capsys):
    assert run(["figures", str(spec), "--json"]) == 0
    result = json.loads(capsys.readouterr().out, parse_constant=pytest.fail)
    assert list(result) == ["title", "pieces"]
    assert [piece["name"] for piece in result["pieces"]] == ["Neckband", "Cuff", "Armhole binding"]
    for one in result["pieces"]:
        # checks that are not passed are listed where there are any
        assert [key for key in one if key != "failed"] == list(KEYS)
        assert ("failed" in one) == any("opens to only" in text or "tand away" in text for text in one["warnings"])
        for key, kind in KEYS.items():
            assert isinstance(one[key], kind), key
        assert list(one["ratio"]) == ["used", "advised", "flat", "usual", "tightest", "flat_limit", "source"]
        assert all(list(part) == ["name", "edge_mm", "strip_mm"] for part in one["parts"])
        assert all(list(notch) == ["name", "at_mm"] for notch in one["notches"])
        assert all(isinstance(text, str) for text in one["warnings"])
    assert list(result["pieces"][1]["opening"]) == ["opens_to_mm", "must_pass_mm", "passes", "limited_by"]
    assert [piece["opening"] is None for piece in result["pieces"]] == [True, False, True]
    assert [piece["ratio"]["flat"] is None for piece in result["pieces"]] == [False, True, False]
    assert [piece["stretch_used"] is None for piece in result["pieces"]] == [False, False, True]


def test_json_stays_exact(spec, capsys):
    run(["figures", str(spec), "--json"])
    crew, cuff, _ = json.loads(capsys.readouterr().out)["pieces"]
    # (E - W) / 1.02 of the crew, worked by hand; 24 cm x 0.72
    assert crew["loop_mm"] / 25.4 == pytest.approx(19.3905, abs=5e-5)
    assert cuff["loop_mm"] == pytest.approx(172.8, abs=1e-9)


def rows(text: str, heading: str) -> str:
    """Give the part of the chart below one piece's heading."""
    return text.split(f"\n{heading}", 1)[1].split("\n\n", 1)[0]


def test_the_chart_shows_the_numbers_to_cut_by_in_both_units(spec, capsys):
    assert run(["figures", str(spec)]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    crew = rows(out, "Neckband: folded band")
    assert "cut 1 on fold       10 1/16 in (25.6 cm) long from the fold" in crew
    assert "2 in (5.1 cm) wide" in crew
    # a full length is twice the rounded half, not the rounded whole (20 1/8 in, 51.2 cm)
    assert "(full length 20⅛ in (51.2 cm))" in crew
    assert "84.9 % of the edge" in crew
    # 22.8326 in / 1.48, the worked job's flat length, and its advised one
    said = " ".join(crew.split())
    assert "good from 15 7/16 in (39.2 cm), 60 % of the stretch, to 19⅜ in (49.3 cm), longest that lies flat" in said
    assert "advised 77.8 %, flat 84.9 %, usual 85 %, tightest 67.6 %" in said
    # (1 - 1.02 / 1.48) x 22.8326 / 4.8869 = 1.452 in
    assert "finished width ⅝ in (1.6 cm); up to 1 7/16 in (3.6 cm) has a good length" in said
    assert "17.8 %, 22.2 % of the stretch of rib" in crew
    assert "shoulder 6 in (15.3 cm) from the fold" in crew
    assert "CB (double) 9 11/16 in (24.6 cm) from the fold" in crew
    assert "end seam (CB)" in crew


def test_cut_widths_of_bindings_are_rounded_up(spec, capsys):
    run(["figures", str(spec)])
    binding = rows(capsys.readouterr().out, "Armhole binding: double-fold binding")
    # 4 x 9/32 in = 1 1/8 in = 28.575 mm
    assert "1⅛ in (2.9 cm) wide" in binding
    assert "cut 2 full length" in binding
    assert "end seam (underarm)" in binding


def test_an_opening_is_rounded_to_the_safe_side(spec, capsys):
    run(["figures", str(spec)])
    cuff = rows(capsys.readouterr().out, "Cuff: folded band")
    # 36 cm = 14.17 in up to 14 1/4 (by sixteenths 14 3/16); 17.28 cm x 1.8 = 31.104 cm = 12.245 in down to 12 3/16
    assert "14 3/16 in (36.0 cm)" in cuff
    assert "12 3/16 in (31.1 cm): does not pass, the strip limits it" in cuff


def test_every_line_fits_eighty_columns(tmp_path, capsys):
    cuff = CUFF | table(name="Long name " * 15)
    path = written(spec(CREW, cuff, ARMHOLE, **TOP | {"title": "x" * 150 + " Sample crew top"}), tmp_path)
    run(["figures", str(path)])
    for line in capsys.readouterr().out.splitlines():
        assert len(line) <= 80, line


def test_warnings_stand_in_the_chart(spec, capsys):
    run(["figures", str(spec)])
    out = " ".join(capsys.readouterr().out.split())
    assert "! The strip opens to only 12 3/16 in (31.1 cm) but must stretch over 14 3/16 in (36.0 cm):" in out


def test_one_piece_needs_no_list(tmp_path, capsys):
    run(["figures", str(written(spec(CREW, **TOP), tmp_path))])
    assert "To cut:" not in capsys.readouterr().out


IN_SIZES = spec(
    piece("Neckband", "5/8 in", neckline(table(S=7, M=7.25, L=7.75, XL=7.75), "4 in"), fabric="rib"),
    piece("Hem band", "2 in", straight(table(S=35, M=36, L=37, XL=38)), cut="full-loop", ratio="80 %"),
    title="Sample top",
    sizes=["S", "M", "L", "XL"],
    fabrics={"rib": table(stretch="80 %", width="40 in")},
)


@pytest.fixture
def in_sizes(tmp_path: Path) -> str:
    return str(written(IN_SIZES, tmp_path))


def test_several_sizes_give_a_row_each_with_a_flag_at_what_is_out_of_line(in_sizes, capsys) -> None:
    assert run(["figures", in_sizes]) == 0
    out = capsys.readouterr().out
    lines = out.splitlines()
    assert max(len(line) for line in lines) <= 79
    head = lines.index("Neckband: folded band, rib, cut 1 on fold")
    assert lines[head + 1].split() == ["size", "edge", "cut", "length", "cut", "width", "of", "edge"]
    assert [line.split()[0] for line in lines[head + 2 : head + 6]] == ["S", "M", "L", "XL"]
    assert [line.endswith("!") for line in lines[head + 2 : head + 6]] == [False, False, True, False]
    # 80 % of 36 in with two end seams of 1/4 in are 29.3 in, and twice the rounded half of that is 29 1/4 in
    assert "M 36 in (91.4 cm) 29¼ in (74.4 cm) 4½ in (11.4 cm) 80 %" in [" ".join(line.split()) for line in lines]
    text = " ".join(out.split())
    assert "front half in the spec is M 7¼ in (18.4 cm), L 7¾ in (19.7 cm), XL 7¾ in (19.7 cm)." in text
    assert "Its steps are ½ in and 0 in, and the sizes around it have ¼ in." in text
    assert "size M: rib, at least 1¾ in (4.5 cm) of its length" in text


def test_what_sizes_have_besides_their_lengths_is_told_once(tmp_path, capsys) -> None:
    buttons = table(count=5, first="1 in", last="1 in", diameter="1/2 in")
    edge = straight(table(S=22, M=22, L=26), after="4 in")
    front = piece("Front", "1 in", edge, closed=False, buttons=buttons, ratio="100 %")
    bound = piece(
        "Hem", "1/2 in", straight(table(S=20, M=20, L=30)), "double-fold-binding", fabric="lawn", cut_on="bias"
    )
    text = spec(front, bound, sizes=["S", "M", "L"], fabrics={"lawn": "12 %"})
    assert run(["figures", str(written(text, tmp_path))]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "S, M: 5 buttonholes, ⅝ in (1.6 cm) long, 5 in (12.7 cm) apart" in told
    assert "L: 5 buttonholes, ⅝ in (1.6 cm) long, 6 in (15.2 cm) apart" in told
    assert "all sizes: runs on by 4 in (10.2 cm) at one end, 1:1" in told
    assert "S, M: On the bias: in one continuous strip from a square of 7 in" in told
    assert "L: On the bias: in one continuous strip from a square of 9 in" in told


def test_one_size_is_shown_in_full(in_sizes, capsys) -> None:
    assert run(["figures", in_sizes, "--sizes", "L"]) == 0
    out = capsys.readouterr().out
    assert "Neckband, size L: folded band" in out
    assert "shoulder" in out
    assert "Out of line" in out


def test_json_has_an_entry_for_each_piece_and_size(in_sizes, capsys) -> None:
    assert run(["figures", in_sizes, "--json", "--sizes", "XL,S"]) == 0
    pieces = json.loads(capsys.readouterr().out)["pieces"]
    assert [(one["name"], one["size"]) for one in pieces] == [
        (name, size) for name in ("Neckband", "Hem band") for size in ("S", "XL")
    ]
