"""Timbers: what was tested or graded, and the chain of factors to what a spar of it may bear."""

from __future__ import annotations

from collections.abc import Iterator

from ...frozen import dataclass
from ...materials.timber import (
    STRENGTHS,
    Average,
    Chain,
    ClearWood,
    Property,
    StrengthClass,
    TimberRow,
    clear_woods,
    strength_classes,
    timber_of_rig,
)
from ...rig import TimberUse
from ..terminal import bullets, wrapped
from .lines import MARKS, GPa, MPa, Sources, indented, origin, share

_CALLED: dict[Property, str] = {
    "bending": "bending",
    "tension": "tension along the grain",
    "compression": "crushing along the grain",
    "compression_perp": "crushing across the grain",
    "shear": "shear along the grain",
    "rolling_shear": "rolling shear",
    "tension_perp": "tension across the grain",
    "E_true": "E free of shear",
    "E_apparent": "E with the shear of a test beam",
    "E_05": "lower 5 % of E",
    "E_across": "E across the grain",
    "G": "shear modulus",
}


@dataclass(frozen=True)
class Spar:
    """The piece that a sheet is worked out for: a small solid pole."""

    depth_m: float = 0.080
    length_m: float = 6.5
    bury_m: float = 0.7

    def __str__(self) -> str:
        size = f"{self.depth_m * 1e3:g} mm, {self.length_m:g} m long with {self.bury_m:g} m of bury"
        return f"a solid round spar of {size}"


def species_listed() -> list[list[str]]:
    """Return one row for each species, below a heading."""
    rows = [["species, clear wood at 12 %", "kg/m3", "E GPa", "bending", "crushing", "shear", "values"]]
    rows += [
        [
            wood.name,
            f"{wood.density_kg_m3(0.12):.0f}",
            GPa(wood.modulus.dry_Pa),
            MPa(wood.bending.dry_Pa),
            MPa(wood.compression.dry_Pa),
            MPa(wood.shear.dry_Pa),
            MARKS[wood.provenance],
        ]
        for wood in clear_woods()
    ]
    return rows


def classes_listed() -> list[list[str]]:
    """Return one row for each strength class, below a heading."""
    rows = [["class of EN 338, lower 5 %", "kg/m3", "E GPa", "bending", "crushing", "shear", "values"]]
    rows += [
        [
            c.name,
            f"{c.density_mean_kg_m3:g}",
            GPa(c.E_mean_Pa),
            MPa(c.bending_Pa),
            MPa(c.compression_Pa),
            MPa(c.shear_Pa),
            MARKS[c.provenance],
        ]
        for c in strength_classes()
    ]
    return rows


def timber_sheet(row: TimberRow) -> Iterator[str]:
    """Yield the sheet of a species, a strength class, or the user's own like either."""
    yield from _species(row) if isinstance(row, ClearWood) else _class(row)
    yield ""
    yield from _allowed(row, Spar())


def _species(wood: ClearWood) -> Iterator[str]:
    yield from wrapped(
        f"{wood.botanical_name or 'timber'}: averages of small clear straight-grained pieces in tests of minutes; no "
        "design values",
        "  ",
        first="",
    )
    E = {
        True: "E, with the shear of the test beam",
        False: "E, not said whether with the shear of the test beam",
    }
    averages: list[tuple[str, Average]] = [
        ("bending, modulus of rupture", wood.bending),
        ("crushing along the grain", wood.compression),
        ("proportional limit across the grain", wood.compression_perp),
        ("shear along the grain", wood.shear),
        ("tension across the grain", wood.tension_perp),
    ]
    yield from indented(
        [
            ["", "green", "at 12 %", ""],
            *([name, MPa(a.green_Pa), MPa(a.dry_Pa), "MPa"] for name, a in averages),
            [E[wood.modulus_is_apparent], GPa(wood.modulus.green_Pa), GPa(wood.modulus.dry_Pa), "GPa"],
        ]
    )
    gravity = [
        f"{value:g} {when}"
        for value, when in ((wood.specific_gravity_green, "green"), (wood.specific_gravity_dry, "at 12 %"))
        if value is not None
    ]
    stated = "" if wood.stated_density_kg_m3 is None else ", as the source states it"
    made = f", from specific gravity {' and '.join(gravity)} (derived)" if gravity else stated
    yield f"  density at 12 % {wood.density_kg_m3(0.12):.4g} kg/m3{made}"
    yield f"  above {wood.green_limit * 100:g} % of moisture it is as when green"
    yield from origin(wood.provenance, wood.source, wood.note)
    ratios = [
        f"{name} {value:g}"
        for name, value in (
            ("E_T", wood.E_T_ratio),
            ("E_R", wood.E_R_ratio),
            ("G_LR", wood.G_LR_ratio),
            ("G_LT", wood.G_LT_ratio),
        )
        if value is not None
    ]
    if ratios and wood.elastic_provenance is not None:
        yield from wrapped(
            f"over E free of shear: {', '.join(ratios)} ({MARKS[wood.elastic_provenance]}; {wood.elastic_source})",
            "    ",
            first="  ",
        )


