"""Fibres, resins and the plies made of them."""

from __future__ import annotations

import dataclasses
import math
from types import MappingProxyType
from typing import Any, Final, Literal

from ...formulas.laminates import (
    chamis_modulus,
    fibre_fraction_of_thickness,
    fibre_governed_strength,
    halpin_tsai_modulus,
    inverse_rule_modulus,
    mixture_modulus,
    mixture_poisson_ratio,
    ply_density,
    ply_thickness,
    puck_shear_modulus,
    puck_transverse_modulus,
)
from ...frozen import dataclass
from ..metals import MaterialError

Provenance = Literal["read", "memory", "computed"]
Method = Literal["inverse", "halpin-tsai", "halpin-tsai-1.5", "chamis", "puck"]

METHODS: Final = MappingProxyType(
    {
        "inverse": "inverse rule for E2 and G12: a low bound, a third or so under tests of glass",
        "halpin-tsai": "Halpin-Tsai, xi 2 for E2 and 1 for G12",
        "halpin-tsai-1.5": "Halpin-Tsai, xi 1.5 for E2 and 1 for G12",
        "chamis": "Chamis for E2 and G12",
        "puck": "the fits of Puck's school for E2 and G12",
    }
)
"""How stiffness across the fibres and in shear can be estimated; E1 and nu12 are the rule of mixtures."""

UNIDIRECTIONAL: Final = ((0.0, 1.0),)

STRENGTHS: Final = ("Xt_Pa", "Xc_Pa", "Yt_Pa", "Yc_Pa", "S12_Pa")
STRAINS: Final = ("strain_1t", "strain_1c", "strain_2t", "strain_2c", "strain_12")


@dataclass(frozen=True, kw_only=True)
class Fibre:
    """A fibre before it is in a ply.

    Parameters
    ----------
    name : str
        As the table writes it.
    E1_Pa, E2_Pa, G12_Pa, nu12 : float
        Stiffness along and across the fibre, in shear, and Poisson's ratio.
    density_kg_m3 : float
        Density.
    tension_in_ply_Pa, compression_in_ply_Pa : float or None
        Stress of the fibre at which plies break, worked back from tests of plies; never that of a single
        virgin filament, which is half as much again or more.
    provenance : {"read", "memory", "computed"}
        Of its weakest value.
    source, note : str
        Where it comes from; anything else to know.
    """

    name: str
    E1_Pa: float
    E2_Pa: float
    G12_Pa: float
    nu12: float
    density_kg_m3: float
    tension_in_ply_Pa: float | None = None
    compression_in_ply_Pa: float | None = None
    provenance: Provenance
    source: str
    note: str = ""

    def __post_init__(self) -> None:
        _demand_positive(self, "E1_Pa", "E2_Pa", "G12_Pa", "density_kg_m3")


@dataclass(frozen=True, kw_only=True)
class Resin:
    """A cast resin, alike in all directions.

    Parameters
    ----------
    name : str
        As the table writes it.
    E_Pa, G_Pa, nu : float
        Stiffness in pull and in shear, and Poisson's ratio.
    density_kg_m3 : float
        Density.
    tension_Pa, compression_Pa, shear_Pa : float or None
        Strengths.
    ultimate_strain : float or None
        Strain at which it breaks in tension.
    provenance : {"read", "memory", "computed"}
        Of its weakest value.
    source, note : str
        Where it comes from; anything else to know.
    """

    name: str
    E_Pa: float
    G_Pa: float
    nu: float
    density_kg_m3: float
    tension_Pa: float | None = None
    compression_Pa: float | None = None
    shear_Pa: float | None = None
    ultimate_strain: float | None = None
    provenance: Provenance
    source: str
    note: str = ""

    def __post_init__(self) -> None:
        _demand_positive(self, "E_Pa", "G_Pa", "density_kg_m3")


