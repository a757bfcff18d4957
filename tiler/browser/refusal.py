"""What the page does not answer, as a sentence with the number that browsers know."""

from __future__ import annotations

from tiler.errors import TilerError


class RefusedError(TilerError):
    """A request that gets no answer, or none any more; ``status`` is that of HTTP."""

    status = 403


class GoneError(RefusedError):
    """A page that is not there."""

    status = 404
