"""Frozen dataclasses that cost next to nothing to define.

``dataclasses.dataclass(frozen=True)`` writes and compiles six methods for every class when its module is loaded. For
the two hundred records behind one check that took longer than importing numpy, and numpy is what a check may cost
to start. So the standard library still makes the fields here, but not before they are looked up, and writes nothing:
one method of each kind serves all records, and a class gets an ``__init__`` of its own when that is looked at or
many records have been made. What comes out is a dataclass like any other: `fields`, `replace`, `asdict`, comparison,
hash, text and the refusal to change are those of the standard library, and `tests/test_frozen.py` holds them to it.

A record may derive from a record, not from a frozen dataclass of the standard library. That, or a field that cannot
be, is refused when the first record is made, not when the class is.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from functools import cached_property, partial
from typing import TYPE_CHECKING, Any, Final, NamedTuple, NoReturn

__all__ = ["dataclass"]

_OFTEN: Final = 20
"""Records of a class after which its own ``__init__`` is worth writing: before, one that serves all is faster."""
_KEPT: Final = "__record__"


class _Entry(NamedTuple):
    """What making a record must know of a field."""

    default: Any
    factory: Any
    kw_only: bool


class _Layout(NamedTuple):
    """The fields of a record in their order; those that may be given by place; what ends its making."""

    entries: dict[str, _Entry]
    plain: tuple[str, ...]
    finish: Callable[[Any], None] | None


class _Record:
    """What is kept of a class that is a record.

    Fields written with ``dataclasses.field`` are taken out of the class, which has their defaults then, as the
    standard library does; they go back in when that is to make the fields.
    """

    def __init__(self, owner: type[Any], kw_only: bool) -> None:
        self.owner, self.kw_only = owner, kw_only
        self.written = {name: one for name, one in vars(owner).items() if isinstance(one, dataclasses.Field)}
        for name, one in self.written.items():
            if one.default is dataclasses.MISSING:
                delattr(owner, name)
            else:
                setattr(owner, name, one.default)

    @cached_property
    def layout(self) -> _Layout:
        return _layout(self)

    def complete(self) -> None:
        """Let the standard library make the fields."""
        for name in _FILED:
            delattr(self.owner, name)
        for name, one in self.written.items():
            setattr(self.owner, name, one)
        dataclasses.dataclass(init=False, repr=False, eq=False, kw_only=self.kw_only)(self.owner)


class _Init:
    """Stands for the ``__init__`` of a record until that is worth writing."""

    def __init__(self, of: _Record) -> None:
        self.of, self.made = of, 0

    def __get__(self, record: object, kind: type[Any] | None = None) -> Any:
        owner, layout = self.of.owner, self.of.layout
        self.made += 1
        if record is not None and self.made < _OFTEN:
            return partial(_filled, owner.__qualname__, layout, record)
        owner.__init__ = written = _written_init(owner, layout)
        return written if record is None else written.__get__(record, kind)


def _layout(record: _Record) -> _Layout:
    """Read the fields of a record off its class, as the standard library does, and refuse what cannot be one."""
    cls = record.owner
    entries: dict[str, _Entry] = {}
    for base in cls.__mro__[:0:-1]:
        if isinstance(above := vars(base).get(_KEPT), _Record):
            entries |= above.layout.entries
    for name, kind in vars(cls).get("__annotations__", {}).items():
        if str(kind).removeprefix("typing.").startswith("ClassVar"):
            continue
        given = record.written.get(name)
        if given is None:
            default = vars(cls).get(name, dataclasses.MISSING)
            entries[name] = _Entry(default, dataclasses.MISSING, record.kw_only)
            continue
        if not given.init or given.hash is not None:
            raise TypeError(
                f"{cls.__name__}.{name}: a field here is given when the record is made, and counts"
            )
        alone = record.kw_only if given.kw_only is dataclasses.MISSING else given.kw_only
        entries[name] = _Entry(given.default, given.default_factory, alone)
    before = None
    for name, entry in entries.items():
        if entry.kw_only:
            continue
        if entry.default is not dataclasses.MISSING or entry.factory is not dataclasses.MISSING:
            before = name
        elif before is not None:
            raise TypeError(f"{cls.__name__}: {name!r} without a default follows {before!r} with one")
    plain = tuple(name for name, entry in entries.items() if not entry.kw_only)
    return _Layout(entries, plain, getattr(cls, "__post_init__", None))


def _filled(name: str, layout: _Layout, record: Any, /, *values: Any, **given: Any) -> None:
    """Make a record of any class."""
    if len(values) > len(layout.plain):
        most = len(layout.plain) + 1
        raise TypeError(
            f"{name}.__init__() takes {most} positional arguments but {len(values) + 1} were given"
        )
    placed = dict(zip(layout.plain, values, strict=False))
    for word in given:
        if word not in layout.entries:
            raise TypeError(f"{name}.__init__() got an unexpected keyword argument {word!r}")
        if word in placed:
            raise TypeError(f"{name}.__init__() got multiple values for argument {word!r}")
    placed |= given
    kept, missing = record.__dict__, []
    for word, entry in layout.entries.items():
        if word in placed:
            kept[word] = placed[word]
        elif entry.default is not dataclasses.MISSING:
            kept[word] = entry.default
        elif entry.factory is not dataclasses.MISSING:
            kept[word] = entry.factory()
        else:
            missing.append(repr(word))
    if missing:
        raise TypeError(f"{name}.__init__() is missing {', '.join(missing)}")
    if layout.finish is not None:
        layout.finish(record)


_ABSENT: Final = object()


def _written_init(owner: type[Any], layout: _Layout) -> Any:
    """Write and compile ``__init__`` from the fields of a record."""
    names: dict[str, Any] = {"_absent": _ABSENT}
    plain: list[str] = []
    named: list[str] = []
    kept: list[str] = []
    for word, entry in layout.entries.items():
        value = word
        if entry.default is not dataclasses.MISSING:
            names[f"_default_{word}"] = entry.default
            given = f"{word}=_default_{word}"
        elif entry.factory is not dataclasses.MISSING:
            names[f"_make_{word}"] = entry.factory
            given, value = f"{word}=_absent", f"_make_{word}() if {word} is _absent else {word}"
        else:
            given = word
        (named if entry.kw_only else plain).append(given)
        kept.append(f"{word}={value}")
    words = ", ".join(["self", *plain, *(["*", *named] if named else [])])
    # straight into the dictionary of the record, past the refusal to change it
    text = f"def __init__({words}):\n self.__dict__.update({', '.join(kept)})"
    if layout.finish is not None:
        text += "\n self.__post_init__()"
    made: dict[str, Any] = {}
    exec(text, names, made)
    init = made["__init__"]
    init.__annotations__ = {entry.name: entry.type for entry in dataclasses.fields(owner)} | {"return": None}
    init.__qualname__, init.__module__ = f"{owner.__qualname__}.__init__", owner.__module__
    return init


def _shown(self: Any) -> str:
    told = ", ".join(
        f"{entry.name}={getattr(self, entry.name)!r}" for entry in dataclasses.fields(self) if entry.repr
    )
    return f"{type(self).__qualname__}({told})"


def _compared(record: Any) -> tuple[Any, ...]:
    return tuple(getattr(record, entry.name) for entry in dataclasses.fields(record) if entry.compare)


def _alike(self: Any, other: object) -> bool:
    return _compared(self) == _compared(other) if other.__class__ is self.__class__ else NotImplemented


def _hashed(self: Any) -> int:
    return hash(_compared(self))


def _not_set(self: Any, name: str, value: Any) -> NoReturn:
    raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")


def _not_deleted(self: Any, name: str) -> NoReturn:
    raise dataclasses.FrozenInstanceError(f"cannot delete field {name!r}")


class _Later:
    """Stands for what the standard library files on a record until any of it is first looked up."""

    def __init__(self, of: _Record, name: str) -> None:
        self.of, self.name = of, name

    def __get__(self, record: object, kind: type[Any] | None = None) -> Any:
        self.of.complete()
        return getattr(self.of.owner, self.name)


_FILED: Final = ("__dataclass_fields__", "__dataclass_params__", "__match_args__")
"""What the standard library files on a dataclass, beside its methods."""


def _frozen(cls: type[Any], *, eq: bool, kw_only: bool) -> type[Any]:
    methods = {"__repr__": _shown, "__setattr__": _not_set, "__delattr__": _not_deleted}
    if eq:
        methods |= {"__eq__": _alike, "__hash__": _hashed}
    own = vars(cls)
    for name, method in methods.items():
        # Python itself sets __hash__ to None beside an __eq__ of the class's own
        if name not in own or (name == "__hash__" and own[name] is None):
            setattr(cls, name, method)
    record = _Record(cls, kw_only)
    setattr(cls, _KEPT, record)
    for name in _FILED:
        setattr(cls, name, _Later(record, name))
    if "__init__" not in own:
        cls.__init__ = _Init(record)
    return cls


if TYPE_CHECKING:
    from dataclasses import dataclass
else:

    def dataclass(*, frozen: bool, eq: bool = True, kw_only: bool = False) -> Any:
        """Make a class a frozen dataclass, as that of the standard library does.

        Parameters
        ----------
        frozen : bool
            Always true: what may change takes `dataclass` from ``dataclasses``.
        eq : bool
            Whether two records are alike where their fields are; otherwise where they are one.
        kw_only : bool
            Whether the fields are given by name only.
        """
        if not frozen:
            raise TypeError("a record of rigcalc.frozen is frozen; take dataclass from dataclasses")
        return lambda cls: _frozen(cls, eq=eq, kw_only=kw_only)
