"""Design values from clear-wood averages: lower 5 %, moisture, time, heat, grain, size and a margin."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache
from typing import Final

import numpy as np

from ...formulas import Working
from ...formulas.timber import (
    beam_shear_factor,
    exclusion_factor,
    grain_torsion_modulus,
    hankinson,
    madison_factor,
    moisture_adjusted,
    standard_size_factor,
    temperature_factor,
    true_modulus,
)
from ...units import handy
from ..timber_tables import GREEN_MOISTURE, TEST_MOISTURE, Average, ClearWood, factor_rows
from .estimate import Filled, filled
from .record import (
    COLDEST_DEGC,
    ROOM_DEGC,
    Chain,
    Factor,
    Problems,
    Property,
    Size,
    Timber,
    Use,
    at_most_one,
    from_formula,
    from_table,
    hollow_edge,
    interpolated,
    scarf_efficiency,
    with_users_own,
    within,
)

HOTTEST_DEGC: Final = 50.0
SPAR_SLOPE: Final = 1 / 15
STEEPEST_SLOPE: Final = 1 / 8
DRIEST: Final = 0.08
_Z_5_PERCENT: Final = 1.645
_STANDARD_TEST_M2: Final = 36125e-6
"""2 in deep on a span of 28 in, as Eq. 9-18 rounds it."""
_BENDING_EXPONENT: Final = 18.0
_STRESS_CONCENTRATION: Final = 2.0
_WET_FOR_CREEP: Final = 0.19
_LONGEST_S: Final = 2e9
_SAME: Final = 1e-9
_ANY_DEPTH_M: Final = 0.1
_SIZE: Final = "size"
_SHEAR_SIZE: Final = "size in shear"


class UnknownValueError(Exception):
    """Why the data give no value; it becomes an entry of ``Timber.missing``."""


def clear_problems(size: Size, use: Use) -> Problems:
    """Return what is wrong with a use of clear wood."""
    found: Problems = []
    within(
        found,
        "the moisture",
        use.moisture,
        DRIEST,
        GREEN_MOISTURE,
        "Give it as a fraction of the dry mass: 0.12 indoors, 0.15 to 0.18 outdoors, at most 0.3, above which "
        "wood grows no weaker.",
    )
    within(
        found,
        "the slope of grain",
        use.slope_of_grain,
        0.0,
        STEEPEST_SLOPE,
        "Give rise over run: 1/15 is the limit of spar stock, 0 straight grain.",
    )
    within(
        found,
        "the load duration",
        use.load_duration,
        1.0,
        _LONGEST_S,
        "Give the seconds that the load acts in all.",
    )
    within(
        found,
        "the temperature",
        use.temperature_degC,
        COLDEST_DEGC,
        HOTTEST_DEGC,
        "The data end there: shade the mast or paint it white.",
    )
    if use.service_class is not None:
        found.append(("a service class belongs to the basis 'EN 338'", "Leave it out and give the moisture."))
    if use.hollow_form_factor is not None:
        remedy = "Give 0.65 to 0.86, or leave it out: the edge then bears its crushing strength."
        within(found, "the hollow form factor", use.hollow_form_factor, 0.5, 1.0, remedy)
    within(found, "the span", size.span_m, 1e-2, 1e3, "Give the length of the mast.")
    within(found, "the length in shear", size.shear_length_m, 1e-3, 1e2, "Give the bury.")
    if size.even_stress_m is not None and size.span_m is not None:
        within(
            found,
            "the length of even stress",
            size.even_stress_m,
            0.0,
            size.span_m,
            "Give at most the span.",
        )
    return found


def clear_timber(wood: ClearWood, size: Size, use: Use) -> Timber:
    """Return the design values of a species in a use without problems."""
    working = Working()
    makers = _Makers(filled(wood), size, use, working)
    if np.ndim(size.depth_m) == 0:
        chains, missing = _chains(makers)
    else:
        # of many pieces only the size differs from that of one
        one = replace(size, depth_m=_ANY_DEPTH_M)
        made, missing = _of_one(wood, one, use)
        chains = {of: makers.resized(chain) for of, chain in made.items()}
    chains, missing = dict(chains), list(missing)
    if size.section == "hollow round" and "bending" in chains:
        if use.hollow_form_factor is not None:
            chains["bending"] = _formed_edge(chains, use.hollow_form_factor)
        elif "compression" in chains:
            chains["bending"] = hollow_edge(chains, ("bending", "compression"))
        else:
            del chains["bending"]
            missing.append(("bending", "crushing governs the edge of a hollow section, and is not known"))
    wet = makers.moisture > _WET_FOR_CREEP
    creep = next(row for row in factor_rows("creep") if row.key == ("wet" if wet else "dry"))
    return Timber(
        name=wood.name,
        basis="clear-wood",
        density_kg_m3=wood.density_kg_m3(makers.moisture),
        chains=tuple(chains.values()),
        missing=tuple(missing),
        creep=from_table("creep", creep),
        cautions=(*_cautions(size, use, makers), *working.warnings),
        source=wood.source,
        note=wood.note,
    )


def _chains(makers: _Makers) -> tuple[dict[Property, Chain], list[tuple[Property, str]]]:
    """Return every chain of a solid piece, and what the data do not give."""
    chains: dict[Property, Chain] = {}
    missing: list[tuple[Property, str]] = []
    for of in (*_STARTS, "E_apparent", "E_true", "E_05", "E_across", "G"):
        try:
            chains[of] = with_users_own(makers.chain(of), makers.use)
        except UnknownValueError as why:
            missing.append((of, str(why)))
    return chains, missing


@lru_cache(maxsize=256)
def _of_one(
    wood: ClearWood, size: Size, use: Use
) -> tuple[dict[Property, Chain], list[tuple[Property, str]]]:
    """Return the chains of one piece; whoever asks must not change them."""
    return _chains(_Makers(filled(wood), size, use, Working()))


def _formed_edge(chains: dict[Property, Chain], share: float) -> Chain:
    """Return the bending chain of a hollow section whose compression edge bears a share of a solid's."""
    form = Factor(
        name="hollow section",
        value=share,
        source="the user's own; ANC-18, 2.30, has 0.65 to 0.86 for four box and I sections, read",
    )
    bending = replace(chains["bending"], factors=(*chains["bending"].factors, form))
    return hollow_edge({**chains, "bending": bending}, ("bending", "tension"))


