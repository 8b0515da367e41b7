"""What bushes and rollers are made of: limits, friction, stiffness and growth, each figure with its source.

Sources disagree. Of limits the lowest counts, of other figures the whole span from the lowest to the highest; rows
that were judged wrong stay in the table, marked as not used, with the reason.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Final, Literal

from ..frozen import dataclass
from .metals import MaterialError
from .table_files import column_of, rows_of

BearingProvenance = Literal["read", "judgement", "memory"]
BearingKind = Literal["plastic", "liner", "laminate", "wood", "metal"]

_PROVENANCES: Final[dict[str, BearingProvenance]] = {
    "read": "read",
    "judgement": "judgement",
    "memory": "memory",
}
_KINDS: Final[dict[str, BearingKind]] = {
    "plastic": "plastic",
    "liner": "liner",
    "laminate": "laminate",
    "wood": "wood",
    "metal": "metal",
}
_USE: Final = {"yes": True, "no": False}
_EXPONENTS: Final = {
    "pressure_turning_MPa": 6,
    "pressure_standing_MPa": 6,
    "pressure_sustained_MPa": 6,
    "pv_MPa_m_s": 6,
    "speed_m_s": 0,
    "hottest_degC": 0,
    "friction_dry": 0,
    "friction_wet": 0,
    "E_GPa": 9,
    "nu": 0,
    "expansion_per_MK": -6,
    "swelling_pct": -2,
    "creep_share": 0,
    "wear_per_PPa": -15,
    "play_permille": -3,
    "yield_MPa": 6,
}
"""Quantity of the table -> power of ten to SI. Wear is volume over force and way, 1e-15 m2/N."""
_LOWEST: Final = frozenset(
    {
        "pressure_turning_MPa",
        "pressure_standing_MPa",
        "pressure_sustained_MPa",
        "pv_MPa_m_s",
        "speed_m_s",
        "hottest_degC",
        "creep_share",
        "yield_MPa",
    }
)
"""Quantities of which less is safer."""


@dataclass(frozen=True, kw_only=True)
class BearingRow:
    """One row of the table.

    Parameters
    ----------
    material, kind, quantity : str
        What it is of.
    low, high : float
        In SI.
    used : bool
        False where the row was judged wrong, or not for use unasked.
    provenance : str
        "read", "judgement" or "memory".
    source, note : str
        Where it was found; anything else to know.
    """

    material: str
    kind: BearingKind
    quantity: str
    low: float
    high: float
    used: bool
    provenance: BearingProvenance
    source: str
    note: str


@dataclass(frozen=True, kw_only=True)
class Figure:
    """One property, from one or several sources.

    Parameters
    ----------
    low, high : float
        Span over the sources; equal for limits.
    provenance : str
        "memory" where any of what sets the span is from memory, else "judgement" where any is that.
    source, note : str
        Of every row that sets it.
    """

    low: float
    high: float
    provenance: BearingProvenance
    source: str
    note: str


@dataclass(frozen=True, kw_only=True)
class BearingMaterial:
    """A material of bushes or rollers; None where nothing was found.

    Parameters
    ----------
    name : str
        As the table writes it.
    kind : str
        A liner is a thin layer on metal, which moves as the metal does.
    turning_Pa : Figure or None
        Greatest projected pressure while the mast turns; None for what makes no bush.
    given_standing_Pa : Figure or None
        The same standing still, where a source gives more than one.
    sustained_Pa : Figure or None
        Under a load that stays for days, where a source says.
    pv_Pa_m_s, speed_m_s, hottest_degC : Figure or None
        Greatest pressure times speed, speed, and temperature.
    friction_dry, friction_wet : Figure or None
        On metal; wet is water, or grease where the note says so.
    E_Pa, nu, expansion_per_K, yield_Pa : Figure or None
        Elastic constants, thermal expansion, yield.
    swelling : Figure or None
        Linear growth from dry to soaked.
    creep_share : Figure or None
        Modulus after about 1000 hours over that at once.
    wear_per_Pa : Figure or None
        Volume worn to force and way.
    play : Figure or None
        Usual play over diameter.
    """

    name: str
    kind: BearingKind
    turning_Pa: Figure | None
    given_standing_Pa: Figure | None
    sustained_Pa: Figure | None
    pv_Pa_m_s: Figure | None
    speed_m_s: Figure | None
    hottest_degC: Figure | None
    friction_dry: Figure | None
    friction_wet: Figure | None
    E_Pa: Figure | None
    nu: Figure | None
    expansion_per_K: Figure | None
    swelling: Figure | None
    creep_share: Figure | None
    wear_per_Pa: Figure | None
    play: Figure | None
    yield_Pa: Figure | None

    @property
    def standing_Pa(self) -> Figure | None:
        """Greatest pressure standing still: that of turning where no source gives another."""
        return self.given_standing_Pa or self.turning_Pa

    @property
    def friction(self) -> Figure | None:
        """Friction from the lowest to the highest, dry or wet: water does not dependably lower it."""
        found = [f for f in (self.friction_dry, self.friction_wet) if f is not None]
        return _span(found) if found else None


_TABLE: Final = "bearing_materials.csv"


@cache
def bearing_rows() -> tuple[BearingRow, ...]:
    """Return every row of the table, in its order, those not used among them."""
    return tuple(_row(row) for row in rows_of(_TABLE))


def _row(row: Mapping[str, str]) -> BearingRow:
    return BearingRow(
        material=row["material"],
        kind=_KINDS[row["kind"]],
        quantity=row["quantity"],
        low=_scaled(row["low"], _EXPONENTS[row["quantity"]]),
        high=_scaled(row["high"], _EXPONENTS[row["quantity"]]),
        used=_USE[row["use"]],
        provenance=_PROVENANCES[row["provenance"]],
        source=row["source"],
        note=row["note"],
    )


def bearing_materials() -> tuple[BearingMaterial, ...]:
    """Return every material of the table, in its order."""
    return tuple(_material(name) for name in bearing_material_names())


def bearing_material_names() -> tuple[str, ...]:
    """Return the name of every material of the table, in its order."""
    return column_of(_TABLE, "material")


def find_bearing_material(name: str) -> BearingMaterial:
    """Return the bearing material of a name.

    Raises
    ------
    MaterialError
        If there is none.
    """
    import difflib

    if name in bearing_material_names():
        return _material(name)
    names = {known.casefold(): known for known in bearing_material_names()}
    typed = " ".join(name.casefold().split())
    begun = [known for known in names if typed and known.startswith(typed)]
    near = [names[known] for known in (begun or difflib.get_close_matches(typed, names))[:3]]
    quoted = " or ".join(f"'{known}'" for known in near)
    remedy = f"Did you mean {quoted}?" if near else f"Choose one such as '{bearing_material_names()[0]}'."
    raise MaterialError(name, "there is no bearing material of this name", remedy)


def _scaled(text: str, exponent: int) -> float:
    # a decimal shift in the text gives the float nearest to the printed value
    return float(f"{text}e{exponent}")


@cache
def _material(name: str) -> BearingMaterial:
    rows = [_row(row) for row in rows_of(_TABLE) if row["material"] == name]

    def figure(quantity: str) -> Figure | None:
        used = [row for row in rows if row.quantity == quantity and row.used]
        if not used:
            return None
        if quantity in _LOWEST:
            least = min(row.low for row in used)
            used = [row for row in used if row.low == least]
            return _span([_figure(row, row.low) for row in used])
        return _span([_figure(row, row.high) for row in used])

    return BearingMaterial(
        name=name,
        kind=rows[0].kind,
        turning_Pa=figure("pressure_turning_MPa"),
        given_standing_Pa=figure("pressure_standing_MPa"),
        sustained_Pa=figure("pressure_sustained_MPa"),
        pv_Pa_m_s=figure("pv_MPa_m_s"),
        speed_m_s=figure("speed_m_s"),
        hottest_degC=figure("hottest_degC"),
        friction_dry=figure("friction_dry"),
        friction_wet=figure("friction_wet"),
        E_Pa=figure("E_GPa"),
        nu=figure("nu"),
        expansion_per_K=figure("expansion_per_MK"),
        swelling=figure("swelling_pct"),
        creep_share=figure("creep_share"),
        wear_per_Pa=figure("wear_per_PPa"),
        play=figure("play_permille"),
        yield_Pa=figure("yield_MPa"),
    )


def _figure(row: BearingRow, high: float) -> Figure:
    return Figure(low=row.low, high=high, provenance=row.provenance, source=row.source, note=row.note)


def _span(figures: list[Figure]) -> Figure:
    low, high = min(f.low for f in figures), max(f.high for f in figures)
    # what lies inside the span does not set it
    ends = [f for f in figures if f.low == low or f.high == high]
    marks = {f.provenance for f in ends}
    provenance: BearingProvenance = "read"
    if "memory" in marks:
        provenance = "memory"
    elif "judgement" in marks:
        provenance = "judgement"
    return Figure(
        low=low,
        high=high,
        provenance=provenance,
        source="; ".join(dict.fromkeys(f.source for f in ends)),
        note="; ".join(dict.fromkeys(f.note for f in ends if f.note)),
    )
