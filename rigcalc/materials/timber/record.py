"""What a timber design is asked for and what it answers: factors, chains, sizes, design values."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import replace
from itertools import pairwise
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from ...formulas import Value, record_of
from ...frozen import dataclass
from ..metals import MaterialError
from ..timber_tables import TableFactor, TimberProvenance, factor_rows

Basis = Literal["clear-wood", "EN 338"]
Section = Literal["solid round", "hollow round", "rectangle"]
Property = Literal[
    "bending", "tension", "compression", "compression_perp", "shear", "rolling_shear", "tension_perp",
    "E_true", "E_apparent", "E_05", "E_across", "G",
]  # fmt: skip
STRENGTHS: Final[tuple[Property, ...]] = (
    "bending", "tension", "compression", "compression_perp", "shear", "rolling_shear", "tension_perp",
)  # fmt: skip
STIFFNESSES: Final[tuple[Property, ...]] = ("E_true", "E_apparent", "E_05", "E_across", "G")

ROOM_DEGC: Final = 20.0
COLDEST_DEGC: Final = -50.0
STEEPEST_SCARF: Final = 1 / 5
BEST_SCARF: Final = 1 / 12
_SECTIONS: Final = ("solid round", "hollow round", "rectangle")


@dataclass(frozen=True, kw_only=True)
class Factor:
    """One step between a strength and what is allowed.

    Parameters
    ----------
    name, source : str
        What it allows for, and where it comes from.
    value : float or ndarray
        Multiplies the strength; of many masts laid end to end, by element where it goes by the size of the piece.
    provenance : {"read", "memory", "derived", "judgement"}
        Whether it was read, recalled, worked out here, or is the user's.
    on : tuple of str
        Properties it applies to, where it is handed in from outside.
    """

    name: str
    value: Value
    source: str
    provenance: TimberProvenance = "judgement"
    on: tuple[Property, ...] = STRENGTHS


@dataclass(frozen=True, kw_only=True)
class Chain:
    """One allowable value, from the strength in the table through every factor.

    Parameters
    ----------
    of : str
        Which property.
    start_Pa : float
        The value in the table.
    start_name, source, provenance : str
        What it is, where it was found, and whether it was read or recalled.
    factors : tuple of Factor
        In the order they are taken.
    """

    of: Property
    start_Pa: float
    start_name: str
    source: str
    provenance: TimberProvenance
    factors: tuple[Factor, ...]

    @property
    def value_Pa(self) -> Value:
        """What is allowed."""
        return self.start_Pa * math.prod(f.value for f in self.factors)


@dataclass(frozen=True, kw_only=True)
class Size:
    """Shape and size of the piece: what the size effects need.

    Parameters
    ----------
    section : {"solid round", "hollow round", "rectangle"}
        No credit is taken for a solid round (1.18 on bending, NDS, from memory); hand it in as a factor.
    depth_m : float or ndarray
        Largest diameter or depth; of many masts laid end to end, by element.
    span_m : float, optional
        Length of the centre-loaded beam with as much wood under stress: the whole mast, heel to tip.
    even_stress_m : float, optional
        How much of it is stressed nearly as highly as the worst place; all of it when not given, as a
        well tapered mast may be, which is the safe side.
    shear_length_m : float, optional
        Length under the greatest shear: the bury.
    """

    section: Section
    depth_m: Value
    span_m: float | None = None
    even_stress_m: float | None = None
    shear_length_m: float | None = None


@dataclass(frozen=True, kw_only=True)
class Use:
    """How the piece is used; the parameters are those of `design_timber`, and one more for clear wood.

    Parameters
    ----------
    hollow_form_factor : float, optional
        Share of a solid's bending strength, 0.5 to 1, that the edge of a hollow section bears. It crushes
        where this is not given.
    """

    moisture: float | None
    service_class: int | None
    load_duration: float | str | None
    slope_of_grain: float | None
    temperature_degC: float = ROOM_DEGC
    scarf_slope: float | None = None
    safety_factor: float | None = None
    factors: tuple[Factor, ...] = ()
    hollow_form_factor: float | None = None


@dataclass(frozen=True, kw_only=True)
class Timber:
    """Design values of one timber in one use, all on one basis.

    Parameters
    ----------
    density_kg_m3 : float
        Mean, water included.
    chains : tuple of Chain
        Allowable stresses and moduli. ``E_true`` is free of shear, ``E_apparent`` holds the shear
        deflection of a test beam, ``E_05`` is the lower 5 % of the true one, for stability, and ``E_across``
        the mean modulus across the grain, the lesser of its two.
    missing : tuple of (property, reason)
        What the data do not give.
    creep : Factor
        k_def: creep over deflection at once, under a lasting load.
    cautions : tuple of str
        What the user must be told.
    filled : Timber, optional
        Of a hollow piece, what the same wood bears where its bore is filled with wood.
    """

    name: str
    basis: Basis
    density_kg_m3: float
    chains: tuple[Chain, ...]
    missing: tuple[tuple[Property, str], ...]
    creep: Factor
    cautions: tuple[str, ...]
    source: str
    note: str
    filled: Timber | None = None

    def chain(self, of: Property) -> Chain:
        """Return how a value comes about.

        Raises
        ------
        MaterialError
            If the data do not give it.
        """
        for chain in self.chains:
            if chain.of == of:
                return chain
        why = dict(self.missing).get(of, "there is no such property")
        raise MaterialError(self.name, f"{of} is not known: {why}", "Take another timber or a class.")

    def value_Pa(self, of: Property) -> Value:
        """Return an allowable stress or a modulus; refused like `chain`."""
        return self.chain(of).value_Pa

    def only(self, elements: NDArray[np.intp]) -> Timber:
        """Return what some elements of many masts are made of, where it goes by the size of the piece."""

        def pick(factor: Factor) -> Factor:
            return factor if np.ndim(factor.value) == 0 else replace(factor, value=factor.value[elements])

        return replace(
            self,
            chains=tuple(replace(c, factors=tuple(pick(f) for f in c.factors)) for c in self.chains),
            filled=None if self.filled is None else self.filled.only(elements),
        )

    @property
    def from_memory(self) -> tuple[str, ...]:
        """Names of the starting values and factors that were recalled, not read."""
        started = [c.start_name for c in self.chains if c.provenance == "memory"]
        named = [f.name for c in self.chains for f in c.factors if f.provenance == "memory"]
        creep = [self.creep.name] if self.creep.provenance == "memory" else []
        return tuple(dict.fromkeys([*started, *named, *creep]))


Problems = list[tuple[str, str]]
"""What is wrong, and what to do about it."""


def within(problems: Problems, what: str, value: object, low: float, high: float, remedy: str) -> None:
    """Note a number that is missing, not finite, or outside its bounds."""
    if isinstance(value, bool) or not isinstance(value, int | float) or not low <= value <= high:
        problems.append((f"{what} {value!r} is not a number from {low:.4g} to {high:.4g}", remedy))


def common_problems(size: Size, use: Use) -> Problems:
    """Return what is wrong on either basis."""
    found: Problems = []
    if size.section not in _SECTIONS:
        found.append((f"the section {size.section!r} is not known", f"Take one of {', '.join(_SECTIONS)}."))
    for depth in (
        (size.depth_m,) if np.ndim(size.depth_m) == 0 else (np.min(size.depth_m), np.max(size.depth_m))
    ):
        within(found, "the depth", depth, 1e-3, 10.0, "Give the diameter in metres.")
    if use.scarf_slope is not None:
        within(found, "the scarf slope", use.scarf_slope, 1e-6, STEEPEST_SCARF, "Give 1/12, or flatter.")
    if use.safety_factor is not None:
        within(found, "the safety factor", use.safety_factor, 1.0, 100.0, "Give a factor of at least 1.")
    for factor in use.factors:
        within(found, f"the factor '{factor.name}'", factor.value, 1e-6, 10.0, "It multiplies the strength.")
        strange = [str(of) for of in factor.on if of not in (*STRENGTHS, *STIFFNESSES)]
        if strange or not factor.on:
            what = f"the factor '{factor.name}' is on {', '.join(strange) or 'nothing'}"
            found.append((what, f"Take of {', '.join((*STRENGTHS, *STIFFNESSES))}."))
    return found


def refuse(name: str, problems: Problems) -> None:
    """Raise all that is wrong at once.

    Raises
    ------
    MaterialError
        If there is anything.
    """
    if problems:
        remedies = dict.fromkeys(remedy for _, remedy in problems)
        raise MaterialError(name, "; ".join(problem for problem, _ in problems), " ".join(remedies))


def from_table(name: str, row: TableFactor, value: float | None = None) -> Factor:
    """Return a row of the table as a factor, of another value where one is given."""
    source = f"{row.source}; {row.note}" if row.note else row.source
    return Factor(
        name=name, value=row.value if value is None else value, source=source, provenance=row.provenance
    )


def from_formula(name: str, value: Value, function: Callable[..., object], more: str = "") -> Factor:
    """Return the value of a formula as a factor, with the formula's source."""
    source = record_of(function).source
    recalled: TimberProvenance = "memory" if "from memory" in source else "read"
    provenance: TimberProvenance = "derived" if source.startswith("derived") else recalled
    return Factor(
        name=name, value=value, source=f"{source}; {more}" if more else source, provenance=provenance
    )


