"""The layers of a file with sizes: one for each, and which of them are switched off."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tiler.declaration import Declaration
from tiler.languages.words import Words
from tiler.proof.compare.left_out import LeftOut
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.seen.page import PageSeen
from tiler.reading.pdf.layers import Layers


def declared_layers(declaration: Declaration) -> list[str]:
    """Return the layers that the sizes of a file need, one for each size."""
    sizes = dict.fromkeys(piece.size for piece in declaration.pieces if piece.size is not None)
    return [declaration.layers.of(size) for size in sizes]


def switched_off(declaration: Declaration | None, layers: Layers) -> list[str]:
    """Return the layers of sizes that are not shown when the file is opened.

    A person may have switched off what is not sewn; then every size is proved with its layer on.
    """
    return [name for name in declared_layers(declaration) if name in layers.off] if declaration else []


def compare_layers(
    declaration: Declaration, layers: Layers, seen: Sequence[PageSeen], pages: int, left: LeftOut
) -> Iterator[Check]:
    """Compare the layers of a file with the sizes that it states; those of other pages are the matter of these."""
    wanted = declared_layers(declaration)
    known = {*wanted, declaration.layers.all_sizes} if wanted else set()
    # of a pattern whose pages were taken out again there may be layers left, which nothing is on
    alone = len({page.number for page in seen}) == pages and declaration.host is None
    for page in seen:
        for name in sorted({*page.carried.layers} - known):
            yield Check(CheckName.LAYERS, Status.FAIL, Says.LAYER_UNDECLARED, page.number, label=name)
    for name in sorted({*layers.names} - known) if alone else ():
        yield Check(CheckName.LAYERS, Status.FAIL, Says.LAYER_ADDED, label=name)
    for name, what in layers.conditions:
        if name in known or alone:
            says = Says.LAYER_CONDITION if name else Says.LAYERS_CONDITION
            yield Check(CheckName.LAYERS, Status.FAIL, says, label=name, numbers={"what": Words(what)})
    needed = {declaration.layers.of(piece.size) for piece in declaration.pieces if piece not in left.pieces}
    lost = [name for name in wanted if layers.names.count(name) != 1 and (name in needed or name in layers.names)]
    # one switch for two sizes shows both or none
    lost += [name for name in wanted if wanted.count(name) > 1 or name == declaration.layers.all_sizes]
    for name in lost:
        numbers = {"count": layers.names.count(name)}
        yield Check(CheckName.LAYERS, Status.FAIL, Says.LAYER_COUNTED, label=name, numbers=numbers)
    off = switched_off(declaration, layers)
    if off:
        yield Check(CheckName.LAYERS, Status.WARN, Says.LAYERS_OFF, label=", ".join(off))
    if wanted and not lost:
        yield Check(CheckName.LAYERS, Status.PASS, Says.LAYERS_KEPT, numbers={"count": len(wanted)})
