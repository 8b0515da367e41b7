"""What a sheet was worked out from: the version, and a digest of the rig file that tells whether it is still that."""

from __future__ import annotations

from ..version import __version__


def digest_of(raw: bytes) -> str:
    """Return the SHA-256 of a rig file as it stands on the disk."""
    import hashlib

    return hashlib.sha256(raw).hexdigest()


def origin(raw: bytes | None, *, of: str = "input sha256") -> str:
    """Return version and the head of the digest in one line, as it stands at the foot of sheets.

    Parameters
    ----------
    raw : bytes or None
        The file; None where the rig was not read from one.
    of : str
        What the digest is called.
    """
    return f"rigcalc {__version__}{'' if raw is None else f', {of} {digest_of(raw)[:12]}'}"