# property: (its average, what it is called, whose variation is taken)
_STARTS: Final[dict[Property, tuple[str, str]]] = {
    "bending": ("bending", "mean modulus of rupture"),
    "tension": ("bending", "mean modulus of rupture, standing in for tension (ANC-18, 2.111, read)"),
    "compression": ("compression", "mean crushing strength along the grain"),
    "compression_perp": ("compression_perp", "mean proportional limit across the grain"),
    "shear": ("shear", "mean shear strength along the grain"),
    "rolling_shear": ("shear", "mean shear strength along the grain"),
    "tension_perp": ("tension_perp", "mean tension strength across the grain"),
}


class _Makers:
    """Makes the chains of one species in one use."""

    def __init__(self, found: Filled, size: Size, use: Use, working: Working) -> None:
        assert use.moisture is not None
        assert use.slope_of_grain is not None
        assert isinstance(use.load_duration, int | float)
        assert size.span_m is not None
        assert size.shear_length_m is not None
        self.filled, self.wood = found, found.wood
        self.size, self.use, self.working = size, use, working
        self.moisture, self.slope = float(use.moisture), float(use.slope_of_grain)
        self.duration_s = float(use.load_duration)
        self.span_m, self.shear_length_m = size.span_m, size.shear_length_m

    def chain(self, of: Property) -> Chain:
        if of in _STARTS:
            return self._strength(of)
        chain = self._begun("E_apparent", "modulus", "mean modulus of elasticity, as printed")
        chain = self._more(chain, self._moisture("modulus"), self._heat("E"))
        chain = self._more(chain, self._modulus_slope())
        if of != "E_apparent":
            chain = self._more(chain, self._free_of_shear())
        if of == "E_05":
            chain = self._more(chain, self._exclusion("E"))
        if of == "E_across":
            chain = self._more(chain, self._across())
        if of == "G":
            chain = self._more(chain, self._shear_modulus())
        return replace(chain, of=of)

    def _strength(self, of: Property) -> Chain:
        attribute, called = _STARTS[of]
        tabled: Property = "shear" if of == "rolling_shear" else of
        chain = self._begun(of, attribute, called)
        chain = self._more(
            chain,
            self._moisture(attribute),
            self._exclusion(tabled),
            self._duration(),
            self._heat(tabled),
        )
        if of in ("bending", "tension", "compression"):
            chain = self._more(chain, self._strength_slope(of))
        if of in ("bending", "tension"):
            chain = self._more(chain, self._size())
            if self.use.scarf_slope is not None:
                chain = self._more(chain, scarf_efficiency(self.use.scarf_slope))
        if of in ("shear", "rolling_shear"):
            chain = self._more(chain, self._shear_size())
        if of == "rolling_shear":
            chain = self._more(chain, from_table("rolling shear", factor_rows("rolling shear")[0]))
        return self._more(chain, self._margin())

    def _begun(self, of: Property, attribute: str, called: str) -> Chain:
        average: Average = getattr(self.wood, attribute)
        if average.dry_Pa is None:
            raise UnknownValueError("the table has no value")
        name, how = f"{called}, clear wood at 12 % moisture", self.filled.dry.get(attribute)
        return Chain(
            of=of,
            start_Pa=average.dry_Pa,
            start_name=f"{name}: an estimate" if how else name,
            source=f"{how}; {self.wood.source}" if how else self.wood.source,
            provenance="derived" if how else self.wood.provenance,
            factors=(),
        )

    def resized(self, chain: Chain) -> Chain:
        """Return a chain of a piece of another size with what it is of this one."""
        sized = {_SIZE: self._size, _SHEAR_SIZE: self._shear_size}
        factors = tuple(sized[f.name]() if f.name in sized else f for f in chain.factors)
        return replace(chain, factors=factors)

    @staticmethod
    def _more(chain: Chain, *factors: Factor) -> Chain:
        return replace(chain, factors=(*chain.factors, *factors))

    def _moisture(self, attribute: str) -> Factor:
        average: Average = getattr(self.wood, attribute)
        name, M, dry, green = f"moisture {self.moisture:.3g}", self.moisture, average.dry_Pa, average.green_Pa
        assert dry is not None
        assert green is not None
        how = self.filled.green.get(attribute)
        if abs(M - TEST_MOISTURE) < _SAME:
            return Factor(name=name, value=1.0, source="moisture of the tests", provenance="read")
        if attribute == "tension_perp" and M < TEST_MOISTURE:
            return Factor(name=name, value=1.0, source="no credit for dry wood in tension across the grain")
        if attribute == "tension_perp":
            source = "the lower of dry and green: Eq. 5-3 is not meant for tension across the grain"
            return Factor(
                name=name, value=min(dry, green) / dry, source=f"{source}; {how}" if how else source
            )
        limit = self.wood.green_limit
        adjusted = self.working.use(moisture_adjusted, P_12=dry, P_g=green, M=min(M, limit), M_p=limit)
        more = f"M_p {limit:.0%}" + ("; green above it (from memory)" if limit < M else "")
        more += f"; {how}" if how else ""
        return from_formula(name, float(adjusted) / dry, moisture_adjusted, more)

    def _exclusion(self, of: str) -> Factor:
        row = factor_rows("variation", of)[0]
        value = self.working.use(exclusion_factor, V=row.value, z_p=_Z_5_PERCENT)
        found = from_table(f"lower 5 % at a variation of {row.value:.0%}", row, float(value))
        return replace(found, source=f"1 - 1.645 V of a normal distribution (derived); V: {found.source}")

    def _duration(self) -> Factor:
        value = float(self.working.use(madison_factor, t=self.duration_s, t_1=1.0))
        name = f"load duration {handy(self.duration_s, 's')}"
        if value > 1.0:
            return from_formula(name, 1.0, madison_factor, "no credit for a load shorter than the test")
        return from_formula(name, value, madison_factor)

    def _heat(self, of: str) -> Factor:
        T = self.use.temperature_degC
        name = f"temperature {T:.3g} degC"
        if T <= ROOM_DEGC:
            return Factor(name=name, value=1.0, source="no credit for cold", provenance="judgement")
        rows = factor_rows("heat", of)
        for row in rows:
            if self.moisture * 100 <= float(row.key) + _SAME:
                share = (T - ROOM_DEGC) / (HOTTEST_DEGC - ROOM_DEGC)
                value = self.working.use(temperature_factor, c_50=row.value, s_T=share)
                return from_table(name, row, float(value))
        raise UnknownValueError(f"above {ROOM_DEGC:g} degC it is known up to a moisture of {rows[-1].key} %")

    def _strength_slope(self, of: Property) -> Factor:
        """Two tables on one base: straight grain to 1 in 15, and from there over the value at 1 in 15."""
        gentle, steep = factor_rows("slope", of), factor_rows("slope over 1:15", of)
        points = [(0.0, 1.0), *((1 / float(row.key), row.value) for row in gentle)]
        at_spar_limit = points[-1][1]
        points += [(1 / float(row.key), row.value * at_spar_limit) for row in steep]
        found = from_table(self._slope_name(), gentle[-1], interpolated(points, self.slope))
        if self.slope > SPAR_SLOPE:
            found = replace(found, source=f"{found.source}; times {steep[0].source}, whose base is 1 in 15")
        return found

    def _slope_name(self) -> str:
        return f"slope of grain 1 in {1 / self.slope:.3g}" if self.slope > 0 else "straight grain"

    def _modulus_slope(self) -> Factor:
        row = factor_rows("E across")[0]
        angle = math.atan(self.slope)
        value = self.working.use(hankinson, P=1.0, Q=row.value, theta=angle, n=2.0)
        return from_table(self._slope_name(), row, float(value))

    def _size(self) -> Factor:
        even = self.span_m if self.size.even_stress_m is None else self.size.even_stress_m
        value = self.working.use(
            standard_size_factor,
            h_1=self.size.depth_m,
            L_1=self.span_m,
            a_1=even,
            A_0=_STANDARD_TEST_M2,
            m=_BENDING_EXPONENT,
        )
        no_credit = from_formula(
            "size", 1.0, standard_size_factor, "no credit for less wood than in the test"
        )
        return at_most_one(value, from_formula(_SIZE, value, standard_size_factor), no_credit)

    def _shear_size(self) -> Factor:
        area = self.size.depth_m * self.shear_length_m
        value = self.working.use(beam_shear_factor, C_f=_STRESS_CONCENTRATION, A=area, A_1=1e-4)
        no_credit = from_formula(_SHEAR_SIZE, 1.0, beam_shear_factor, "no credit for small areas")
        return at_most_one(value, from_formula(_SHEAR_SIZE, value, beam_shear_factor), no_credit)

    def _margin(self) -> Factor:
        if self.use.safety_factor is not None:
            return Factor(name="safety factor", value=1 / self.use.safety_factor, source="the user's own")
        row = factor_rows("safety")[0]
        return from_table("safety factor", row, 1 / row.value)

    def _free_of_shear(self) -> Factor:
        if self.wood.modulus_is_apparent:
            value = float(self.working.use(true_modulus, E_a=1.0))
            return from_formula("free of shear deflection", value, true_modulus)
        source = "the source does not say whether shear deflection is in it: no increase taken"
        return Factor(name="free of shear deflection", value=1.0, source=source)

    def _across(self) -> Factor:
        known = [r for r in (self.wood.E_T_ratio, self.wood.E_R_ratio) if r is not None]
        if not known:
            source = "ANC-18, 2.130: E_T over E_L of species not listed, read"
            return Factor(name="E across over E along", value=0.045, source=source, provenance="read")
        return Factor(
            name="E across over E along",
            value=min(known),
            source=f"the lesser ratio: {self.wood.elastic_source}",
            provenance=self.wood.elastic_provenance or "memory",
        )

    def _shear_modulus(self) -> Factor:
        lr, lt = self.wood.G_LR_ratio, self.wood.G_LT_ratio
        if lr is None or lt is None:
            source = "Wood Handbook, FPL-GTR-282 (2021), ch. 9, p. 9-5: E/16 where G is not known, read"
            return Factor(name="G over E", value=1 / 16, source=source, provenance="read")
        value = float(self.working.use(grain_torsion_modulus, G_LR=lr, G_LT=lt))
        found = from_formula("G over E", value, grain_torsion_modulus, f"ratios: {self.wood.elastic_source}")
        return replace(found, provenance=self.wood.elastic_provenance or "memory")


def _cautions(size: Size, use: Use, makers: _Makers) -> list[str]:
    found = [
        "clear wood: knots, checks, compression wood and rot are not counted; use spar stock free of them",
        *makers.filled.cautions(makers.moisture),
    ]
    if makers.slope > SPAR_SLOPE:
        found.append("slope of grain over 1 in 15: no spar stock by AC 43.13-1B, Table 1-1")
    if makers.moisture < TEST_MOISTURE:
        found.append("drier than 12 %: a mast outdoors sits at 12 to 18 % (from memory)")
    return found
