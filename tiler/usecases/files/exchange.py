"""Two names that change places at once: neither is ever missing.  Linux and macOS have a call for it, others not.

renameat2(2) with RENAME_EXCHANGE, renameatx_np(2) with RENAME_SWAP: two names of one form, and the same flag.
"""

from __future__ import annotations

import ctypes
import errno
import os

from tiler.usecases.files.held import Held

_CALLS = ("renameat2", "renameatx_np")
_EXCHANGE = 2
_CANNOT = (errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EOPNOTSUPP, errno.EPERM)
"""What the system answers where the file system does not know how to."""


def exchanged(folder: Held, one: str, other: str) -> bool:
    """Let two names of a folder change places; tell whether system and file system can. Raises ``OSError``."""
    if folder.handle is None:
        return False
    library = ctypes.CDLL(None, use_errno=True)
    call = next((getattr(library, name) for name in _CALLS if hasattr(library, name)), None)
    if call is None:
        return False
    if call(folder.handle, os.fsencode(one), folder.handle, os.fsencode(other), ctypes.c_uint(_EXCHANGE)) == 0:
        return True
    number = ctypes.get_errno()
    if number in _CANNOT:
        return False
    raise OSError(number, os.strerror(number), one)
