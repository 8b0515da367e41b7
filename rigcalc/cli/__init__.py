"""The command line: reads the words, calls one function each, and says how it went by its exit code.

Heavy imports stand inside the commands, so that ``--help`` costs no more than argparse.
"""

from __future__ import annotations

import gc
import io
import os
import sys
from collections.abc import Sequence
from typing import NoReturn

from .common import BAD_INPUT, INTERNAL, INTERRUPTED, PASSED, UnusableError, bad
from .words import parsed

__all__ = ["main", "process"]


def process() -> NoReturn:
    """Run the command of this process, and end it.

    A command lives for seconds and leaves few loops of dead objects: looking for them, as Python does after every
    seven hundred objects and twice more as it ends, would take a tenth of a check.
    """
    gc.set_threshold(70_000)
    code = main()
    gc.freeze()
    sys.exit(code)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command.

    Parameters
    ----------
    arguments : sequence of str, optional
        Words of the command line; those of the process when not given.

    Returns
    -------
    int
        Exit code.
    """
    try:
        options = parsed(arguments)
    except SystemExit as stop:
        return stop.code if isinstance(stop.code, int) else BAD_INPUT
    from ..errors import RigInputError

    _one_core()
    _say_everything()
    try:
        code: int = options.run(options)
        sys.stdout.flush()
        return code
    except RigInputError as error:
        return bad(f"{options.file}: {error}")
    except UnusableError as error:
        return bad(str(error))
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        # the reader went away: nothing is left to say, nor anyone to say it to
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return PASSED
    except Exception:  # a fault of ours: its traceback is what a report of it needs
        import traceback

        traceback.print_exc()
        print("rigcalc: this is a fault in rigcalc, not in your file; please report it.", file=sys.stderr)
        return INTERNAL


def _one_core() -> None:
    """Let numpy start no threads for its linear algebra, unless whoever calls has said how many it may.

    The matrices here have eight rows or so and gain nothing by more; to start them takes a quarter as long as numpy
    itself. It has to be said before numpy is loaded.
    """
    if not {"OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"} & os.environ.keys():
        os.environ["OPENBLAS_NUM_THREADS"] = "1"


def _say_everything() -> None:
    """Let no terminal or pipe of a narrow encoding stop an answer half way."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")
