"""What a reader must be told of the wood in a mast."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ..materials import Foam
from ..materials.timber import Timber
from ..rig import Rig
from ..structure.sections import Sections


def timber_warnings(rig: Rig, sections: Sections) -> Iterator[str]:
    """Yield what must be told: cautions of the wood, what was recalled of it, and what the glue must do."""
    woods = [layer.made_of for layer in sections.layers if isinstance(layer.made_of, Timber)]
    if not woods:
        return
    both = [wood for piece in woods for wood in (piece, piece.filled) if wood is not None]
    for name in dict.fromkeys(wood.name for wood in both):
        of_it = [wood for wood in both if wood.name == name]
        cautions = dict.fromkeys(text for wood in of_it for text in wood.cautions)
        yield from (f"{name}: {text.removeprefix(f'{name}: ')}." for text in cautions)
        recalled = dict.fromkeys(text for wood in of_it for text in wood.from_memory)
        if recalled:
            yield f"{name}: these values and factors are from memory: {', '.join(recalled)}."
    if any(layer.name.startswith("plug") and isinstance(layer.made_of, Timber) for layer in sections.layers):
        yield (
            "Plugs are counted as glued to the mast all round, the glue as strong as the wood: a dry fit or a starved "
            "joint bears no more than the empty tube."
        )
    if not all(isinstance(layer.made_of, Timber | Foam) for layer in sections.layers):
        yield (
            "Wood creeps and swells beside what does not: the sharing of load with metal or laminate is that of the "
            "first hour, and their share grows with years."
        )
    if sections.layers[0].shape.kind == "turned" and np.any(~sections.layers[0].shape.solid):
        yield (
            "The wall of staves is the thinnest that turning leaves, at the corners of the bore: the staves must be "
            "thicker by as much as is planed away."
        )