def _class(c: StrengthClass) -> Iterator[str]:
    yield "graded timber: characteristic values at 12 % moisture, the lower 5 % but for the means"
    how = dict(c.estimated)
    values = [
        ("f_m,k", "bending", "bending_Pa", MPa, "MPa"),
        ("f_t,0,k", "tension along the grain", "tension_Pa", MPa, "MPa"),
        ("f_t,90,k", "tension across the grain", "tension_perp_Pa", MPa, "MPa"),
        ("f_c,0,k", "crushing along the grain", "compression_Pa", MPa, "MPa"),
        ("f_c,90,k", "crushing across the grain", "compression_perp_Pa", MPa, "MPa"),
        ("f_v,k", "shear along the grain", "shear_Pa", MPa, "MPa"),
        ("E_0,mean", "mean E, free of shear", "E_mean_Pa", GPa, "GPa"),
        ("E_0,05", "lower 5 % of E", "E_05_Pa", GPa, "GPa"),
        ("E_90,mean", "mean E across the grain", "E_perp_mean_Pa", GPa, "GPa"),
        ("G_mean", "mean shear modulus", "G_mean_Pa", GPa, "GPa"),
    ]
    yield from indented(
        [f"{symbol}, {name}", show(getattr(c, of)), f"{unit}{', estimated' if of in how else ''}"]
        for symbol, name, of, show, unit in values
    )
    low = "taken as" if "density_k_kg_m3" in how else "lower 5 %"
    yield f"  density {c.density_mean_kg_m3:g} kg/m3, mean; {low} {c.density_k_kg_m3:g} kg/m3"
    yield from origin(c.provenance, c.source, c.note)
    names = {of: symbol for symbol, _, of, _, _ in values} | {"density_k_kg_m3": "lower density"}
    for of, told in c.estimated:
        yield from wrapped(f"{names[of]}: {told}", "    ", first="  ")


def _allowed(row: TimberRow, spar: Spar) -> Iterator[str]:
    """Yield what the row comes to in a spar by the defaults of a rig, factor by factor."""
    timber = timber_of_rig(
        row.name,
        TimberUse(),
        shape="round",
        solid=True,
        depth_m=spar.depth_m,
        length_m=spar.length_m,
        bury_m=spar.bury_m,
        own=lambda _: row,
    )
    yield from wrapped(f"In {spar}, by the defaults of [timber]:", "  ", first="")
    strengths = [c for c in timber.chains if c.of in STRENGTHS]
    stiffnesses = [c for c in timber.chains if c.of not in STRENGTHS]
    yield from indented(
        [
            ["", "from", "factors", "allowed", ""],
            *(
                [
                    _CALLED[c.of],
                    MPa(c.start_Pa),
                    f"x {share(c.value_Pa / c.start_Pa)}",
                    f"{c.value_Pa / 1e6:.2f}",
                    "MPa",
                ]
                for c in strengths
            ),
            *(
                [
                    _CALLED[c.of],
                    GPa(c.start_Pa),
                    f"x {share(c.value_Pa / c.start_Pa)}",
                    f"{c.value_Pa / 1e9:.3f}",
                    "GPa",
                ]
                for c in stiffnesses
            ),
        ]
    )
    yield f"  density {timber.density_kg_m3:.0f} kg/m3, with its water"
    sources = Sources()
    yield ""
    yield "Factor by factor"
    for chain in timber.chains:
        yield from _chain(chain, sources)
    creep = timber.creep
    cited = sources.cite(creep.provenance, creep.source)
    yield f"  creep over the deflection at once: {creep.name} {creep.value:g} {cited}"
    for of, why in timber.missing:
        yield f"  {_CALLED[of]}: not known; {why}"
    yield from bullets("Cautions", timber.cautions)
    yield from sources.lines()


def _chain(chain: Chain, sources: Sources) -> Iterator[str]:
    scale, unit = (1e6, "MPa") if chain.of in STRENGTHS else (1e9, "GPa")
    start = f"{chain.start_name} {sources.cite(chain.provenance, chain.source)}"
    yield from wrapped(
        f"{_CALLED[chain.of]}: {chain.start_Pa / scale:.4g} {unit}, {start}", "      ", first="  "
    )
    for f in chain.factors:
        yield f"    x {share(f.value):6} {f.name} {sources.cite(f.provenance, f.source)}"
    yield f"    = {chain.value_Pa / scale:.4g} {unit}"
