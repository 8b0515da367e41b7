"""What the command line says of itself, and how its words are read."""

from __future__ import annotations

import argparse
import re
import sys
from collections.abc import Sequence
from typing import Any, Final, NoReturn

from ..version import __version__
from .commands import COMMANDS, EXIT_CODES, GROUPS, Command
from .common import BAD_INPUT

_FIRST = ("new", "check", "explain", "size", "order", "report")
"""Commands whose first example shows the way in the help of all."""


# ---------------------------------------------------------------- help


def _examples(lines: Sequence[tuple[str, str]]) -> list[str]:
    """Return examples, each with what it is for beside it, or below where that would run wide."""
    found = ["examples:"]
    for said, what in lines:
        line = f"  rigcalc {said}".rstrip()
        if len(line) < 44 and len(what) <= 54:
            found.append(f"{line:<44}  {what}")
        else:
            found += [line, f"      {what}"]
    return found


def _codes(codes: Sequence[str]) -> list[str]:
    return ["exit codes:", *(f"  {code:<4} {means}" for code, means in EXIT_CODES.items() if code in codes)]


def _help_of_all() -> str:
    lines = ["commands, by the way of the work:"]
    for group, commands in GROUPS.items():
        lines.append(f"  {group}")
        lines += [f"    {command.name:<10} {command.does}" for command in commands]
    lines += ["", "`rigcalc COMMAND --help` tells its options, with examples.", ""]
    shown = [COMMANDS[name] for name in _FIRST]
    lines += _examples(
        [(f"{command.name} {command.examples[0][0]}", command.examples[0][1]) for command in shown]
    )
    lines += ["", *_codes(tuple(EXIT_CODES)), ""]
    lines += [
        "A falling mast can kill. rigcalc is an aid to judgement, not a licence to build:",
        "have a naval architect or surveyor review what it says.",
    ]
    return "\n".join(lines)


def _help_of(command: Command) -> str:
    lines = _examples([(f"{command.name} {said}".strip(), what) for said, what in command.examples])
    return "\n".join([*lines, "", *_codes((*command.codes, "70"))])


class _Words(argparse.ArgumentParser):
    """A parser whose complaints name the remedy."""

    def error(self, message: str) -> NoReturn:
        if found := re.match(r"argument COMMAND: invalid choice: '(.*?)' \(choose", message):
            message = _no_command(found[1])
        elif "arguments are required: COMMAND" in message:
            message = "a COMMAND is missing. `rigcalc --help` lists them, `rigcalc new my-boat.toml` begins"
        elif found := re.match(r"the following arguments are required: (.*)", message):
            message = f"{found[1]} is missing. `{self.prog} --help` shows examples"
        self.print_usage(sys.stderr)
        self.exit(BAD_INPUT, f"{self.prog}: {message}\n")


def _no_command(word: str) -> str:
    if re.search(r"[./\\]", word):
        return f"{word!r} stands where a command is wanted: the command comes first, as in `rigcalc check {word}`"
    import difflib

    near = difflib.get_close_matches(word, COMMANDS, n=1, cutoff=0.5)
    hint = f"Did you mean {near[0]}?" if near else "`rigcalc --help` lists them."
    return f"there is no command {word!r}. {hint}"


def parsed(arguments: Sequence[str] | None) -> argparse.Namespace:
    """Return what the words of a command line ask for.

    Parameters
    ----------
    arguments : sequence of str or None
        Those of the process when None.
    """
    given = sys.argv[1:] if arguments is None else list(arguments)
    if given and given[0] in COMMANDS:
        # the words of the other commands would cost a check as much as its text
        own = parser_of(given[0])
        options, left = own.parse_known_args(given[1:])
    else:
        words, of = parser()
        options, left = words.parse_known_args(given)
        own = of[options.command]
    if (
        options.command == "explain"
        and options.file is None
        and len(left) == 1
        and not left[0].startswith("-")
    ):
        # argparse takes no more of what may be left out once an option has come between
        options.file, left = left[0], []
    if left:
        own.error(_unknown(left[0], options.command, own))
    return options


def _unknown(word: str, command: str, own: argparse.ArgumentParser) -> str:
    known = [name for name in own._option_string_actions if name.startswith("--")]
    option = word.partition("=")[0]
    if option in known:
        return f"{option} belongs behind the command, as in `rigcalc {command} FILE {option}`"
    if not word.startswith("-"):
        return f"{word!r} is one word too many for {command}; a name with blanks stands in quotes"
    import difflib

    near = difflib.get_close_matches(option, known, n=1, cutoff=0.5)
    hint = f"Did you mean {near[0]}?" if near else f"It has {', '.join(known)}."
    return f"{command} has no option {option}. {hint}"


def parser() -> tuple[argparse.ArgumentParser, dict[str, argparse.ArgumentParser]]:
    """Return what reads the words of every command, and of each by its name."""
    words = _Words(
        prog="rigcalc",
        usage="rigcalc [-h] [--version] COMMAND ...",
        description="Size a freestanding mast: from a rig file to loads, stresses, buckling, deflection and a verdict.",
        epilog=_help_of_all(),
        **_FORM,
    )
    words.add_argument("--version", action="version", version=f"rigcalc {__version__}")
    commands = words.add_subparsers(
        required=True, metavar="COMMAND", prog="rigcalc", help=argparse.SUPPRESS, parser_class=_Words
    )
    return words, {
        name: _filled(commands.add_parser(name, **_said(command)), command)
        for name, command in COMMANDS.items()
    }


def parser_of(name: str) -> argparse.ArgumentParser:
    """Return what reads the words behind one command."""
    command = COMMANDS[name]
    return _filled(_Words(prog=f"rigcalc {name}", **_said(command)), command)


_FORM: Final[dict[str, Any]] = {
    "formatter_class": argparse.RawDescriptionHelpFormatter,
    "allow_abbrev": False,
}


def _said(command: Command) -> dict[str, Any]:
    return {
        "description": f"{command.does[0].upper()}{command.does[1:]}.",
        "epilog": _help_of(command),
        **_FORM,
    }


def _filled(own: argparse.ArgumentParser, command: Command) -> argparse.ArgumentParser:
    if command.reads:
        own.add_argument("file", metavar="FILE", help="rig file; - reads standard input")
    command.words(own)
    own.set_defaults(command=command.name, run=command.run)
    return own
