"""The hull and the air: what holds the mast up and what pushes it."""

from __future__ import annotations

from ..frozen import dataclass
from .fields import Choice, Curve, Quantity, Table, described


@dataclass(frozen=True, kw_only=True)
class Stability:
    """How hard the boat resists heeling, in exactly one of three forms."""

    righting_arm: tuple[tuple[float, float], ...] | None = described(
        Curve(
            "Righting arm GZ by heel, linear between entries, past its greatest value; crew and stores aboard, "
            "and the crew on the rail if they ever sit there.",
            units=("rad", "m"),
            sane=(None, (-5, 5)),
        ),
        default=None,
    )
    gm_m: float | None = described(
        Quantity(
            "Metacentric height, for a wall-sided hull up to 30 deg.", unit="m", above=0, sane=(0.02, 5)
        ),
        default=None,
    )
    bm_m: float | None = described(
        Quantity("Metacentric radius, with gm.", unit="m", at_least=0, sane=(0, 20)), default=None
    )
    moment_30_N_m: float | None = described(
        Quantity("Righting moment at 30 deg of heel.", unit="N m", above=0, sane=(20, 5e6)), default=None
    )
    moment_max_N_m: float | None = described(
        Quantity("Largest righting moment at any heel.", unit="N m", above=0, sane=(20, 1e7)), default=None
    )
    heel_at_max_rad: float = described(
        Quantity(
            "Heel of the largest righting moment, with moment_max.",
            unit="rad",
            above=0,
            at_most=1.5707963267949,
            when=(lambda t: t.moment_max_N_m is not None, "moment_max is given"),
            default_from="common practice: small ballasted boats have their largest righting moment near 60 deg",
        ),
        default=1.0471975511965976,
    )


@dataclass(frozen=True, kw_only=True)
class Boat:
    """The hull that holds the mast up and that the wind can heel."""

    displacement_kg: float = described(
        Quantity("Mass of the boat ready to sail, crew aboard.", unit="kg", above=0, sane=(30, 60_000))
    )
    waterline_m: float = described(
        Quantity(
            "Height z of the waterline above the heel of the mast; negative for a mast stepped above it.",
            unit="m",
            sane=(-5, 5),
        )
    )
    lateral_centre_m: float = described(
        Quantity(
            "Height z of the centre of lateral resistance; usually negative or small.", unit="m", sane=(-8, 5)
        )
    )
    design_category: str | None = described(
        Choice(
            "Design category of the recreational-craft rules; the standard set of cases runs a D boat in less wind.",
            options={"A": "ocean", "B": "offshore", "C": "inshore", "D": "sheltered"},
        ),
        default=None,
    )
    stability: Stability = described(Table("Resistance to heeling.", of=Stability))
    beam_m: float | None = described(
        Quantity("Greatest beam; with it the roll is worked out.", unit="m", above=0, sane=(0.3, 12)),
        default=None,
    )
    roll_gyration_m: float | None = described(
        Quantity(
            "Radius of gyration in roll, without the mast.",
            unit="m",
            above=0,
            sane=(0.1, 6),
            default_from="0.40 of the beam where the beam is given: 0.35 to 0.45 for small craft, from memory",
        ),
        default=None,
    )
    roll_damping: float = described(
        Quantity(
            "Damping of roll over critical.",
            at_least=0,
            at_most=0.5,
            default_from="none, which gives the greatest swing",
        ),
        default=0.0,
    )
    centre_of_gravity_m: float | None = described(
        Quantity(
            "Height z of the boat's centre of gravity.",
            unit="m",
            sane=(-5, 5),
            default_from="the waterline",
        ),
        default=None,
    )
    ballast_height_m: float | None = described(
        Quantity(
            "Height z at which ballast could be added.",
            unit="m",
            sane=(-8, 5),
            default_from="half a metre below waterline and centre of gravity: judgement",
        ),
        default=None,
    )


STROUHAL = {"en-1991": 0.18, "general": 0.20, "textbook": 0.21}
FALLOFFS = {"cos": 1.0, "cos1.3": 1.3, "cos2": 2.0}


@dataclass(frozen=True, kw_only=True)
class Wind:
    """The air, and how the wind grows with height above the water."""

    air_density_kg_m3: float = described(
        Quantity(
            "Density of air.",
            unit="kg/m3",
            above=0,
            sane=(0.9, 1.6),
            default_from="standard atmosphere at sea level, 15 degC",
        ),
        default=1.225,
    )
    air_viscosity_m2_s: float = described(
        Quantity(
            "Kinematic viscosity of air, for the Reynolds number of the bare mast.",
            unit="m2/s",
            above=0,
            sane=(1e-5, 2e-5),
            default_from="between the values read for 0 and 20 degC",
        ),
        default=1.46e-5,
    )
    profile: str = described(
        Choice(
            "How wind speed varies with height.",
            options={
                "uniform": "the stated wind at every height: more wind low down than the laws give. Where heel "
                "sets the load it gives up to 2 % less at the partners than a law, which puts more aloft",
                "power-law": "v = v_ref (h/h_ref)^exponent",
                "log-law": "v = v_ref ln(h/z0)/ln(h_ref/z0)",
            },
            default_from="the safest where the wind sets the load",
        ),
        default="uniform",
    )
    exponent: float = described(
        Quantity(
            "Exponent of the power law.",
            at_least=0,
            at_most=0.4,
            when=(lambda t: t.profile == "power-law", 'profile = "power-law"'),
            default_from="0.11 over open water, read in a public wind library",
        ),
        default=0.11,
    )
    roughness_length_m: float = described(
        Quantity(
            "Roughness length of the log law.",
            unit="m",
            above=0,
            sane=(1e-5, 0.05),
            when=(lambda t: t.profile == "log-law", 'profile = "log-law"'),
            default_from="calm-water value, read; EN 1991-1-4 uses 0.003 m, which gives less wind low down",
        ),
        default=0.0002,
    )
    reference_height_m: float = described(
        Quantity(
            "Height above the water at which wind speeds are stated.",
            unit="m",
            above=0,
            sane=(1, 50),
            default_from="forecast and Beaufort winds are 10 m winds",
        ),
        default=10.0,
    )
    strouhal: str = described(
        Choice(
            "Strouhal number of a round spar, for vortex shedding.",
            options={
                "en-1991": "0.18, EN 1991-1-4 Table E.1, from memory",
                "general": "0.20, general subcritical value, read",
                "textbook": "0.21, Subramanya Ex. 9.10, read",
            },
            default_from="the lowest of the three, which gives the widest sway",
        ),
        default="en-1991",
    )
    heel_falloff: str = described(
        Choice(
            "How the heeling moment falls off with heel.",
            options={
                "cos": "as the cosine",
                "cos1.3": "as its power 1.3, a sail-training stability text",
                "cos2": "as its square, the wind across the mast",
            },
            default_from="the slowest of the three, so that every heel is reached in the least wind",
        ),
        default="cos",
    )
