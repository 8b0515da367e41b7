"""Tables of timber: clear-wood averages by species, strength classes of EN 338, and factors."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from typing import Final, Literal

from ..frozen import dataclass
from .metals import MaterialError
from .near import did_you_mean, nearest
from .table_files import column_of, rows_of

TimberProvenance = Literal["read", "memory", "derived", "judgement"]

_PROVENANCES: Final[dict[str, TimberProvenance]] = {
    "read": "read",
    "memory": "memory",
    "derived": "derived",
    "judgement": "judgement",
}
TEST_MOISTURE: Final = 0.12
"""Moisture of the dry columns of the clear-wood tables, as a fraction of the oven-dry mass."""
GREEN_MOISTURE: Final = 0.30
"""Fibre saturation: about 30 % on average (Wood Handbook, ch. 4, read); wood swells no further above it."""
_WATER_KG_M3: Final = 1000.0
_COMMON_SWELLING: Final = 0.265
"""Swelling per specific gravity of an average species (Wood Handbook, ch. 4, from memory)."""
_RATIOS_FROM: Final = "Wood Handbook Table 5-1"


@dataclass(frozen=True, kw_only=True)
class Average:
    """Mean of a property of small clear straight-grained pieces in tests of about five minutes.

    Parameters
    ----------
    green_Pa : float or None
        Of green wood; None where the table has no value.
    dry_Pa : float or None
        At 12 % moisture.
    """

    green_Pa: float | None
    dry_Pa: float | None


@dataclass(frozen=True, kw_only=True)
class ClearWood:
    """One species by its clear-wood averages; these are no design values.

    Parameters
    ----------
    name, botanical_name : str
        The botanical name beside a handbook row is from memory.
    specific_gravity_green, specific_gravity_dry : float or None
        Oven-dry mass over the volume green and at 12 % moisture, relative to water.
    stated_density_kg_m3 : float or None
        Density at 12 % moisture where the source states that and no specific gravity.
    bending : Average
        Modulus of rupture.
    modulus : Average
        Modulus of elasticity along the grain, as printed.
    modulus_is_apparent : bool
        Whether that contains the shear deflection of a test beam of span/depth 14. False where the
        source does not say; it is then taken as the true one too, which is the safe side.
    compression, compression_perp, shear, tension_perp : Average
        Crushing along the grain, proportional limit across it, shear along it, tension across it.
    green_limit : float
        Moisture M_p above which properties are those of green wood.
    E_T_ratio, E_R_ratio, G_LR_ratio, G_LT_ratio : float or None
        Over the true modulus along the grain.
    provenance, elastic_provenance : str or None
        Of the averages and of the ratios; None where there are no ratios.
    source, elastic_source, note : str
        Where the averages and the ratios were found; anything else to know.
    """

    name: str
    botanical_name: str
    specific_gravity_green: float | None
    specific_gravity_dry: float | None
    stated_density_kg_m3: float | None
    bending: Average
    modulus: Average
    modulus_is_apparent: bool
    compression: Average
    compression_perp: Average
    shear: Average
    tension_perp: Average
    green_limit: float
    E_T_ratio: float | None
    E_R_ratio: float | None
    G_LR_ratio: float | None
    G_LT_ratio: float | None
    provenance: TimberProvenance
    elastic_provenance: TimberProvenance | None
    source: str
    elastic_source: str
    note: str

    def density_kg_m3(self, moisture: float) -> float:
        """Return the density at a moisture up to fibre saturation, water included.

        Where the table has the density at 12 % alone, the wood swells as an average species does.

        Raises
        ------
        MaterialError
            Where the table has neither a specific gravity nor a density.
        """
        from ..formulas.timber import moist_density, specific_gravity

        green, swelling = self.specific_gravity_green, _COMMON_SWELLING
        if green is not None and self.specific_gravity_dry is not None:
            swelling = (1 / green - 1 / self.specific_gravity_dry) / (1 - TEST_MOISTURE / GREEN_MOISTURE)
        if green is None:
            if self.stated_density_kg_m3 is None:
                raise MaterialError(self.name, "its density is not known", "Take another timber.")
            dry = self.stated_density_kg_m3 / (_WATER_KG_M3 * (1 + TEST_MOISTURE))
            green = dry / (1 + swelling * dry * (1 - TEST_MOISTURE / GREEN_MOISTURE))
        solid = specific_gravity(G_b=green, s=swelling, M=moisture, M_f=GREEN_MOISTURE)
        return float(moist_density(rho_w=_WATER_KG_M3, G_M=solid, M=moisture))


@dataclass(frozen=True, kw_only=True)
class StrengthClass:
    """One class of EN 338: characteristic values of graded timber, at 12 % moisture.

    Parameters
    ----------
    bending_Pa, tension_Pa, tension_perp_Pa, compression_Pa, compression_perp_Pa, shear_Pa : float
        Lower 5 %; ``perp`` is across the grain.
    E_mean_Pa, E_05_Pa, E_perp_mean_Pa, G_mean_Pa : float
        Moduli: means, and the lower 5 % along the grain. The modulus is free of shear.
    density_k_kg_m3, density_mean_kg_m3 : float
        Lower 5 % and mean.
    provenance : str
        "memory" where any value of the row is from memory.
    estimated : tuple of (attribute, how)
        What the source does not give; empty for the tables.
    """

    name: str
    bending_Pa: float
    tension_Pa: float
    tension_perp_Pa: float
    compression_Pa: float
    compression_perp_Pa: float
    shear_Pa: float
    E_mean_Pa: float
    E_05_Pa: float
    E_perp_mean_Pa: float
    G_mean_Pa: float
    density_k_kg_m3: float
    density_mean_kg_m3: float
    provenance: TimberProvenance
    source: str
    note: str
    estimated: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, kw_only=True)
class TableFactor:
    """One row of the table of factors.

    Parameters
    ----------
    kind, property, key : str
        What it is, of which property, and under which condition; empty where that plays no part.
    """

    kind: str
    property: str
    key: str
    value: float
    provenance: TimberProvenance
    source: str
    note: str


def _scaled(text: str, exponent: int) -> float:
    # a decimal shift in the text gives the float nearest to the printed value
    return float(f"{text}e{exponent}")


def _maybe(text: str, exponent: int = 0) -> float | None:
    return _scaled(text, exponent) if text else None


def _average(row: Mapping[str, str], name: str, unit: str = "MPa") -> Average:
    exponent = {"MPa": 6, "GPa": 9}[unit]
    green, dry = row[f"{name}_green_{unit}"], row[f"{name}_12_{unit}"]
    return Average(green_Pa=_maybe(green, exponent), dry_Pa=_maybe(dry, exponent))


_SPECIES: Final = "timber_species.csv"
_CLASSES: Final = "timber_classes.csv"


@cache
def clear_woods() -> tuple[ClearWood, ...]:
    """Return every species of the table, in its order."""
    return tuple(_clear_wood(row) for row in rows_of(_SPECIES))


def species_names() -> tuple[str, ...]:
    """Return the name of every species of the table, in its order."""
    return column_of(_SPECIES, "name")


def _clear_wood(row: Mapping[str, str]) -> ClearWood:
    return ClearWood(
        name=row["name"],
        botanical_name=row["botanical_name"],
        specific_gravity_green=_maybe(row["sg_green"]),
        specific_gravity_dry=_maybe(row["sg_12"]),
        stated_density_kg_m3=_maybe(row["density_12_kg_m3"]),
        bending=_average(row, "bending"),
        modulus=_average(row, "E", "GPa"),
        modulus_is_apparent={"yes": True, "not stated": False}[row["E_is_apparent"]],
        compression=_average(row, "compression"),
        compression_perp=_average(row, "compression_perp"),
        shear=_average(row, "shear"),
        tension_perp=_average(row, "tension_perp"),
        green_limit=_scaled(row["Mp_pct"], -2),
        E_T_ratio=_maybe(row["ET_over_EL"]),
        E_R_ratio=_maybe(row["ER_over_EL"]),
        G_LR_ratio=_maybe(row["GLR_over_EL"]),
        G_LT_ratio=_maybe(row["GLT_over_EL"]),
        provenance=_PROVENANCES[row["provenance"]],
        elastic_provenance=(_PROVENANCES[row["elastic_provenance"]] if row["elastic_provenance"] else None),
        source=row["source"],
        elastic_source=_RATIOS_FROM if row["ET_over_EL"] else "",
        note=row["note"],
    )


@cache
def strength_classes() -> tuple[StrengthClass, ...]:
    """Return every strength class of the table, in its order."""
    return tuple(_strength_class(row) for row in rows_of(_CLASSES))


def strength_class_names() -> tuple[str, ...]:
    """Return the name of every strength class of the table, in its order."""
    return column_of(_CLASSES, "name")


def _strength_class(row: Mapping[str, str]) -> StrengthClass:
    return StrengthClass(
        name=row["name"],
        bending_Pa=_scaled(row["fm_k_MPa"], 6),
        tension_Pa=_scaled(row["ft_0_k_MPa"], 6),
        tension_perp_Pa=_scaled(row["ft_90_k_MPa"], 6),
        compression_Pa=_scaled(row["fc_0_k_MPa"], 6),
        compression_perp_Pa=_scaled(row["fc_90_k_MPa"], 6),
        shear_Pa=_scaled(row["fv_k_MPa"], 6),
        E_mean_Pa=_scaled(row["E_0_mean_GPa"], 9),
        E_05_Pa=_scaled(row["E_0_05_GPa"], 9),
        E_perp_mean_Pa=_scaled(row["E_90_mean_GPa"], 9),
        G_mean_Pa=_scaled(row["G_mean_GPa"], 9),
        density_k_kg_m3=float(row["rho_k_kg_m3"]),
        density_mean_kg_m3=float(row["rho_mean_kg_m3"]),
        provenance=_PROVENANCES[row["provenance"]],
        source=row["source"],
        note=row["note"],
    )


@cache
def timber_factors() -> tuple[TableFactor, ...]:
    """Return every factor of the table, in its order."""
    return tuple(
        TableFactor(
            kind=row["kind"],
            property=row["property"],
            key=row["key"],
            value=float(row["value"]),
            provenance=_PROVENANCES[row["provenance"]],
            source=row["source"],
            note=row["note"],
        )
        for row in rows_of("timber_factors.csv")
    )


def factor_rows(kind: str, property: str = "") -> tuple[TableFactor, ...]:
    """Return the factors of a kind, of one property, in the order of the table; there may be none."""
    return tuple(f for f in timber_factors() if (f.kind, f.property) == (kind, property))


@cache
def find_clear_wood(name: str) -> ClearWood:
    """Return a species by the name the table gives it.

    Raises
    ------
    MaterialError
        If there is none of that name.
    """
    for row in rows_of(_SPECIES):
        if row["name"] == name:
            return _clear_wood(row)
    if name in strength_class_names():
        raise MaterialError(name, "this is a strength class, not a species", "Take the basis 'EN 338'.")
    raise _unknown(name, "species", species_names())


@cache
def find_strength_class(name: str) -> StrengthClass:
    """Return a class of EN 338 by its name.

    Raises
    ------
    MaterialError
        If there is none of that name.
    """
    for row in rows_of(_CLASSES):
        if row["name"] == name:
            return _strength_class(row)
    if name in species_names():
        raise MaterialError(name, "this is a species, not a strength class", "Take the basis 'clear-wood'.")
    raise _unknown(name, "strength class", strength_class_names())


def _unknown(name: str, what: str, names: Sequence[str]) -> MaterialError:
    remedy = did_you_mean(nearest(name, names), f"Choose one such as '{names[0]}'.")
    return MaterialError(name, f"there is no {what} of this name", remedy)