def scarf_efficiency(slope: float) -> Factor:
    """Return the strength of a glued scarf over that of whole wood, in tension and bending.

    Parameters
    ----------
    slope : float
        Rise over run, up to 1/5. One flatter than 1/12 is given no more than that one.

    Raises
    ------
    MaterialError
        Outside the table.

    Notes
    -----
    From memory (older Wood Handbook and laminating practice); straight between the slopes of the table.
    """
    problems: Problems = []
    within(problems, "the scarf slope", slope, 1e-6, STEEPEST_SCARF, "Give 1/12, or flatter.")
    refuse("scarf", problems)
    rows = factor_rows("scarf", "tension")
    value = interpolated([(1 / float(row.key), row.value) for row in rows], slope)
    found = from_table(f"scarf 1 in {1 / slope:.3g}", rows[0], value)
    return replace(found, on=("bending", "tension"))


def interpolated(points: Iterable[tuple[float, float]], x: float) -> float:
    """Return the value at x, straight between points in rising order, and level outside them."""
    known = list(points)
    if x <= known[0][0]:
        return known[0][1]
    for (x_0, y_0), (x_1, y_1) in pairwise(known):
        if x <= x_1:
            return y_0 + (y_1 - y_0) * (x - x_0) / (x_1 - x_0)
    return known[-1][1]


