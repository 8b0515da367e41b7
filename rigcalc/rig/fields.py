"""How a field of the rig file is described: once, for the reader, the schema and the starter file alike.

A description sits in the metadata of a dataclass field. The key in the rig file is the field's name
without its unit: ``diameter_m`` is written ``diameter = "90 mm"``.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import MISSING, Field, field, fields
from typing import Any

from ..frozen import dataclass

MOST_MONEY = 1e9
"""Beyond this a price is nonsense in any money."""


@dataclass(frozen=True)
class Spec:
    """What every description has.

    Parameters
    ----------
    help : str
        What the field is, in the builder's words.
    default_from : str
        Where the default comes from; needed wherever a default carries a number or a choice.
    only : tuple of str
        Kinds of case that read the field; empty when all do.
    when : tuple of (callable, str), optional
        Whether the field is read, from the table it stands in, and how a reader would put that.
    needed : (callable, str), optional
        Of a field with a default: when the file must give it all the same, told like `when`.
    key : str
        Key in the rig file, where it is not the field's name without its unit.
    """

    help: str
    default_from: str = ""
    only: tuple[str, ...] = ()
    when: tuple[Callable[[Any], bool], str] | None = None
    needed: tuple[Callable[[Any], bool], str] | None = None
    key: str = ""


@dataclass(frozen=True)
class Quantity(Spec):
    """A number with a unit, written as a string such as ``"4 mm"``; unit ``1`` may be bare or in %.

    ``above``/``at_least``/``at_most`` are the bounds of sense; ``sane`` is the band beyond which a
    slip of unit is far likelier than the value.
    """

    unit: str = "1"
    above: float | None = None
    at_least: float | None = None
    at_most: float | None = None
    sane: tuple[float, float] | None = None


@dataclass(frozen=True)
class Whole(Spec):
    """A whole number."""

    at_least: int = 0
    at_most: int = 10_000


@dataclass(frozen=True)
class Text(Spec):
    """Free text of one line."""


@dataclass(frozen=True)
class Texts(Spec):
    """A list of texts, ``["...", "..."]``."""


@dataclass(frozen=True)
class Choice(Spec):
    """One of a few names.

    Parameters
    ----------
    options : mapping
        Name -> what it means.
    """

    options: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Curve(Spec):
    """Pairs of quantities, ``[["0 deg", "0 m"], ["30 deg", "0.26 m"]]``."""

    units: tuple[str, str] = ("m", "m")
    least: int = 2
    strict: bool = True
    """Whether the first column must grow; otherwise two equal entries make a step."""
    ordered: bool = True
    """Whether the first column must be in order at all; the corners of a sail are not."""
    sane: tuple[tuple[float, float] | None, tuple[float, float] | None] = (None, None)
    """Band of each column beyond which a slip is far likelier."""
    most: int = 500


@dataclass(frozen=True)
class Heights(Spec):
    """A list of heights, ``["1.2 m", "2.0 m"]``, growing."""

    most: int = 200


@dataclass(frozen=True)
class Angles(Spec):
    """A list of angles, ``["0 deg", "45 deg"]``, in any order."""


@dataclass(frozen=True)
class Shares(Spec):
    """Names with a share from 0 to 1, ``{main = 1.0}``."""


@dataclass(frozen=True)
class Table(Spec):
    """A table of its own."""

    of: type[Any] = object


@dataclass(frozen=True)
class Tables(Spec):
    """Tables that may repeat.

    ``most`` lies beyond any rig, and bounds what a file can ask to be worked out.
    """

    of: type[Any] = object
    least: int = 0
    most: int = 100


def described(spec: Spec, *, default: Any = MISSING) -> Any:
    """Return a dataclass field that carries ``spec``; without a default it is required."""
    return field(default=default, metadata={"spec": spec})


def spec_of(entry: Field[Any]) -> Spec:
    """Return the description of a dataclass field."""
    spec = entry.metadata["spec"]
    assert isinstance(spec, Spec)
    return spec


def key_of(entry: Field[Any]) -> str:
    """Return the key a field has in the rig file."""
    spec = spec_of(entry)
    if spec.key:
        return spec.key
    if isinstance(spec, Heights | Angles):
        return entry.name.removesuffix("_m").removesuffix("_rad")
    if isinstance(spec, Quantity) and spec.unit != "1":
        return entry.name.removesuffix("_" + spec.unit.replace(" ", "_").replace("/", "_"))
    return entry.name


def described_fields(table: type[Any]) -> dict[str, Field[Any]]:
    """Return key -> field for everything of a table that may stand in a rig file."""
    return {key_of(entry): entry for entry in fields(table) if "spec" in entry.metadata}


def is_read(entry: Field[Any], table: Any) -> bool:
    """Whether a field of a table plays a part, given the table's other fields."""
    spec = spec_of(entry)
    return (not spec.only or table.kind in spec.only) and (spec.when is None or spec.when[0](table))


def is_needed(entry: Field[Any], table: Any) -> bool:
    """Whether the file must give a field that has a default, given the table's other fields."""
    spec = spec_of(entry)
    return spec.needed is not None and spec.needed[0](table)


def is_required(entry: Field[Any]) -> bool:
    """Whether the rig file must give the field."""
    return entry.default is MISSING
