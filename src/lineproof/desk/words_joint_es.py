"""Spanish for a joint on a page: steps, line zero, ends, and what is missing, keyed as in ``words_joint``.

Plain site Spanish, **to be read over by a native-speaking fitter**. A caution or a step that is told on the
printed card stands in English there; these are the short steps of the page.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from lineproof.desk.words import SPANISH, term
from lineproof.desk.words_joint import fill
from lineproof.desk.words_sheets import TRADE_ES
from lineproof.floor.shown import Shown, show_inches
from lineproof.plan.joint_model import JointEnd, LineZero

Facts = Mapping[str, object]


def _said(facts: Facts, name: str, shown: Shown) -> str:
    value = facts.get(name)
    return show_inches(value, shown) if isinstance(value, float) else ""


def _cut(f: Facts, s: Shown) -> str:
    bevel = _said(f, "bevel", s)
    return (
        f"Corte a escuadra, bisel{f' de {bevel}' if bevel else ''}, quite las rebabas por dentro y por fuera."
    )


def _mark(f: Facts, s: Shown) -> str:
    depth, second = _said(f, "depth", s), _said(f, "second", s)
    also = f" a {second}" if second else ""
    return f"Marque la profundidad {depth or '________'}, y la segunda marca{also}."


def _face(f: Facts, s: Shown) -> str:
    left = _said(f, "left", s)
    if left:
        return f"De la boca de la campana a la segunda marca debe haber {left}."
    return "Mida de la boca de la campana a la segunda marca; anótelo."


def _push(f: Facts, _: Shown) -> str:
    turn = "con un cuarto de vuelta mientras entra" if f.get("turn") else "derecho, sin girar"
    return f"Empuje hasta el tope de una vez, {turn}, y sostenga: quiere regresarse."


STEPS_ES: Mapping[str, str | Callable[[Facts, Shown], str]] = {
    "cut-bevel-deburr": _cut,
    "clean-and-dry": "Limpio y seco: sin tierra, grasa, agua ni rocío.",
    "dry-fit": "Prueba en seco sin forzar; lea hasta dónde entra. Flojo: alto.",
    "gap-fit": "Mida el tubo y la campana: la holgura debe ser de las que llena el cemento.",
    "mark-depth": _mark,
    "set-pullers": "Ponga correas y polipastos antes de cualquier cemento.",
    "stir-and-look": "Lea la fecha. Agite. Si está hecho gelatina, con grumos o hebras: "
    "tírelo, nunca lo rebaje.",
    "prime": "Primer en la campana, en la espiga y otra vez en la campana hasta que ablande. Que siga "
    "mojado; ponga el cemento mientras lo está.",
    "cement-coats": "Cemento en la espiga, más delgado en la campana, y al final otra vez en la "
    "espiga. Sin charco.",
    "within-working-time": "Hasta el tope dentro del tiempo de trabajo. Si hay nata: pare y "
    "pregunte; no empuje.",
    "push-home": _push,
    "check-second-mark": _face,
    "bead": "Busque un cordón de cemento en toda la vuelta; limpie lo que sobra. Si falta en algún lado: "
    "anótelo y pregunte.",
    "hands-off": "No tocar: nada se mueve, nada se baja, ninguna otra junta en ella.",
}
"""The steps as short as a card wants them."""

MISSING_ES: Mapping[str, str] = {
    "depth": "profundidad de la campana hasta su tope: {part}",
    "saddle-face": "cara de la {part}: mídala",
    "od-family": "familia de diámetros exteriores de la línea {line}",
    "outside-diameter": "diámetro exterior de {size} {series}: mida el tubo",
    "socket-bore": "diámetro a media profundidad de {part}: mídalo",
    "applicators": "aplicadores en la lista de herramienta",
    "puller": "polipastos para {size} en la lista de herramienta",
    "puller-capacity": "cuánto pueden jalar los polipastos para {size}",
    "hub": "diámetro exterior del cubo: {part}",
    "written-instruction": "instrucción escrita para cemento en {size}: ninguna clase de cemento "
    "llega hasta ahí",
    "card-body": "cuerpo del cemento de la tarjeta {card}",
    "film": "película mojada del cemento {body}: cuente juntas por lata",
    "coats": "capas de cemento en el procedimiento {procedure}",
    "primer-passes": "manos de primer en el procedimiento {procedure}",
    "crew-rule": "cuánta gente pide {size}, en el procedimiento",
    "coating-rate": "qué tan rápido unta la cuadrilla de la línea {line}, tomado con reloj en un sobrante",
    "working-time": (
        "tiempo de trabajo en la tarjeta {card}[[ a {temperature:temperature}]][[ con viento de {wind:wind}]]"
    ),
    "procedure": "procedimiento de la línea {line}",
    "procedure-range": "el procedimiento {procedure} no cubre {size} {material}",
    "card": "tarjeta de cemento de la línea {line}",
    "pipe-temperature": "temperatura del tubo al unir y al curar",
    "humidity": "la humedad más alta que se espera",
    "card-row": (
        "la tarjeta {card} no tiene renglón de {kind} para {size}[[ a {temperature:temperature}]]"
        "[[ hasta {pressure:pressure}]]"
    ),
    "elevation": "altura de la línea {line} sobre la referencia del plano: empiécela en un punto, "
    "mida sus conexiones",
    "section": "sección de prueba de la línea {line}",
    "gauge": "lugar del manómetro de la sección {section}",
    "gauge-elevation": "elevación del manómetro {gauge}",
    "gauge-error": "error del manómetro {gauge}, de su certificado",
    "section-pressure": "presión planeada de la sección {section}",
}
"""Missing inputs by code."""

KINDS_ES: Mapping[str, str] = {
    "set": "fraguado", "hold": "sostener", "handling": "tiempo antes de mover", "cure": "curado",
    "working": "tiempo de trabajo", "pullers-off": "quitar polipastos",
}  # fmt: skip
"""Kinds of rows of a card."""


def facts_es(facts: Facts) -> dict[str, object]:
    """Facts of what is missing, the words among them in Spanish.

    Parameters
    ----------
    facts : mapping

    Returns
    -------
    dict
    """
    told = dict(facts)
    for name, words in (("kind", KINDS_ES), ("body", TRADE_ES)):
        if name in told:
            told[name] = words.get(str(told[name]), told[name])
    if "part" in told:
        head, _, rest = str(told["part"]).partition(" ")
        told["part"] = f"{TRADE_ES.get(head, head)} {rest}".strip()
    return told


def first_es(first: LineZero, shown: Shown) -> str:
    """Line zero in Spanish; in capitals where it could not be put on later.

    Parameters
    ----------
    first : LineZero
    shown : Shown

    Returns
    -------
    str
    """
    what = str(term(first.what, SPANISH))
    facts = {"what": what, "side": first.side}
    if not first.sure:
        told = "Si esta mitad lo lleva: primero {what} en el tubo, por la punta {side}, con la cara de "
        told += "trabajo hacia esta junta."
    else:
        told = "Primero {what} en el tubo, por la punta {side}, con la cara de trabajo hacia esta junta."
    if first.capital:
        told += " Después ya no se puede: las dos puntas de esta pieza llevan conexiones."
    said = fill(told, facts, shown)
    return said.upper() if first.capital else said


def end_es(end: JointEnd) -> str:
    """One side of a joint in Spanish.

    Parameters
    ----------
    end : JointEnd

    Returns
    -------
    str
        Such as ``"codo 90, E3, lote E12-3"`` or ``"pieza C, punta a"``.
    """
    if end.what == "piece":
        return f"pieza {end.name}, campana" if end.port == "bell" else f"pieza {end.name}, punta {end.port}"
    words = TRADE_ES.get(end.what, end.what)
    if end.angle_deg:
        words += f" {end.angle_deg:g}"
    if end.size2 is not None and end.size is not None:
        words += f" {end.size.text} x {end.size2.text}"
    told = [words]
    if end.tag:
        told.append(end.tag)
    if not end.tag or end.what != "ground":
        told.append(end.name)
    if end.lot:
        told.append(f"lote {end.lot}")
    return ", ".join(told)
