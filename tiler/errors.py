"""What can go wrong, and the exit code that says so.

Every expected fault is a :class:`TilerError` that carries its exit code and one
sentence: what, where, what to do next.  The place is a record beside the reason, and
``str`` puts both together.  One boundary (``tiler.commands``) turns
it into text on stderr, or into JSON, and into the code.  Code 1 is never used:
a crash must not look like a verdict.
"""

from __future__ import annotations

from enum import IntEnum
from typing import Self

from tiler.sentence import Place


class ExitCode(IntEnum):
    """The exit codes of every command."""

    OK = 0
    USAGE = 2
    OFF_SCALE = 3
    NOTHING_TO_MEASURE = 4
    UNREADABLE = 5
    ENCRYPTED = 6
    CANNOT_WRITE = 7
    FAILED_OWN_PROOF = 8
    INTERRUPTED = 130


class TilerError(Exception):
    """A fault with one sentence for the person and an exit code for the shell.

    ``why`` is the reason; ``place`` says what it is about, where that is a place in a file or an option.
    """

    code: ExitCode = ExitCode.USAGE

    def __init__(self, why: str = "", place: Place | None = None) -> None:
        """Take the reason and its place."""
        super().__init__(why, place)
        self.why = why
        self.place = place

    def __str__(self) -> str:
        """Write the sentence: place, reason, and the size where one is known."""
        if self.place is None:
            return self.why
        where, size = str(self.place), self.place.size
        return f"{where}{': ' if where else ''}{self.why}{f' (size {size})' if size else ''}"

    def at(self, place: Place) -> Self:
        """Return the same fault at this place; one that has a place already is all its reason."""
        return type(self)(self.why if self.place is None else str(self), place)

    def at_size(self, size: str | None) -> Self:
        """Return the same fault of a piece that is read for one size."""
        return type(self)(self.why, (self.place or Place("")).at_size(size))


class SpecError(TilerError):
    """The spec, or an option, asks for something that cannot be made."""

    code = ExitCode.USAGE


class LengthError(SpecError):
    """A text is not a length, an angle or a percentage that can be used."""


class OffScaleError(TilerError):
    """The drawing is not true to scale, so its lengths are not believed."""

    code = ExitCode.OFF_SCALE


class NothingToMeasureError(TilerError):
    """The PDF holds neither a test square nor a ruler line."""

    code = ExitCode.NOTHING_TO_MEASURE


class UnreadableError(TilerError):
    """The file cannot be read, is not a PDF, or exceeds a limit."""

    code = ExitCode.UNREADABLE


class EncryptedError(TilerError):
    """The PDF needs a password."""

    code = ExitCode.ENCRYPTED


class CannotWriteError(TilerError):
    """The output cannot be written, or stands there already."""

    code = ExitCode.CANNOT_WRITE


class FailedProofError(TilerError):
    """The new file failed its own proof and was not put in place."""

    code = ExitCode.FAILED_OWN_PROOF
