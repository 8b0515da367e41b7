"""Design values from the strength classes of EN 338 by EN 1995-1-1."""

from __future__ import annotations

from typing import Final

import numpy as np

from ...formulas import Working
from ...formulas.timber import apparent_modulus, depth_factor, rolling_shear_strength
from ..timber_tables import StrengthClass, factor_rows
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
    from_formula,
    from_table,
    hollow_edge,
    scarf_efficiency,
    with_users_own,
    within,
)

DURATIONS: Final = ("permanent", "long-term", "medium-term", "short-term", "instantaneous")
HOTTEST_DEGC: Final = 60.0
_TEST_SPAN_OVER_DEPTH: Final = 14.0
_ATTRIBUTES: Final[dict[str, str]] = {
    "tension": "tension_Pa",
    "rolling_shear": "tension_perp_Pa",
    "tension_perp": "tension_perp_Pa",
    "E_05": "E_05_Pa",
    "E_across": "E_perp_mean_Pa",
    "G": "G_mean_Pa",
}
"""Property: what it starts from, of those that a class may hold as an estimate."""
_CALLED: Final = {
    "tension_Pa": "tension strength along the grain",
    "tension_perp_Pa": "tension strength across it",
    "E_05_Pa": "the lower 5 % of E",
    "G_mean_Pa": "G",
}
_SHALLOW_M, _LIGHT_KG_M3, _DEPTH_EXPONENT, _MOST_FOR_DEPTH = 0.150, 700.0, 0.2, 1.3


def graded_problems(use: Use) -> Problems:
    """Return what is wrong with a use of a strength class."""
    found: Problems = []
    if use.service_class not in (1, 2, 3) or isinstance(use.service_class, bool):
        found.append(
            (
                f"the service class {use.service_class!r} is not 1, 2 or 3",
                "Give 3 outdoors, 2 under cover or fully sealed, 1 indoors.",
            )
        )
    if use.load_duration not in DURATIONS:
        found.append(
            (
                f"the load duration {use.load_duration!r} is no class of EN 1995-1-1",
                f"Take one of {', '.join(DURATIONS)}; gusts are short-term.",
            )
        )
    if use.moisture is not None:
        found.append(
            ("a moisture belongs to the basis 'clear-wood'", "Leave it out and give the service class.")
        )
    if use.hollow_form_factor is not None:
        found.append(("a hollow form factor belongs to the basis 'clear-wood'", "Leave it out."))
    if use.slope_of_grain is not None:
        found.append(("grading has the slope of grain in it already", "Leave the slope of grain out."))
    within(
        found,
        "the temperature",
        use.temperature_degC,
        COLDEST_DEGC,
        HOTTEST_DEGC,
        "EN 1995-1-1 holds up to 60 C for short times (from memory).",
    )
    return found


