"""What every output says to whoever would build from it."""

from __future__ import annotations

CAUTIONS = (
    "A falling mast can kill or maim: every size given here is preliminary.",
    "Before you order or build, have a naval architect or surveyor review the mast, its bearings and the hull "
    "that holds them; local codes and licensed practice come first.",
    "Look up: stay far from overhead power lines, 3 m at the least up to 50 kV and more above (29 CFR 1926.1408, "
    "a crane rule, as a yardstick). Every spar conducts, timber too.",
    "Keep hands clear of a turning mast and its drum, and people from under a mast being stepped.",
    "Inspect mast and bearings each season, at partners and heel above all.",
)

NOT_CHECKED = (
    "Not checked by this version: corrosion beyond mast.wall_loss, rot, bearings that the file does not describe, and "
    "the structure of hull and deck. Sway from vortex shedding and the hand's pull in furling are told, not checked."
)