def with_users_own(chain: Chain, use: Use) -> Chain:
    """Return a chain with the user's own factors at its end."""
    own = tuple(f for f in use.factors if chain.of in f.on)
    return replace(chain, factors=(*chain.factors, *own))


def at_most_one(value: Value, plain: Factor, credited: Factor) -> Factor:
    """Return a factor that is never credited above 1: the plain one below, the other from there on.

    Of many pieces at once, the value is limited for each.
    """
    if np.ndim(value) == 0:
        return credited if value > 1.0 else replace(plain, value=float(value))
    return replace(plain, value=np.minimum(value, 1.0))


def hollow_edge(chains: dict[Property, Chain], among: tuple[Property, ...]) -> Chain:
    """Return the bending chain of a hollow section, whose edge is stressed evenly: the weakest of some."""
    values = [chains[p].value_Pa for p in among]
    if any(np.ndim(value) for value in values):
        first = chains[among[0]]
        least = np.minimum.reduce(np.broadcast_arrays(*values))
        less = Factor(
            name="the weakest of several", value=least / first.value_Pa, source="as told of one piece"
        )
        return replace(first, of="bending", factors=(*first.factors, less))
    weakest = min((chains[p] for p in among), key=lambda chain: float(chain.value_Pa))
    name = f"{weakest.start_name}; {weakest.of} governs the edge of a hollow section"
    return replace(weakest, of="bending", start_name=name)