@dataclass(frozen=True, kw_only=True)
class PlyMaterial:
    """What a ply is, before it is known how heavy the cloth is.

    Parameters
    ----------
    name : str
        As the table writes it.
    fibres : tuple of (float, float), or None
        Direction from axis 1, in radians, and share of each lot of fibres; None where it is not known.
    fibre_fraction : float
        Share of fibre by volume.
    fibre_density_kg_m3, density_kg_m3 : float
        Density of the fibre alone, and of the ply.
    E1_Pa, E2_Pa, G12_Pa, nu12 : float
        Stiffness along axis 1, across it, in shear, and the greater Poisson's ratio.
    Xt_Pa, Xc_Pa, Yt_Pa, Yc_Pa, S12_Pa : float or None
        Strengths along axis 1 and across it, in tension and compression, and in shear, all positive. The
        tables hold typical values, not minima: nothing is taken off for scatter.
    strain_1t, strain_1c, strain_2t, strain_2c, strain_12 : float or None
        Ultimate strains, all positive; where one is None it is strength over modulus.
    provenance : {"read", "memory", "computed"}
        Of its weakest value.
    source, note : str
        Where it comes from; anything else to know.

    Raises
    ------
    MaterialError
        Where a value cannot be.
    """

    name: str
    fibres: tuple[tuple[float, float], ...] | None = UNIDIRECTIONAL
    fibre_fraction: float
    fibre_density_kg_m3: float
    density_kg_m3: float
    E1_Pa: float
    E2_Pa: float
    G12_Pa: float
    nu12: float
    Xt_Pa: float | None = None
    Xc_Pa: float | None = None
    Yt_Pa: float | None = None
    Yc_Pa: float | None = None
    S12_Pa: float | None = None
    strain_1t: float | None = None
    strain_1c: float | None = None
    strain_2t: float | None = None
    strain_2c: float | None = None
    strain_12: float | None = None
    provenance: Provenance
    source: str
    note: str = ""

    def __post_init__(self) -> None:
        _demand_positive(self, "E1_Pa", "E2_Pa", "G12_Pa", "density_kg_m3", "fibre_density_kg_m3")
        _demand_positive(self, *(n for n in STRENGTHS + STRAINS if getattr(self, n) is not None))
        _demand_fraction(self.name, "fibre_fraction", self.fibre_fraction)
        if not self.nu12**2 * self.E2_Pa / self.E1_Pa < 1.0:
            raise MaterialError(
                self.name,
                f"nu12 of {self.nu12:g} cannot be with E2/E1 of {self.E2_Pa / self.E1_Pa:.3g}",
                "Give Poisson's ratio of shrinkage across the fibres for stretch along them.",
            )

    @property
    def unidirectional(self) -> bool:
        """Whether all its fibres lie along axis 1."""
        return self.fibres == UNIDIRECTIONAL

    def of_fibre_mass(self, areal_mass_kg_m2: float) -> Ply:
        """Return the ply of a cloth of so much dry fibre to the area."""
        _demand_amount(self.name, "cloth", areal_mass_kg_m2, "kg/m2")
        thickness = ply_thickness(W=areal_mass_kg_m2, rho_f=self.fibre_density_kg_m3, V_f=self.fibre_fraction)
        return self._laid(float(thickness), areal_mass_kg_m2)

    def of_thickness(self, thickness_m: float) -> Ply:
        """Return the ply of a thickness, at this fibre fraction.

        A cloth that came out thicker than `of_fibre_mass` makes it holds less fibre to the volume: it is
        another material, with less stiffness, and `fibre_fraction_of` tells its fraction.
        """
        _demand_amount(self.name, "thickness", thickness_m, "m")
        return self._laid(thickness_m, thickness_m * self.fibre_density_kg_m3 * self.fibre_fraction)

    def _laid(self, thickness_m: float, fibre_mass_kg_m2: float) -> Ply:
        own: dict[str, Any] = {f.name: getattr(self, f.name) for f in dataclasses.fields(PlyMaterial)}
        return Ply(**own, thickness_m=thickness_m, fibre_mass_kg_m2=fibre_mass_kg_m2)


@dataclass(frozen=True, kw_only=True)
class Ply(PlyMaterial):
    """A ply as laid.

    Parameters
    ----------
    thickness_m : float
        Thickness.
    fibre_mass_kg_m2 : float
        Dry fibre to the area.
    """

    thickness_m: float
    fibre_mass_kg_m2: float

    def __post_init__(self) -> None:
        super().__post_init__()
        _demand_positive(self, "thickness_m", "fibre_mass_kg_m2")

    @property
    def mass_kg_m2(self) -> float:
        """Mass to the area, resin and all."""
        return self.density_kg_m3 * self.thickness_m


def fibre_fraction_of(fibre: Fibre, *, areal_mass_kg_m2: float, thickness_m: float) -> float:
    """Return the share of fibre by volume in a ply whose thickness was measured.

    Raises
    ------
    MaterialError
        Where the fibre alone would be thicker.
    """
    _demand_amount(fibre.name, "thickness", thickness_m, "m")
    share = float(fibre_fraction_of_thickness(W=areal_mass_kg_m2, rho_f=fibre.density_kg_m3, t=thickness_m))
    _demand_fraction(fibre.name, "fibre fraction", share)
    return share


