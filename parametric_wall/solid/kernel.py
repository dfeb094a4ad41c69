"""The CAD kernel as a guest: loaded once, kept quiet, its settings put back.

This module itself imports no part of the kernel, so that `load` decides how it comes in.
"""

from __future__ import annotations

import gc
import importlib
from collections.abc import Iterator
from contextlib import contextmanager


def load(module: str = "OCP") -> None:
    """Load a big module for a program of one purpose, in two thirds of the usual time.

    The kernel registers some hundred thousand objects that live as long as the
    process. The garbage collector walks them again and again while they are made, and
    once more at the end; paused here, and told afterwards that they stay, it does not.
    Meant for the command line: in somebody else's process the plain import does too.

    Args:
        module: what to load.
    """
    running = gc.isenabled()
    gc.disable()
    try:
        importlib.import_module(module)
    finally:
        if running:
            gc.enable()
    gc.freeze()


@contextmanager
def quiet() -> Iterator[None]:
    """Keep the kernel's own messages off the standard output inside the block."""
    from OCP.Message import Message

    messenger = Message.DefaultMessenger_s()
    printers = list(messenger.Printers())
    for printer in printers:
        messenger.RemovePrinter(printer)
    try:
        yield
    finally:
        for printer in printers:
            messenger.AddPrinter(printer)


@contextmanager
def settings(texts: dict[str, str], numbers: dict[str, int]) -> Iterator[None]:
    """Hold the kernel's process-wide exchange settings at some values inside the block.

    The settings exist only once a reader or a writer has been made.

    Args:
        texts: values by name, of settings that hold text.
        numbers: values by name, of settings that hold a number.

    Raises:
        KeyError: the kernel knows no such setting, or refuses the value.
    """
    from OCP.Interface import Interface_Static

    old_texts = {name: Interface_Static.CVal_s(name) for name in texts}
    old_numbers = {name: Interface_Static.IVal_s(name) for name in numbers}
    try:
        for name, text in texts.items():
            if not Interface_Static.SetCVal_s(name, text):
                raise KeyError(name)
        for name, number in numbers.items():
            if not Interface_Static.SetIVal_s(name, number):
                raise KeyError(name)
        yield
    finally:
        for name, text in old_texts.items():
            Interface_Static.SetCVal_s(name, text)
        for name, number in old_numbers.items():
            Interface_Static.SetIVal_s(name, number)
