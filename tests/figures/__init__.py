"""Figures: the rigs that they are tried on, the examples and some that are odd."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from rigcalc import CheckResult, check, load_rig
from rigcalc.rig import Rig
from rigcalc.rigfile import read_rig

from ..loads_more import ALLOY, BOAT, GZ, MAIN, MAST, ONE_REEF

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = {path.stem: path for path in sorted((ROOT / "examples").glob("*.toml"))}

MOMENTS = '[boat.stability]\nmoment_30 = "1275 N m"\n'
POST = MAST.replace(
    "[mast]", '[mast]\nsupport = "post"\npost = {diameter = "60 mm", wall = "5 mm", thrust_on = "top"}'
)
BOX = MAST.replace("[mast]", '[mast]\nshape = "box"')
ELLIPSE = MAST.replace("[mast]", '[mast]\nshape = "ellipse"').replace(
    'diameter = "80 mm"', 'diameter = "110 mm", breadth = "80 mm"'
)
THIN = MAST.replace('"3 mm"', '"0.6 mm"').replace('"80 mm"', '"35 mm"')
ROLLS = MAIN + 'hold = "rolled"\n'
LONG = "a name that someone typed in full with every word that came to mind on a long winter evening " * 2
UGLY = f"{LONG}$x_1$ & <b>ünï</b> \\\\frac{{1}}{{2}} Donaudampfschifffahrtsgesellschaftskapitaensmuetzenfabrikantin"
LIFT = '[[case]]\nname = "slung"\nkind = "lift"\nlower_height = "0.5 m"\nupper_height = "4.5 m"\n'
FLAT = '[[case]]\nname = "flat"\nkind = "knockdown"\n'
GUST = '[[case]]\nname = "gust"\nkind = "heel-limited"\n'


def rig_text(
    *tables: str, boat: str = BOAT, stability: str = GZ, mast: str = MAST, title: str = "Test rig"
) -> str:
    """Text of a rig file."""
    return "\n".join([f'title = "{title}"', boat, stability, mast, ALLOY, *tables])


_MANY = "".join(
    f'[[case]]\nname = "case number {n} of a long list"\nkind = "wind-limited"\nwind_speed = "{n + 8} kn"\n'
    for n in range(12)
)
ODD = {
    "post": rig_text(MAIN, ONE_REEF, GUST, mast=POST),
    "box": rig_text(MAIN, GUST, mast=BOX),
    "ellipse": rig_text(MAIN, GUST, mast=ELLIPSE),
    "falls": rig_text(ROLLS, GUST, mast=THIN),
    "long names": rig_text(
        MAIN.replace('"main"', f'"{UGLY}"'), GUST.replace('"gust"', f'"{UGLY}"'), title=UGLY
    ),
    "slung only": rig_text(LIFT),
    "flat only": rig_text(FLAT, stability=MOMENTS),
    "many cases": rig_text(MAIN, _MANY),
    "standard set": rig_text(ROLLS, ONE_REEF),
    "stepped high": rig_text(
        MAIN, GUST, boat=BOAT.replace('"0.40 m"', '"-0.60 m"').replace('"0.10 m"', '"-1.2 m"')
    ),
}


@cache
def example(name: str) -> tuple[Rig, CheckResult]:
    """Return an example, or one of the odd rigs, with its result."""
    rig = load_rig(EXAMPLES[name]) if name in EXAMPLES else read_rig(ODD[name])
    return rig, check(rig)
