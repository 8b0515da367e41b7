"""The figure of signs.

``python -m tests.notes.signs`` writes ``reference_notes/signs.svg``; tests hold the file to this, and what it shows to
a mast that is worked out.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Final

FILE: Final = Path(__file__).parents[2] / "reference_notes" / "signs.svg"

STEP, PARTNERS, TIP = 480.0, 360.0, 60.0
"""Heights of the figure, downwards."""
MAST, SHEAR, MOMENT = 210.0, 610.0, 770.0
"""Where the mast and the two curves stand."""
SPAN = PARTNERS - TIP
BURY = STEP - PARTNERS
LOAD = 100.0
"""Width of the curve of shear under the whole load."""


def line(
    x1: float, y1: float, x2: float, y2: float, *, width: float = 1.2, dash: str = "", head: bool = False
) -> str:
    extra = f' stroke-dasharray="{dash}"' if dash else ""
    extra += ' marker-end="url(#head)"' if head else ""
    return f'<line x1="{x1:g}" y1="{y1:g}" x2="{x2:g}" y2="{y2:g}" stroke="#222" stroke-width="{width:g}"{extra}/>'


def text(x: float, y: float, said: str, *, anchor: str = "start", weight: str = "normal") -> str:
    return f'<text x="{x:g}" y="{y:g}" text-anchor="{anchor}" font-weight="{weight}">{said}</text>'


def curve(points: Iterable[tuple[float, float]], fill: str) -> str:
    said = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
    return f'<polygon points="{said}" fill="{fill}" stroke="#222" stroke-width="1"/>'


def figure() -> str:
    """Return the figure: a mast under an even load to leeward, its reactions, shear and moment."""
    heights = [TIP + SPAN * i / 20 for i in range(21)]
    shear_above = [(SHEAR + LOAD * (y - TIP) / SPAN, y) for y in heights]
    below = LOAD * SPAN / 2 / BURY
    moment_above = [(MOMENT + LOAD * ((y - TIP) / SPAN) ** 2, y) for y in heights]
    parts = [
        '<rect width="1040" height="570" fill="#fff"/>',
        '<defs><marker id="head" viewBox="0 0 10 10" refX="9" refY="5" markerWidth="7" markerHeight="7" '
        'orient="auto-start-reverse"><path d="M0,0 L10,5 L0,10 z" fill="#222"/></marker></defs>',
        # the mast
        line(MAST, STEP, MAST, TIP, width=7),
        *(line(MAST - 62, y, MAST - 8, y, head=True) for y in range(75, 350, 30)),
        text(MAST - 66, TIP - 14, "load, positive to leeward", anchor="middle"),
        text(MAST + 12, TIP + 4, "tip, z = length"),
        text(MAST - 70, 229, "windward face:", anchor="end"),
        text(MAST - 70, 246, "pulled", anchor="end"),
        text(MAST + 14, 220, "leeward face: pressed,"),
        text(MAST + 14, 236, "compression is positive"),
        # reactions
        line(MAST + 80, PARTNERS, MAST + 8, PARTNERS, width=3, head=True),
        text(MAST + 84, PARTNERS - 6, "partners, z = bury:"),
        text(MAST + 84, PARTNERS + 11, "force on the mast"),
        text(MAST + 84, PARTNERS + 28, "to windward: negative"),
        line(MAST - 62, STEP, MAST - 8, STEP, width=3, head=True),
        text(MAST - 66, STEP - 10, "step, z = 0:", anchor="end"),
        text(MAST - 66, STEP + 7, "force to leeward,", anchor="end"),
        text(MAST - 66, STEP + 24, "positive", anchor="end"),
        line(MAST, STEP + 58, MAST, STEP + 8, width=3, head=True),
        text(MAST + 10, STEP + 50, "thrust of the step, up"),
        # bury
        line(MAST - 20, PARTNERS, MAST - 20, STEP, dash="4 3"),
        text(MAST - 26, (PARTNERS + STEP) / 2, "bury", anchor="end"),
        # axes
        line(20, 160, 20, 110, head=True),
        text(12, 100, "z, from the heel"),
        line(20, 160, 70, 160, head=True),
        text(76, 156, "y, leeward"),
        text(12, 186, "x forward, into the"),
        text(12, 203, "sheet"),
        # shear
        curve([(SHEAR, TIP), *shear_above, (SHEAR, PARTNERS)], "#cfe3f5"),
        curve(
            [(SHEAR, PARTNERS), (SHEAR - below, PARTNERS), (SHEAR - below, STEP), (SHEAR, STEP)], "#f5d9cf"
        ),
        text(SHEAR, TIP - 26, "shear", anchor="middle", weight="bold"),
        text(SHEAR - 10, PARTNERS - 90, "+ : load above", anchor="end"),
        text(SHEAR - 6, STEP + 20, "- : moment at partners / bury", anchor="middle"),
        line(SHEAR, TIP - 12, SHEAR, STEP + 4),
        # moment
        curve([(MOMENT, TIP), *moment_above, (MOMENT, STEP)], "#dcefd2"),
        text(MOMENT, TIP - 26, "moment", anchor="middle", weight="bold"),
        text(MOMENT + 108, PARTNERS + 4, "greatest at the partners"),
        text(MOMENT + 12, STEP + 20, "nothing at the step"),
        text(MOMENT + 70, PARTNERS - 130, "+ : a load to leeward above"),
        line(MOMENT, TIP - 12, MOMENT, STEP + 4),
    ]
    return "\n".join(
        (
            '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1040 570" font-family="sans-serif" font-size="13">',
            "<title>Signs: a mast under an even load to leeward</title>",
            *parts,
            "</svg>\n",
        )
    )


if __name__ == "__main__":
    FILE.write_text(figure(), encoding="utf-8", newline="\n")
