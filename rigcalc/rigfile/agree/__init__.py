"""Checks between fields: what each field alone cannot show to be wrong.

Every rule runs on the fields it could read, so that one slip does not hide another.
"""

from __future__ import annotations

from ...errors import Problem
from ..loose import Loose
from .bearings import bearing_rules
from .boat import boat_rules
from .cases import case_rules
from .fatigue import fatigue_rules
from .laminates import judged, laminate_rules
from .mast import mast_rules
from .materials import material_rules
from .sails import sail_rules, state_rules
from .sizing import sizing_rules
from .stock import stock_rules
from .timber import timber_not_read, timber_rules

__all__ = ["disagreements", "timber_not_read"]


def disagreements(rig: Loose) -> list[Problem]:
    """Return every problem between the fields of a rig."""
    found: list[Problem] = []
    laminates = judged(rig.get("laminates", ()), rig.get("materials", ()))
    if rig.has("boat"):
        found += boat_rules(rig.boat, rig.get("mast"))
    if rig.has("materials"):
        found += material_rules(rig.materials)
    if rig.has("mast"):
        found += mast_rules(rig.mast, rig.get("materials", ()), laminates)
        found += timber_rules(rig)
    found += bearing_rules(rig)
    if rig.has("laminates"):
        found += laminate_rules(laminates, rig.get("materials", ()), rig.get("mast"))
    if isinstance(rig.get("fatigue"), Loose) and rig.has("mast"):
        found += fatigue_rules(rig.fatigue, rig.mast, rig.get("materials", ()))
    if isinstance(rig.get("stock"), Loose):
        found += stock_rules(rig.stock, rig.get("mast"), rig.get("materials", ()))
    if isinstance(rig.get("sizing"), Loose):
        found += sizing_rules(rig.sizing, rig.get("mast"), rig.get("materials", ()), rig.get("laminates", ()))
    if rig.has("sails"):
        found += sail_rules(rig.sails, rig.get("mast"), rig.get("boat"))
    if rig.has("states", "sails"):
        found += state_rules(rig.states, rig.sails)
    if rig.has("cases", "sails", "states"):
        found += case_rules(rig)
    return found