def graded_timber(graded: StrengthClass, size: Size, use: Use) -> Timber:
    """Return the design values of a strength class in a use without problems."""
    working = Working()
    strengths: dict[Property, tuple[float, str]] = {
        "bending": (graded.bending_Pa, "f_m,k"),
        "tension": (graded.tension_Pa, "f_t,0,k"),
        "compression": (graded.compression_Pa, "f_c,0,k"),
        "compression_perp": (graded.compression_perp_Pa, "f_c,90,k"),
        "shear": (graded.shear_Pa, "f_v,k"),
        "rolling_shear": (graded.tension_perp_Pa, "f_t,90,k"),
        "tension_perp": (graded.tension_perp_Pa, "f_t,90,k"),
    }
    always = _duration_and_margin(use)
    own: dict[Property, list[Factor]] = {of: [] for of in strengths}
    for of in ("bending", "tension"):
        own[of] += _depth(graded, size, working)
        if use.scarf_slope is not None:
            own[of].append(scarf_efficiency(use.scarf_slope))
    own["shear"].append(from_table("k_cr, cracks", factor_rows("kcr", "shear")[0]))
    double = float(working.use(rolling_shear_strength, f_t90=1.0))
    own["rolling_shear"].append(from_formula("rolling shear", double, rolling_shear_strength))
    chains = {
        of: _chain(graded, of, start, f"{symbol}, lower 5 %", (*always, *own[of]))
        for of, (start, symbol) in strengths.items()
    }
    E, G = graded.E_mean_Pa, graded.G_mean_Pa
    shear_share = float(working.use(apparent_modulus, E=E, G=G, r_L=_TEST_SPAN_OVER_DEPTH)) / E
    with_shear = from_formula("with the shear of a beam of span/depth 14", shear_share, apparent_modulus)
    chains |= {
        "E_true": _chain(graded, "E_true", E, "E_0,mean", ()),
        "E_apparent": _chain(graded, "E_apparent", E, "E_0,mean", (with_shear,)),
        "E_05": _chain(graded, "E_05", graded.E_05_Pa, "E_0,05", ()),
        "E_across": _chain(graded, "E_across", graded.E_perp_mean_Pa, "E_90,mean", ()),
        "G": _chain(graded, "G", G, "G_mean", ()),
    }
    chains = {of: with_users_own(chain, use) for of, chain in chains.items()}
    if size.section == "hollow round":
        chains["bending"] = hollow_edge(chains, ("bending", "tension", "compression"))
    creep = next(row for row in factor_rows("kdef") if row.key == str(use.service_class))
    return Timber(
        name=graded.name,
        basis="EN 338",
        density_kg_m3=graded.density_mean_kg_m3,
        chains=tuple(chains.values()),
        missing=(),
        creep=from_table("k_def", creep),
        cautions=(*_cautions(graded, use), *working.warnings),
        source=graded.source,
        note=graded.note,
    )


def _chain(
    graded: StrengthClass, of: Property, start_Pa: float, called: str, factors: tuple[Factor, ...]
) -> Chain:
    how = dict(graded.estimated).get(_ATTRIBUTES.get(of, ""))
    return Chain(
        of=of,
        start_Pa=start_Pa,
        start_name=f"{called}: an estimate" if how else called,
        source=f"{how}; {graded.source}" if how else graded.source,
        provenance="derived" if how else graded.provenance,
        factors=factors,
    )


def _duration_and_margin(use: Use) -> tuple[Factor, Factor]:
    rows = factor_rows("kmod", str(use.load_duration))
    row = next(row for row in rows if row.key == str(use.service_class))
    name = f"k_mod, {use.load_duration}, service class {use.service_class}"
    if use.safety_factor is not None:
        margin = Factor(name="1/gamma_M", value=1 / use.safety_factor, source="the user's own")
    else:
        gamma = factor_rows("gamma_M")[0]
        margin = from_table("1/gamma_M", gamma, 1 / gamma.value)
    return from_table(name, row), margin


def _depth(graded: StrengthClass, size: Size, working: Working) -> list[Factor]:
    """k_h, which EN 1995-1-1 gives rectangular pieces alone: none for rounds."""
    light = graded.density_k_kg_m3 <= _LIGHT_KG_M3
    if size.section != "rectangle" or np.all(size.depth_m >= _SHALLOW_M) or not light:
        return []
    shallow = np.minimum(size.depth_m, _SHALLOW_M)
    value = np.minimum(
        working.use(depth_factor, h=shallow, h_r=_SHALLOW_M, s=_DEPTH_EXPONENT), _MOST_FOR_DEPTH
    )
    return [from_formula("k_h, depth", float(value) if np.ndim(value) == 0 else value, depth_factor)]


def _cautions(graded: StrengthClass, use: Use) -> list[str]:
    found = []
    lacking = [_CALLED[of] for of, _ in graded.estimated if of in _CALLED]
    if lacking:
        found.append(
            f"{graded.name}: {', '.join(lacking)} not given: estimated on the safe side, as the chains say"
        )
    if use.service_class != 3:
        found.append(
            f"service class {use.service_class}: only for a mast kept dry or fully sealed (judgement)"
        )
    if use.temperature_degC > ROOM_DEGC:
        found.append("EN 1995-1-1 has no factor for heat up to 60 C (from memory): none is taken")
    return found
