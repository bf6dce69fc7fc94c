"""Figures that show their working.

A sum is a plain function on SI floats. ``@figure`` registers it with its formula and the meaning of
its symbols; ``Figure.work`` calls the same function once and keeps value, formula, substitution and
inputs as data. Sheets are printed from that data, never from source text.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from lineproof.floor.errors import BadInput
from lineproof.floor.sources import Cell, Reading


@dataclass(frozen=True, slots=True)
class Symbol:
    """One input or output of a figure.

    Parameters
    ----------
    name : str
        Argument name of the function, or ``"result"``.
    letter : str
        The letter used in the formula.
    quantity : str
        Kind of quantity for the units at the edge: length, pressure, temperature, temperature_step,
        area, volume, mass, force, time, angle, velocity, plain ...
    words : str
        Meaning in a few words.
    """

    name: str
    letter: str
    quantity: str
    words: str


@dataclass(frozen=True, slots=True)
class Worked:
    """A figure with its working, as data (SI)."""

    figure: str
    value: float
    quantity: str
    formula: str
    inputs: Mapping[str, float | str]
    symbols: Mapping[str, Symbol]
    result: Symbol
    note: str = ""
    sources: tuple[Cell, ...] = ()

    def substitution(self, show: Callable[[float | str, str], str]) -> str:
        """The formula with each letter replaced by its value.

        Parameters
        ----------
        show : callable
            Turns an SI value and a quantity into text with its unit.

        Returns
        -------
        str
            The right-hand side with values in place of letters.
        """
        by_letter = {
            s.letter: (self.inputs[n], s.quantity) for n, s in self.symbols.items() if n in self.inputs
        }
        right = self.formula.split("=", 1)[-1].strip()
        letters = sorted(by_letter, key=len, reverse=True)
        if not letters:
            return right
        # Whole letters only; a Greek letter is a letter too, so T does not match inside of a delta-T.
        pattern = re.compile(r"(?<!\w)(" + "|".join(map(re.escape, letters)) + r")(?!\w)")
        return pattern.sub(lambda m: show(*by_letter[m.group(1)]), right)


@dataclass(frozen=True, slots=True)
class Figure:
    """A registered sum: one registration serves the command line, the web and the docs."""

    name: str
    call: Callable[..., float]
    formula: str
    symbols: Mapping[str, Symbol]
    result: Symbol
    note: str
    source: str
    defaults: Mapping[str, float | str] = field(default_factory=dict)

    @property
    def title(self) -> str:
        """First line of the function's docstring."""
        return (inspect.getdoc(self.call) or self.name).splitlines()[0]

    def work(self, *, reading: Reading | None = None, **known: float | str) -> Worked:
        """Call the sum once and keep its working.

        Parameters
        ----------
        reading : Reading, optional
            Cells that the inputs came from.
        **known : float or str
            The inputs by argument name, SI.

        Returns
        -------
        Worked
            Value, formula, inputs and sources.

        Raises
        ------
        BadInput
            If an input is missing or not an input of this figure.
        """
        given = {**self.defaults, **known}
        for name in known:
            if name not in self.symbols:
                raise BadInput(
                    f"{name} is not an input of {self.name}",
                    allowed=", ".join(self.symbols),
                    next="use one of these",
                )
        lacking = [n for n in self.symbols if n not in given]
        if lacking:
            raise BadInput(
                f"{self.name} needs {', '.join(lacking)}",
                allowed=", ".join(f"{n} ({s.words})" for n, s in self.symbols.items()),
                next="give each as name=value with its unit",
            )
        return Worked(
            figure=self.name,
            value=float(self.call(**given)),
            quantity=self.result.quantity,
            formula=self.formula,
            inputs=given,
            symbols=self.symbols,
            result=self.result,
            note=self.note,
            sources=reading.as_tuple() if reading else (),
        )


REGISTER: dict[str, Figure] = {}

# The decorated function keeps its own signature, so a wrong argument is found by mypy.
Sum = TypeVar("Sum", bound=Callable[..., float])


def figure(
    name: str,
    *,
    formula: str,
    symbols: Mapping[str, tuple[str, str, str]],
    result: tuple[str, str, str],
    source: str,
    note: str = "",
) -> Callable[[Sum], Sum]:
    """Register a sum as a figure; the function itself is handed back unchanged.

    Parameters
    ----------
    name : str
        Name on the command line, such as ``"dry-fit"``.
    formula : str
        The formula with letters, such as ``"f = (A - D)/(A - B)"``.
    symbols : mapping
        Argument name to (letter, quantity, words), one for each argument.
    result : tuple of str
        (letter, quantity, words) of the value.
    source : str
        Where the formula comes from; ``"common practice, no source"`` where there is none.
    note : str
        Valid range or caution to show with the value.

    Returns
    -------
    callable
        The decorator.
    """

    def register(call: Sum) -> Sum:
        arguments = inspect.signature(call).parameters
        if set(arguments) != set(symbols):
            raise TypeError(f"figure {name}: symbols {sorted(symbols)} against arguments {sorted(arguments)}")
        if name in REGISTER and REGISTER[name].call.__qualname__ != call.__qualname__:
            raise TypeError(f"figure {name} is registered twice")
        REGISTER[name] = Figure(
            name=name,
            call=call,
            formula=formula,
            symbols={n: Symbol(n, *symbols[n]) for n in arguments},
            result=Symbol("result", *result),
            note=note,
            source=source,
            defaults={n: p.default for n, p in arguments.items() if p.default is not inspect.Parameter.empty},
        )
        return call

    return register
