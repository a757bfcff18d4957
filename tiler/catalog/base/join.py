"""Our pages inside an existing pattern PDF.

The base is taken over whole and ours are put into it, since only so its catalog stays as
it is: outline, labels, layers, links, forms, attachments, metadata (ISO 32000-1, 7.7.2).
Its pages are neither scaled nor turned, and their content is not written anew.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from hashlib import sha256
from io import BytesIO
from typing import Any, BinaryIO

from pypdf import PdfReader, PdfWriter
from pypdf.generic import (
    ArrayObject,
    ByteStringObject,
    DecodedStreamObject,
    DictionaryObject,
    IndirectObject,
    NameObject,
    NumberObject,
    PdfObject,
    TextStringObject,
)

from tiler.catalog.base.copying import Copier, empty_writer, hang
from tiler.catalog.base.destinations import move_numbered
from tiler.catalog.base.forecast import Forecast, foresee
from tiler.catalog.base.labels import inserted, ranges
from tiler.catalog.base.layers import add_layers, called_as, names_for, said_of_layers, shared_switches, switch_off
from tiler.catalog.base.opening import Source, digest, reading
from tiler.catalog.base.outline import add_outline
from tiler.catalog.base.parts import take_in
from tiler.catalog.base.preferences import WISHES, contradicted, renumbered
from tiler.catalog.base.survey import Survey, survey
from tiler.catalog.trees import entry, form_fields, leaves, resolved
from tiler.declaration import FILE_NAME, Declaration, Host
from tiler.drawn import OUR_LAYERS, LayerNames
from tiler.errors import UnreadableError

ADBE_LEVEL = 3
"""Enforce belongs to this level of the extensions in a 1.7 file."""


@dataclass(frozen=True)
class Base:
    """A pattern PDF that our pages may join: what it holds, and what becomes of it; ``digest`` is its sha256."""

    source: Source
    digest: bytes
    survey: Survey
    forecast: Forecast
    layers: LayerNames = OUR_LAYERS

    @property
    def host(self) -> Host:
        """Where our pages are to stand."""
        return Host(self.forecast.after, len(self.survey.pages) - self.forecast.after)


def joinable(
    source: Source,
    after: int | None = None,
    accept: Collection[str] = (),
    sizes: Sequence[str] = (),
    own_layers: bool = False,
) -> Base:
    """Return the base that our pages are to follow behind its page ``after`` (None: its last, 0: in front).

    Its layers that are called as our ``sizes`` switch ours too, unless we have ``own_layers``.

    Raises what :func:`survey` and :func:`foresee` raise.
    """
    surveyed = survey(source)
    names = names_for(surveyed.layers, sizes, own_layers)
    shared, apart = said_of_layers(surveyed.layers, sizes, names)
    forecast = foresee(surveyed, after, accept)
    forecast = replace(forecast, changed=(*forecast.changed, *shared, *apart))
    return Base(source, digest(source), surveyed, forecast, names)


def join(base: Base, ours: bytes, declaration: Declaration, out: BinaryIO, hidden: Collection[str] = ()) -> None:
    """Write the longer file, with our pages, of which ``declaration`` says what they hold; same input, same bytes.

    They are drawn for its ``host`` and ``layers``.  Layers of the base for the ``hidden`` sizes are switched off.

    Raises :class:`UnreadableError` for a base that is another by now.
    """
    after, count = base.forecast.after, len(base.survey.pages)
    declaration = replace(declaration, host=base.host)
    _refuse_changed(base)
    with reading(base.source) as reader:
        writer = empty_writer()
        copier = Copier(reader, writer)
        _take_catalog(reader, writer, copier)
    _refuse_changed(base)
    source = PdfReader(BytesIO(ours))
    root, theirs = writer.root_object, source.root_object
    if base.forecast.unsigned:
        _take_signatures_out(root)
    _settle_boxes(copier.pages)
    move_numbered(root, copier.pages, after, len(source.pages))
    added = Copier(source, writer, shared_switches(root, theirs))
    hang(entry(root, "/Pages"), [*copier.pages[:after], *added.pages, *copier.pages[after:]])
    root[NameObject("/PageLabels")] = inserted(
        ranges(entry(root, "/PageLabels")),
        count,
        [(start, added.copy(label)) for start, label in ranges(entry(theirs, "/PageLabels"))],
        len(source.pages),
        after,
    )
    title = f"{declaration.title}: pieces"
    add_layers(root, resolved(added.copy(entry(theirs, "/OCProperties"))), title)
    switch_off(root, called_as(base.survey.layers, hidden))
    add_outline(writer, theirs, title, added)
    _attach(writer, added, theirs, declaration)
    take_in(copier.pages, added.pages, after)
    _ask_viewers(root, theirs, base, len(added.pages))
    writer.pdf_header = f"%PDF-{max(base.survey.version, '1.7')}"
    _identify(writer, base.digest, ours)
    writer.write(out)


def _refuse_changed(base: Base) -> None:
    if digest(base.source) != base.digest:
        raise UnreadableError("the base was changed after it was looked at; run again when nothing writes to it")


def _take_catalog(reader: PdfReader, writer: PdfWriter, copier: Copier) -> None:
    """Take over the catalog with all that it leads to, information and identifier."""
    root = DictionaryObject()
    writer._add_object(root)
    for key in reader.root_object:
        if key != "/Pages":
            root[NameObject(key)] = copier.copy(reader.root_object.raw_get(key))
    root[NameObject("/Pages")] = writer._add_object(DictionaryObject())
    writer._root_object = root
    if isinstance(entry(reader.trailer, "/Info"), DictionaryObject):
        held = copier.copy(reader.trailer.raw_get("/Info"))
        writer._info_obj = held if isinstance(held, IndirectObject) else writer._add_object(held)
    writer._ID = resolved(copier.copy(entry(reader.trailer, "/ID")))


def _settle_boxes(pages: Sequence[IndirectObject]) -> None:
    """Write boxes directly at their pages: some print filters follow no reference."""
    for reference in pages:
        page = resolved(reference)
        for key in ("/MediaBox", "/CropBox"):
            box = page.raw_get(key) if key in page else None
            if isinstance(box, IndirectObject) or any(isinstance(side, IndirectObject) for side in box or ()):
                page[NameObject(key)] = ArrayObject([resolved(side) for side in resolved(box)])


def _take_signatures_out(root: DictionaryObject) -> None:
    root.pop("/Perms", None)
    root.pop("/DSS", None)
    form = entry(root, "/AcroForm")
    if form is None:
        return
    form.pop("/SigFlags", None)
    for field, kind in form_fields(form):
        if kind == "/Sig":
            field.pop("/V", None)


def _attach(writer: PdfWriter, copier: Copier, theirs: DictionaryObject, declaration: Declaration) -> None:
    """Put our attachments among those of the base, sorted by name as the tree wants them (7.9.6)."""
    root = writer.root_object
    held = leaves(entry(root, "/Names", "/EmbeddedFiles"), "/Names")
    attached = [(key, value) for key, value in held if isinstance(resolved(key), ByteStringObject | TextStringObject)]
    for key, value in leaves(entry(theirs, "/Names", "/EmbeddedFiles"), "/Names"):
        if key != FILE_NAME:
            attached.append((key, copier.copy(value)))
    attached.append((TextStringObject(FILE_NAME), _specification(writer, declaration)))
    attached.sort(key=lambda pair: _bytes(pair[0]))
    if entry(root, "/Names") is None:
        root[NameObject("/Names")] = DictionaryObject()
    tree = DictionaryObject({NameObject("/Names"): ArrayObject([one for pair in attached for one in pair])})
    entry(root, "/Names")[NameObject("/EmbeddedFiles")] = writer._add_object(tree)


def _bytes(key: Any) -> bytes:
    name = resolved(key)
    return bytes(name) if isinstance(name, ByteStringObject) else bytes(name.original_bytes)


def _specification(writer: PdfWriter, declaration: Declaration) -> IndirectObject:
    stream = DecodedStreamObject()
    stream.set_data(declaration.to_bytes())
    stream[NameObject("/Type")] = NameObject("/EmbeddedFile")
    file = writer._add_object(stream.flate_encode())
    name = TextStringObject(FILE_NAME)
    entries: dict[str, PdfObject] = {
        "/Type": NameObject("/Filespec"),
        "/F": name,
        "/UF": name,
        "/EF": DictionaryObject({NameObject("/F"): file, NameObject("/UF"): file}),
    }
    return writer._add_object(DictionaryObject({NameObject(key): value for key, value in entries.items()}))


def _ask_viewers(root: DictionaryObject, theirs: DictionaryObject, base: Base, count: int) -> None:
    """Ask for what our pages need, where the base has not decided otherwise."""
    held = DictionaryObject(entry(root, "/ViewerPreferences") or {})
    held.pop("/PrintPageRange", None)
    if base.survey.printed_runs is not None:
        held[NameObject("/PrintPageRange")] = renumbered(base.survey.printed_runs, base.forecast.after, count)
    asked = {f"/{key}" for key in WISHES if key not in contradicted(base.survey.preferences)}
    for key, value in entry(theirs, "/ViewerPreferences").items():
        if key in asked:
            held[NameObject(key)] = value
    if held.get("/PrintScaling") == "/None":
        enforced = [one for one in entry(held, "/Enforce") or () if one != "/PrintScaling"]
        held[NameObject("/Enforce")] = ArrayObject([*enforced, NameObject("/PrintScaling")])
        if base.survey.version < "2.0":
            _declare_extension(root)
    root[NameObject("/ViewerPreferences")] = held


def _declare_extension(root: DictionaryObject) -> None:
    extensions = DictionaryObject(entry(root, "/Extensions") or {})
    if int(entry(extensions, "/ADBE", "/ExtensionLevel") or 0) < ADBE_LEVEL:
        level = {
            NameObject("/BaseVersion"): NameObject("/1.7"),
            NameObject("/ExtensionLevel"): NumberObject(ADBE_LEVEL),
        }
        extensions[NameObject("/ADBE")] = DictionaryObject(level)
    root[NameObject("/Extensions")] = extensions


def _identify(writer: PdfWriter, base: bytes, ours: bytes) -> None:
    """Keep the lasting identifier and give a new one to this state of the file (14.4), the same for the same input."""
    state = ByteStringObject(sha256(base + sha256(ours).digest()).digest()[:16])
    lasting = writer._ID[0] if writer._ID else state
    writer._ID = ArrayObject([lasting, state])
