"""One layer for each size, and one for what all share (optional content, ISO 32000-1, 8.11).

What some sizes share shows while any of them does (a membership, 8.11.2.2).  A layer has no
state for the screen and none for the printer of its own: what is switched off is not printed,
and what is to be seen is.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import chain

from pypdf import PdfWriter
from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject, NameObject, TextStringObject

from tiler.catalog.trees import entry

FORM = "/FormXob."
"""The library that draws the pages puts this before the name of a form."""


def layer_forms(writer: PdfWriter, layers: Mapping[str, Sequence[str]]) -> None:
    """Put forms on layers; ``layers`` gives those of each form by its name, in the order to be listed."""
    groups: dict[str, IndirectObject] = {}
    for name in chain.from_iterable(layers.values()):
        if name not in groups:
            group = DictionaryObject(
                {NameObject("/Type"): NameObject("/OCG"), NameObject("/Name"): TextStringObject(name)}
            )
            groups[name] = writer._add_object(group)
    shown = {form: _shown(writer, [groups[name] for name in names]) for form, names in layers.items()}
    for page in writer.pages:
        forms = entry(entry(page, "/Resources"), "/XObject") or {}
        for form, content in shown.items():
            if FORM + form in forms:
                forms[FORM + form].get_object()[NameObject("/OC")] = content
    order = ArrayObject(groups.values())
    configuration = DictionaryObject(
        {
            NameObject("/Name"): TextStringObject("Sizes"),
            NameObject("/BaseState"): NameObject("/ON"),
            NameObject("/Order"): order,
            NameObject("/ListMode"): NameObject("/AllPages"),
        }
    )
    properties = DictionaryObject({NameObject("/OCGs"): ArrayObject(groups.values()), NameObject("/D"): configuration})
    writer.root_object[NameObject("/OCProperties")] = properties


def _shown(writer: PdfWriter, groups: Sequence[IndirectObject]) -> IndirectObject:
    """Return what shows with one layer, or with any of several."""
    if len(groups) == 1:
        return groups[0]
    kind, policy = NameObject("/OCMD"), NameObject("/AnyOn")
    membership = {NameObject("/Type"): kind, NameObject("/OCGs"): ArrayObject(groups), NameObject("/P"): policy}
    return writer._add_object(DictionaryObject(membership))
