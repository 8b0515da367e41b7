"""The wind at the mast: speed and pressure by height, and Beaufort's bands."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ..formulas import Value, Working
from ..formulas.wind import log_law_speed, power_law_speed, wind_pressure
from ..frozen import dataclass
from ..rig import Wind

Floats = NDArray[np.float64]

BEAUFORT_TOP_M_S = (0.2, 1.5, 3.3, 5.4, 7.9, 10.7, 13.8, 17.1, 20.7, 24.4, 28.4, 32.6)
"""Top of each Beaufort band at 10 m, forces 0 to 11; tables of two weather services, read."""

LOWEST_HEIGHT_M = 1.0
"""Below this height above the water the wind at this height is used: EN 1991-1-4, Table 4.1, category 0."""


@dataclass(frozen=True)
class WindAtMast:
    """Wind by height z on the mast.

    Parameters
    ----------
    air : Wind
        Density and profile.
    waterline_m : float
        Height z of the waterline.
    """

    air: Wind
    waterline_m: float

    @property
    def lowest_m(self) -> float:
        """Height z below which the profile is held constant: a kink for whoever integrates."""
        return self.waterline_m + LOWEST_HEIGHT_M

    def speed_m_s(self, v_ref_m_s: Value, z: Floats, working: Working | None = None) -> Floats:
        """Return the wind speed at heights z for a wind stated at the reference height."""
        air = self.air
        h = np.maximum(z - self.waterline_m, LOWEST_HEIGHT_M)
        use = (working or Working()).use
        if air.profile == "power-law":
            v = use(power_law_speed, v_ref=v_ref_m_s, h=h, h_ref=air.reference_height_m, alpha=air.exponent)
        elif air.profile == "log-law":
            v = use(
                log_law_speed, v_ref=v_ref_m_s, h=h, h_ref=air.reference_height_m, z_0=air.roughness_length_m
            )
        else:
            v = v_ref_m_s + np.zeros(h.shape)
        return np.asarray(v)

    def pressure_Pa(self, v_ref_m_s: Value, z: Floats, working: Working | None = None) -> Floats:
        """Return the dynamic pressure at heights z for a wind stated at the reference height."""
        v = self.speed_m_s(v_ref_m_s, z, working)
        return np.asarray((working or Working()).use(wind_pressure, rho=self.air.air_density_kg_m3, v=v))

    def pressure_shape(self, z: Floats) -> Floats:
        """Return pressure over pressure at the reference height."""
        return np.asarray(self.pressure_Pa(1.0, z) / wind_pressure(self.air.air_density_kg_m3, 1.0))
