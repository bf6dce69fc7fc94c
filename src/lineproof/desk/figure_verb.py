"""``lineproof figure``: every sum as a hand calculator with units, its working shown."""

from __future__ import annotations

import difflib
from collections.abc import Iterable

from lineproof.floor.errors import BadInput
from lineproof.floor.shown import Shown, show
from lineproof.floor.units import parse
from lineproof.floor.worked import Figure, Worked
from lineproof.sums.figures import load_all


def find(name: str) -> Figure:
    """The figure of that name.

    Parameters
    ----------
    name : str
        As listed by ``lineproof figure``.

    Returns
    -------
    Figure

    Raises
    ------
    BadInput
        With the nearest names.
    """
    figures = load_all()
    if name in figures:
        return figures[name]
    near = difflib.get_close_matches(name, figures, n=4, cutoff=0.4)
    raise BadInput(
        f"no figure is named {name!r}",
        allowed=", ".join(near) if near else f"one of {len(figures)} names",
        next="list them with: lineproof figure",
    )


def read_inputs(figure: Figure, words: Iterable[str]) -> dict[str, float]:
    """Inputs typed as ``name=value`` with units; a formula's letter may stand for the name.

    Parameters
    ----------
    figure : Figure
    words : iterable of str
        Such as ``od=6.625in``.

    Returns
    -------
    dict
        SI values by argument name.

    Raises
    ------
    BadInput
        Naming the word that could not be read.
    """
    letters = {s.letter: n for n, s in figure.symbols.items()}
    known: dict[str, float] = {}
    for word in words:
        name, equals, text = word.partition("=")
        if not equals:
            raise BadInput(
                f"{word!r} is not name=value",
                allowed=", ".join(f"{n}=..." for n in figure.symbols),
                next="write the name, =, the value and its unit, without blanks or in quotes",
            )
        name = name.strip().replace("-", "_")
        name = letters.get(name, name)
        symbol = figure.symbols.get(name)
        if symbol is None:
            near = difflib.get_close_matches(name, figure.symbols, n=1)
            hint = f"did you mean {near[0]}" if near else "use one of these"
            raise BadInput(
                f"{name} is not an input of {figure.name}", allowed=", ".join(figure.symbols), next=hint
            )
        try:
            known[name] = parse(text, symbol.quantity)
        except BadInput as error:
            raise BadInput(
                f"{name}: {error.given}", allowed=error.allowed, by=error.by, next=error.next
            ) from None
    return known


def metric_typed(words: Iterable[str]) -> bool:
    """Whether the inputs look metric, so that the answer is shown the same way."""
    ends = ("mm", "cm", "m", "bar", "kPa", "MPa", "Pa", "C", "L", "kg", "K", "N", "kN", "mL", "m3")
    return any(w.rstrip().endswith(ends) for w in words)


def lines_of(figure: Figure, worked: Worked, shown: Shown) -> list[str]:
    """The working as lines of text.

    Parameters
    ----------
    figure : Figure
    worked : Worked
    shown : Shown

    Returns
    -------
    list of str
        Value first, then formula, substitution, inputs, note, source.
    """

    def say(value: float | str, quantity: str) -> str:
        if isinstance(value, str):
            return value
        if quantity == "length":
            return (
                f'{value / 0.0254:.4g}"'
                if shown.length == "in" and abs(value) < 0.6
                else show(value, quantity, shown)
            )
        return show(value, quantity, shown)

    answer = say(worked.value, worked.quantity)
    lines = [f"{worked.result.words}: {answer}", f"  {worked.formula}"]
    lines.append(f"  {worked.result.letter} = {worked.substitution(say)} = {answer}")
    width = max(len(n) for n in worked.symbols)
    for name, symbol in worked.symbols.items():
        shown_value = say(worked.inputs[name], symbol.quantity)
        lines.append(f"  {name:<{width}}  {symbol.letter} = {shown_value}   {symbol.words}")
    if worked.note:
        lines.append(f"  note: {worked.note}")
    lines.append(f"  source: {figure.source}")
    return lines


def listing() -> list[str]:
    """All figures with the quantity they give, one a line."""
    figures = load_all()
    width = max(map(len, figures))
    return [f"{name:<{width}}  {figures[name].title.rstrip('.')}" for name in sorted(figures)]


def usage(figure: Figure) -> list[str]:
    """How to ask one figure: its formula and inputs."""
    lines = [figure.title, f"  {figure.formula}"]
    for name, symbol in figure.symbols.items():
        default = figure.defaults.get(name)
        tail = "" if default is None else "   (may be left out)"
        lines.append(
            f"  {name}=...   {symbol.letter}: {symbol.words}, {symbol.quantity.replace('_', ' ')}{tail}"
        )
    lines.append(f"  source: {figure.source}")
    return lines
