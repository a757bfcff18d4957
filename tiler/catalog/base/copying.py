"""Objects of one PDF taken into another as they are.

The library's own clone follows every reference by recursion, and links that lead from
page to page make chains as long as the file: a few hundred pages end it.  Here what is
referred to waits in a queue.  Streams are taken as they are stored, undecoded.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from pypdf import PageObject, PdfReader, PdfWriter
from pypdf.generic import (
    ArrayObject,
    DictionaryObject,
    IndirectObject,
    NameObject,
    NullObject,
    NumberObject,
    StreamObject,
)

from tiler.catalog.trees import resolved

Key = tuple[int, int]
"""Number and generation of an object."""


def empty_writer() -> PdfWriter:
    """Return a writer that holds nothing, not even an author."""
    writer = PdfWriter()
    writer.metadata = None
    writer._objects.clear()
    return writer


class Copier:
    """Takes objects of one reader into a writer, each once."""

    def __init__(
        self, reader: PdfReader, writer: PdfWriter, instead: Mapping[Key, IndirectObject] = MappingProxyType({})
    ) -> None:
        """Take over the pages of the reader, with what they inherit (ISO 32000-1, 7.7.3.4).

        For each object of the reader that is named in ``instead`` one of the writer stands.
        """
        self._reader = reader
        self._writer = writer
        self._taken: dict[Key, IndirectObject] = dict(instead)
        self._waiting: deque[tuple[DictionaryObject | ArrayObject, DictionaryObject | ArrayObject]] = deque()
        self._inheriting: Mapping[Key, PageObject] = {
            (reference.idnum, reference.generation): page
            for page in reader.pages
            if (reference := page.indirect_reference) is not None
        }
        self.pages: list[IndirectObject] = []
        for page in reader.pages:
            copied = self.copy(page)
            self.pages.append(copied if isinstance(copied, IndirectObject) else writer._add_object(copied))

    def copy(self, value: Any) -> Any:
        """Return a value for the writer, and take along all that it refers to; what has a number stays a reference."""
        copied = self._copy(value)
        while self._waiting:
            self._fill(*self._waiting.popleft())
        return copied

    def _copy(self, value: Any) -> Any:
        reference = getattr(value, "indirect_reference", None)
        if reference is not None and reference.pdf is self._reader:
            return self._refer(reference)
        return self._started(value)

    def _refer(self, reference: IndirectObject) -> IndirectObject:
        key = (reference.idnum, reference.generation)
        if key not in self._taken:
            source = self._inheriting.get(key) or resolved(reference)
            # a reference to a missing object stands for null (7.3.10)
            target = NullObject() if source is None else self._started(source)
            self._writer._objects.append(target)
            self._taken[key] = IndirectObject(len(self._writer._objects), 0, self._writer)
            if isinstance(target, ArrayObject | DictionaryObject):
                target.indirect_reference = self._taken[key]
        return self._taken[key]

    def _started(self, value: Any) -> Any:
        if not isinstance(value, ArrayObject | DictionaryObject):
            return value
        target = _empty(value)
        self._waiting.append((value, target))
        return target

    def _fill(self, source: DictionaryObject | ArrayObject, target: DictionaryObject | ArrayObject) -> None:
        if isinstance(target, ArrayObject):
            target.extend(self._copy(item) for item in source)
            return
        assert isinstance(source, DictionaryObject)
        # The length is written anew and the page tree hung anew; both would drag objects along that nothing needs.
        left = "/Length" if isinstance(source, StreamObject) else "/Parent" if isinstance(source, PageObject) else ""
        for key in source:
            if key != left:
                target[NameObject(key)] = self._copy(source.raw_get(key))


def _empty(value: ArrayObject | DictionaryObject) -> ArrayObject | DictionaryObject:
    if isinstance(value, ArrayObject):
        return ArrayObject()
    if isinstance(value, StreamObject):
        stream = type(value)()
        stream._data = value._data
        return stream
    return DictionaryObject()


def hang(tree: DictionaryObject, pages: list[IndirectObject]) -> None:
    """Write the page tree (7.7.3.2) anew, flat: its pages have all that they inherited."""
    for page in pages:
        resolved(page)[NameObject("/Parent")] = tree.indirect_reference
    tree[NameObject("/Type")] = NameObject("/Pages")
    tree[NameObject("/Kids")] = ArrayObject(pages)
    tree[NameObject("/Count")] = NumberObject(len(pages))
