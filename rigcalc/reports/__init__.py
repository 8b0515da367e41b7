"""What a reader gets: text for the terminal and JSON, both from the same result."""

from .document import as_dict, as_json
from .limits import limits_screen
from .terminal import screen

__all__ = ["as_dict", "as_json", "limits_screen", "screen"]
