"""The best mast: of tubes that can be bought, of staves that can be glued, of plies that can be laid."""

from .best import in_processes, size, size_all
from .record import Neighbour, NoSize, Sized
from .watch import Watch

__all__ = ["Neighbour", "NoSize", "Sized", "Watch", "in_processes", "size", "size_all"]
