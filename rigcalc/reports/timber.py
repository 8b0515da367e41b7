"""Timber for the terminal: what tables say of it, and what is left of that in a mast."""

from __future__ import annotations

from collections.abc import Iterator

from ..materials.timber import (
    STRENGTHS,
    Chain,
    ClearWood,
    Timber,
    TimberRow,
    clear_woods,
    find_timber,
    is_timber,
    strength_classes,
    timber_names,
    timber_of_rig,
)
from ..rig import TimberUse
from .terminal import wrapped

SHOWN_DEPTH_M, SHOWN_LENGTH_M, SHOWN_BURY_M = 0.12, 7.0, 0.9
"""Size of the pole whose design values a sheet shows."""

_CALLED = {
    "bending": "bending",
    "tension": "tension",
    "compression": "crushing along the grain",
    "compression_perp": "crushing across the grain",
    "shear": "shear along the grain",
    "rolling_shear": "rolling shear",
    "tension_perp": "tension across the grain",
}
_MARK = {"read": "read", "memory": "from memory", "derived": "derived", "judgement": "judgement"}


def timber_list() -> Iterator[str]:
    """Yield one line for each species and class."""
    width = max(map(len, timber_names()))
    yield ""
    columns = f"{'bending':>7}  {'crushing':>8}  {'shear':>5}  {'E':>5}"
    yield f"{'species, clear wood':{width}}  {columns}      mean at 12 % moisture, MPa"
    for wood in clear_woods():
        known = (wood.bending.dry_Pa, wood.compression.dry_Pa, wood.shear.dry_Pa)
        bending, crushing, shear = ("-" if v is None else f"{v / 1e6:.1f}" for v in known)
        modulus = "-" if wood.modulus.dry_Pa is None else f"{wood.modulus.dry_Pa / 1e9:.1f}"
        yield (
            f"{wood.name:{width}}  {bending:>7}  {crushing:>8}  {shear:>5}  {modulus:>5} GPa  {_MARK[wood.provenance]}"
        )
    yield ""
    columns = f"{'f_m,k':>7}  {'f_c,0,k':>8}  {'f_v,k':>5}  {'E':>5}"
    yield f"{'class of EN 338':{width}}  {columns}      lower 5 %, mean modulus, MPa"
    for row in strength_classes():
        yield (
            f"{row.name:{width}}  {row.bending_Pa / 1e6:7.1f}  {row.compression_Pa / 1e6:8.1f}  "
            f"{row.shear_Pa / 1e6:5.1f}  {row.E_mean_Pa / 1e9:5.1f} GPa  {_MARK[row.provenance]}"
        )


def timber_sheet(name: str) -> str | None:
    """Return everything known of a timber, or None when there is none of that name."""
    if not is_timber(name):
        return None
    row = find_timber(name)
    solid, hollow = (
        timber_of_rig(
            name,
            TimberUse(),
            shape="round",
            solid=is_solid,
            depth_m=SHOWN_DEPTH_M,
            length_m=SHOWN_LENGTH_M,
            bury_m=SHOWN_BURY_M,
        )
        for is_solid in (True, False)
    )
    return "\n".join([*_head(row), *_values(solid, hollow), *_foot(solid, hollow)]) + "\n"


def _head(row: TimberRow) -> Iterator[str]:
    yield row.name
    yield ""
    if isinstance(row, ClearWood):
        yield f"{row.botanical_name}, by its clear wood: the mean of small tests, no design value"
    else:
        yield "strength class of EN 338: the lower 5 % of graded timber"
    yield from wrapped(row.source, "  ")
    if row.note:
        yield from wrapped(f"note: {row.note}", "  ")
    yield ""


def _values(solid: Timber, hollow: Timber) -> Iterator[str]:
    yield (
        f"In a pole of {SHOWN_DEPTH_M * 1e3:.0f} mm, {SHOWN_LENGTH_M:g} m long and buried {SHOWN_BURY_M:g} m, by the "
        "defaults of [timber]:"
    )
    for of in STRENGTHS:
        chain = solid.chain(of)
        yield (
            f"  {_CALLED[of]:26} {chain.start_Pa / 1e6:6.2f} MPa  x {chain.value_Pa / chain.start_Pa:.3f} = "
            f"{chain.value_Pa / 1e6:6.2f} MPa allowed"
        )
        yield from wrapped(_steps(chain), "    ")
    edge = min(hollow.value_Pa("tension"), hollow.value_Pa("bending"))
    yield f"  {'edge of a hollow section':26} {'':21}   {edge / 1e6:6.2f} MPa allowed: it is stressed evenly"
    E, E_true, E_05, G = (solid.value_Pa(of) / 1e9 for of in ("E_apparent", "E_true", "E_05", "G"))
    yield from wrapped(
        f"E {E:.2f} GPa under load, {E_true:.2f} free of shear, {E_05:.2f} at the lower 5 %, "
        f"{solid.value_Pa('E_across') / 1e9:.2f} across the grain; G {G:.2f} GPa; {solid.density_kg_m3:.0f} kg/m3",
        "  ",
    )


def _steps(chain: Chain) -> str:
    start = "estimated" if chain.start_name.endswith("an estimate") else _MARK[chain.provenance]
    return f"{start}; " + ", ".join(
        f"{f.name} {f.value:.3g}{'*' if f.provenance == 'memory' else ''}" for f in chain.factors
    )


def _foot(solid: Timber, hollow: Timber) -> Iterator[str]:
    yield ""
    yield "  * from memory"
    for text in dict.fromkeys((*solid.cautions, *hollow.cautions)):
        yield from wrapped(text, "    ", first="  ")
