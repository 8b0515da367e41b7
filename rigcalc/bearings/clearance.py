"""The clearance to machine, so that the mast neither seizes hot and wet nor rattles cold and dry."""

from __future__ import annotations

from dataclasses import dataclass

from ..formulas import Working
from ..formulas.bearings import held_bush_play_change, held_wall_growth, pressed_bore_loss, thermal_growth
from ..materials import BearingMaterial

LEAST_LEFT = 1.5e-3
"""Running clearance over diameter to be left at the worst: low end of 1.5 to 10 in a thousand for plastics, and
0.0015 in a bore of 1 in for lined metal, both read."""
HULL_EXPANSION_PER_K = 25e-6
"""Growth of the ring of deck that holds the bush: glass laminate or plywood, from memory."""


@dataclass(frozen=True)
class Window:
    """Clearances of one bush.

    Parameters
    ----------
    machined_m : float
        As the file has it, at the temperature of the workshop.
    pressed_m : float
        What pressing in leaves.
    tightest_m, loosest_m : float
        Hot and soaked, and cold and dry.
    least_to_machine_m : float
        What would leave the running clearance when tightest.
    """

    machined_m: float
    pressed_m: float
    tightest_m: float
    loosest_m: float
    least_to_machine_m: float

    @property
    def seizes(self) -> bool:
        """Whether nothing is left when hot and soaked."""
        return self.tightest_m <= 0.0


def clearance_window(
    material: BearingMaterial,
    *,
    diameter_m: float,
    wall_m: float,
    clearance_m: float,
    interference_m: float,
    mast_expansion_per_K: float,
    workshop_degC: float,
    coldest_degC: float,
    hottest_degC: float,
    working: Working,
) -> Window | None:
    """Return the clearances of a bush over heat and water, or None where the material's growth is not known.

    The bush is held outside by the deck, so that what it grows beyond the hole goes into its bore; the mast grows
    freely. Pressing in closes the bore by the whole interference.

    Parameters
    ----------
    material : BearingMaterial
        Of the bush.
    diameter_m, wall_m : float
        Of the mast, and thickness of the bush.
    clearance_m, interference_m : float
        Diametral, as machined; of the bush in its hole.
    mast_expansion_per_K : float
        Of the mast.
    workshop_degC, coldest_degC, hottest_degC : float
        Temperatures.
    working : Working
        Where steps are noted.
    """
    if material.expansion_per_K is None or material.swelling is None:
        return None
    nu = 0.4 if material.nu is None else material.nu
    use = working.use
    pressed = clearance_m - float(use(pressed_bore_loss, i=interference_m, share=1.0))

    def gained(temperature: float, swelling: float) -> float:
        rise = temperature - workshop_degC
        hole = use(thermal_growth, alpha=HULL_EXPANSION_PER_K, dT=rise)
        bush = use(thermal_growth, alpha=material.expansion_per_K, dT=rise) + swelling
        return float(
            use(
                held_bush_play_change,
                D=diameter_m,
                t=wall_m,
                epsilon_h=hole,
                epsilon_w=use(held_wall_growth, epsilon_b=bush, epsilon_h=hole, nu=nu),
                epsilon_s=use(thermal_growth, alpha=mast_expansion_per_K, dT=rise),
            )
        )

    every = [
        gained(heat, water) for heat in (coldest_degC, hottest_degC) for water in (0.0, material.swelling)
    ]
    tight, loose = min(every), max(every)
    return Window(
        machined_m=clearance_m,
        pressed_m=pressed,
        tightest_m=pressed + tight,
        loosest_m=pressed + loose,
        least_to_machine_m=LEAST_LEFT * diameter_m - tight + (clearance_m - pressed),
    )
