"""Printing from a command: text comes from files and people, so control codes never reach the terminal."""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from shutil import get_terminal_size
from textwrap import wrap
from typing import TextIO

from tui.commands.refusal import Refusal
from tui.plain import plain

_WIDEST, _NARROWEST = 100, 20


def say(text: str = "") -> None:
    """One line on standard output."""
    _write(sys.stdout, text)


def wrapped(text: str, indent: str, hanging: str) -> list[str]:
    """`text` in lines as wide as the terminal, at most 100 columns; `hanging` indents all but the first."""
    width = max(min(get_terminal_size().columns, _WIDEST), len(hanging) + _NARROWEST)
    return wrap(plain(text), width, initial_indent=indent, subsequent_indent=hanging)


def complain(text: str) -> None:
    """One line on standard error."""
    _write(sys.stderr, text)


def tolerate_any_encoding() -> None:
    """A terminal that cannot show a letter gets an escape of it, never an exception."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="backslashreplace")


def flush() -> None:
    """Hand over what is buffered, while a full disk or a closed pipe can still be told."""
    if sys.stdout is not None:
        try:
            sys.stdout.flush()
        except BrokenPipeError:
            raise
        except OSError as error:
            drop_output()
            raise Refusal(_cannot_write(error)) from None


def drop_output() -> None:
    """Send what is still buffered nowhere, so that the interpreter does not fail on it at exit."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    for stream in (sys.stdout, sys.stderr):
        if stream is not None:
            with suppress(OSError):  # a stream without a file behind it
                os.dup2(nowhere, stream.fileno())


def _cannot_write(error: OSError) -> str:
    return f"the output could not be written: {error.strerror}. Make room, or send it elsewhere."


def _write(stream: TextIO | None, text: str) -> None:
    if stream is None:  # the caller closed it
        return
    try:
        stream.write(plain(text).replace("\n", " ") + "\n")
    except BrokenPipeError:
        raise
    except OSError as error:
        raise Refusal(_cannot_write(error)) from None
