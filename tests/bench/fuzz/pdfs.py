"""PDFs that are made to hurt: small ones by hand, the rest damaged by a seed from whole ones."""

from __future__ import annotations

from collections.abc import Iterator

from tests.reading.hostile import content, hostile_files, one_page, pattern_in_itself, tree_in_itself


def by_hand() -> dict[str, bytes]:
    """Give files that hold up, blow up or take down a reader that is not careful, by name."""
    fonts = "/Resources<</Font<</F<</Type/Font/Subtype/Type3/FontBBox[0 0 1 1]/FontMatrix[1 0 0 1 0 0]"
    glyphs = "/CharProcs<</a 5 0 R>>/Encoding<</Differences[97/a]>>/FirstChar 97/LastChar 97/Widths[1]>>>>>>"
    in_itself = content("/F 1 Tf BT (aaaaaaaaaa) Tj ET")
    deep = "[" * 65_000 + "]" * 65_000
    function = "<</FunctionType 3/Domain[0 1]/Functions[5 0 R 5 0 R]/Bounds[.5]/Encode[0 1 0 1]>>"
    shading = (
        f"/Resources<</Shading<</S<</ShadingType 2/ColorSpace/DeviceGray/Coords[0 0 1 1]/Function {function}>>>>>>"
    )
    labels = " ".join(f"{number}<</S/R/St 999999999>>" for number in range(50))
    return {
        **{name: data for name, (_, data) in hostile_files().items()},
        "pattern": pattern_in_itself(),
        "tree of prefixes": one_page(f"/PageLabels<</Nums[{labels}]>>", ""),
        "tree of preferences": tree_in_itself("/ViewerPreferences<</A 4 0 R/B 4 0 R>>"),
        "nested in the catalog": one_page(f"/X {deep}", ""),
        "nested in a page": one_page("", f"/X {deep}"),
        "nested in content": one_page("", "/Contents 4 0 R", content("[" * 130_000)),
        "nested tables": one_page("", "/Contents 4 0 R", content("<<" * 65_000)),
        "glyph of itself": one_page("", f"{fonts}{glyphs}/Contents 4 0 R", in_itself, in_itself),
        "function of itself": one_page("", f"{shading}/Contents 4 0 R", content("/S sh"), function),
        "many states": one_page("", "/Contents 4 0 R", content("q " * 200_000)),
        "many dashes": one_page("", "/Contents 4 0 R", content("[.0001] 0 d 9 w 0 0 m 600 700 l S " * 50)),
        "many clips": one_page("", "/Contents 4 0 R", content("0 0 600 700 re W n " * 20_000)),
        "wide line": one_page("", "/Contents 4 0 R", content("1e30 w 0 0 m 1e30 1e30 l S 2 w 1e-30 0 m 9 9 l S")),
        "picture of nothing": one_page(
            "",
            "/Resources<</XObject<</I 5 0 R>>>>/Contents 4 0 R",
            content("600 0 0 700 0 0 cm /I Do"),
            content("", "/Subtype/Image/Width 60000/Height 60000/BitsPerComponent 8/ColorSpace/DeviceRGB"),
        ),
    }


def pdfs(count: int, wholes: list[bytes]) -> Iterator[bytes]:
    """Yield so many files, those by hand first."""
    from tests.bench.damage import damaged

    hand = by_hand()
    yield from hand.values()
    for seed in range(70_000, 70_000 + count - len(hand)):
        yield damaged(wholes, seed)[1]
