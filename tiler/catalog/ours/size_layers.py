"""One layer for each size, and one for the words that all share (optional content, ISO 32000-1, 8.11).

A layer has no state for the screen and none for the printer of its own: what is
switched off is not printed, and what is to be seen is.
"""

from __future__ import annotations

from collections.abc import Mapping

from pypdf import PdfWriter
from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject, NameObject, TextStringObject

from tiler.catalog.trees import entry

FORM = "/FormXob."
"""The library that draws the pages puts this before the name of a form."""


def layer_forms(writer: PdfWriter, layers: Mapping[str, str]) -> None:
    """Put forms on layers; ``layers`` gives the layer by the name of the form, in the order to be listed."""
    groups: dict[str, IndirectObject] = {}
    for name in layers.values():
        if name not in groups:
            group = DictionaryObject(
                {NameObject("/Type"): NameObject("/OCG"), NameObject("/Name"): TextStringObject(name)}
            )
            groups[name] = writer._add_object(group)
    for page in writer.pages:
        forms = entry(entry(page, "/Resources"), "/XObject") or {}
        for form, layer in layers.items():
            if FORM + form in forms:
                forms[FORM + form].get_object()[NameObject("/OC")] = groups[layer]
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
