"""What a reviewer takes into other programs: tables of the stations, and an input deck for finite elements."""

from __future__ import annotations

from ...rig import Rig

FORMATS = ("csv", "json", "inp")


def export(rig: Rig, *, to: str, case: str | None = None) -> str:
    """Return a rig, worked out, in a form for other programs.

    Parameters
    ----------
    rig : Rig
        As read from a rig file.
    to : str
        One of ``FORMATS``.
    case : str, optional
        Name of the only case to give.

    Returns
    -------
    str
        The whole text of the file.

    Raises
    ------
    NoSuchCaseError
        If there is no case of that name.
    RigInputError
        If the rig asks a formula for a value it does not have.
    ValueError
        If there is no such format.

    Notes
    -----
    ``csv`` and ``json`` are in SI, a row or a list to the heights of the stations. ``inp`` is a beam model in the
    keyword format of open finite-element programs, a step to a case; the deck itself tells what may be read from it.

    Examples
    --------
    >>> from rigcalc import export, read_rig, starter_text
    >>> text = export(read_rig(starter_text()), to="csv")
    >>> text.startswith("#")
    True
    """
    if to == "inp":
        from .deck import deck_of
        from .deck_text import deck_text

        return deck_text(deck_of(rig, case=case))
    from .csv_file import table_csv
    from .json_file import table_json
    from .table import table_of

    if to not in FORMATS:
        raise ValueError(f"no such format: {to}")
    table = table_of(rig, case=case)
    return table_csv(table) if to == "csv" else table_json(table)


__all__ = ["FORMATS", "export"]