def ply_from_constituents(
    fibre: Fibre,
    resin: Resin,
    *,
    fibre_fraction: float,
    areal_mass_kg_m2: float,
    method: Method,
    void_fraction: float = 0.0,
) -> Ply:
    """Estimate a unidirectional ply from what it is made of.

    Only the strength along the fibres in tension follows, and only where the fibre's strength was worked
    back from plies. Strengths across the fibres, in shear and in compression must come from tests.

    Parameters
    ----------
    fibre, resin : Fibre, Resin
        What it is made of.
    fibre_fraction : float
        Share of the volume that is fibre.
    areal_mass_kg_m2 : float
        Dry fibre to the area.
    method : str
        One of `METHODS`.
    void_fraction : float
        Share of the volume that is air. Voids take the place of resin in E1, density and strength; in stiffness
        across the fibres and in shear they are left out.

    Returns
    -------
    Ply
        Stiffness and strength in Pa, thickness in m.

    Raises
    ------
    MaterialError
        Where a share cannot be or there is no such method.
    """
    name = f"{fibre.name}/{resin.name} {fibre_fraction:.3g}"
    _demand_fraction(name, "fibre fraction", fibre_fraction)
    if not 0.0 <= void_fraction < 1.0 - fibre_fraction:
        raise MaterialError(
            name,
            f"a void fraction of {void_fraction:g} leaves no resin",
            "Give the voids' share of the volume.",
        )
    shares = {"V_f": fibre_fraction, "V_m": 1.0 - fibre_fraction - void_fraction}
    E2, G12 = _across(fibre, resin, fibre_fraction, method, name)
    strength = fibre.tension_in_ply_Pa
    rho = float(ply_density(rho_f=fibre.density_kg_m3, rho_m=resin.density_kg_m3, **shares))
    marks = {fibre.provenance, resin.provenance}
    return PlyMaterial(
        name=name,
        fibre_fraction=fibre_fraction,
        fibre_density_kg_m3=fibre.density_kg_m3,
        density_kg_m3=rho,
        E1_Pa=float(mixture_modulus(E_f1=fibre.E1_Pa, E_m=resin.E_Pa, **shares)),
        E2_Pa=E2,
        G12_Pa=G12,
        nu12=float(mixture_poisson_ratio(nu_f=fibre.nu12, nu_m=resin.nu, V_f=fibre_fraction)),
        Xt_Pa=None
        if strength is None
        else float(fibre_governed_strength(F_f=strength, E_f1=fibre.E1_Pa, E_m=resin.E_Pa, **shares)),
        provenance="memory" if "memory" in marks else "computed",
        source=f"computed by {METHODS[method]}; fibre: {fibre.source}; resin: {resin.source}",
        note="no strengths but the tensile one along the fibres can be computed",
    ).of_fibre_mass(areal_mass_kg_m2)


def _across(fibre: Fibre, resin: Resin, V_f: float, method: str, name: str) -> tuple[float, float]:
    stiff = {"P_f": fibre.E2_Pa, "P_m": resin.E_Pa, "V_f": V_f}
    shear = {"P_f": fibre.G12_Pa, "P_m": resin.G_Pa, "V_f": V_f}
    match method:
        case "inverse":
            found = inverse_rule_modulus(**stiff), inverse_rule_modulus(**shear)
        case "halpin-tsai":
            found = halpin_tsai_modulus(xi=2.0, **stiff), halpin_tsai_modulus(xi=1.0, **shear)
        case "halpin-tsai-1.5":
            found = halpin_tsai_modulus(xi=1.5, **stiff), halpin_tsai_modulus(xi=1.0, **shear)
        case "chamis":
            found = chamis_modulus(**stiff), chamis_modulus(**shear)
        case "puck":
            found = (
                puck_transverse_modulus(E_f2=fibre.E2_Pa, E_m=resin.E_Pa, nu_m=resin.nu, V_f=V_f),
                puck_shear_modulus(G_f=fibre.G12_Pa, G_m=resin.G_Pa, V_f=V_f),
            )
        case _:
            raise MaterialError(
                name, f"there is no method {method!r}", f"Choose one of {', '.join(METHODS)}."
            )
    return float(found[0]), float(found[1])


def _demand_positive(thing: Fibre | Resin | PlyMaterial, *fields: str) -> None:
    for field in fields:
        value = getattr(thing, field)
        if not 0.0 < value < math.inf:
            raise MaterialError(thing.name, f"{field} is {value:g}", "Give a value above zero.")


def _demand_fraction(name: str, what: str, value: float) -> None:
    if not 0.0 < value < 1.0:
        raise MaterialError(name, f"a {what} of {value:g} cannot be", "Give a share between 0 and 1.")


def _demand_amount(name: str, what: str, value: float, unit: str) -> None:
    if not 0.0 < value < math.inf:
        raise MaterialError(name, f"a {what} of {value:g} {unit} makes no sense", "Give it above zero.")
