"""What can go wrong, and the exit code that says so.

Every expected fault is a :class:`TilerError` that carries its exit code and one
sentence: what, where, what to do next.  One boundary (``tiler.commands``) turns
it into text on stderr, or into JSON, and into the code.  Code 1 is never used:
a crash must not look like a verdict.
"""

from __future__ import annotations

from enum import IntEnum


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
    """A fault with one sentence for the person and an exit code for the shell."""

    code: ExitCode = ExitCode.USAGE


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
    """The file cannot be read, is no PDF, or exceeds a limit."""

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
