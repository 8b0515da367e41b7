"""``python -m rigcalc``."""

from .cli import process

if __name__ == "__main__":
    process()
