"""Sentences of closure and order on screen and paper, in English and in Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

from lineproof.desk.words import ENGLISH, SPANISH

EN: Mapping[str, str] = {
    "title": "closure and order",
    "loops": "loops",
    "loops_none": "no loop between fixed points: every joint has a free end to come from",
    "loops_told": "{count:#loop}; {bound} with no opening at all, so at least {bound:#opening}",
    "found": "{n:#opening} found; {proof}; they add {joints:#joint} and {cost:time} of work, all hands "
    "together",
    "found_none": "nothing has to be put in",
    "proof_least": "no cheaper set opens every loop (proven, {tried:#set} tried)",
    "proof_time": "the search was ended after its time, so a cheaper set may be there; none costs under "
    "{least:time}",
    "proof_rounds": "the search was ended after {tried:#set}, so a cheaper set may be there; none costs "
    "under "
    "{least:time}",
    "cuts": "cuts",
    "change": "piece {piece} becomes {into} pieces, {cut:length} together",
    "change_unknown": "piece {piece} becomes {into} pieces; measure the opening's parts first",
    "instead": "instead",
    "repair": "at {piece} a gasketed repair coupling holds nothing back: end load {load:force} at "
    "{pressure:pressure}, taken by {restraint}",
    "order": "order",
    "order_told": "{steps:#step}: {bench:#joint} on the bench, {place} in place; {days:#day} of one "
    "crew, waits "
    "by the card, weather not looked at",
    "order_with": "with these put in: ",
    "order_none": "none found",
    "spools": "spools",
    "spools_told": "{n:#spool}, the longest {long:length}, the heaviest {heavy:mass}",
    "spools_none": "none: job.toml says nothing of what can be carried under [handling]",
    "alike": "{n} alike of spool {spool}",
    "day": "day {day}",
    "rough": "some fittings are not measured: room and lengths are provisional",
    "papers": "paper",
    "caution": "The approved procedure, the container's label and the lead stand above this order. "
    "Nobody stands "
    "between pipe and socket while a puller is under load.",
    "bench_step": "on the bench, {position}: {what} {into}",
    "place_step": "{what} {way} {into}",
    "close_step": "closes a loop: {what} {way} {into}",
    "turn_step": "{what} turned home {into}",
    "into": "into",
    "onto": "onto",
    "slid": "slid on its supports, {mass:mass}",
    "travel": "travel {travel:length}",
    "strap": "strap holds back on {strap}",
    "by_hand": "by hand, {strap} held back",
    "waits": "not before {joint} is out of the way",
    "unknown": "hands-off time of {joint} is not known",
    "join": "join {at}",
    "move": "hands off till {at}",
    "bolt": "bolt or screw {what}",
    "at_once": "both at once",
    "spool": "spool {n}",
    "level": "level",
    "socket down": "socket down",
    "turn": "turned",
    "ground": "what stands",
    "and": " and ",
    "step": "step",
    "joint": "joint",
    "bring": "what is brought, and how",
    "first_hour": "first hour to join",
    "first_move": "first hour to move",
    "made_at": "made at",
    "sticks": "pieces to bring",
    "fittings": "fittings to bring",
    "cans": "cans to open",
    "cans_said": "{cement} cement, {primer} primer",
    "heaviest": "heaviest",
    "tackle": "tackle",
    "way_in": "way in",
    "not_said": "not said in job.toml",
    "tomorrow": "day {day}, {hour}",
    "lead": "lead",
    "written": "written down by",
    "spool_no": "spool",
    "parts": "parts",
    "sides": "sides",
    "mass": "mass",
    "times": "times",
    "answer": "Closure and order",
    "page_day": "Order of joints",
    "page": "page",
    "foot": "Procedure, label and local codes stand above this paper.",
    "invented": "INVENTED DATA",
    "page_of": "1 of 1",
}

ES: Mapping[str, str] = {
    "title": "cierre y orden",
    "loops": "circuitos",
    "loops_none": "ningún circuito entre puntos fijos: toda junta tiene una punta libre por donde entrar",
    "loops_told": "{count:#circuito}; {bound} sin ninguna abertura, así que al menos {bound:#abertura}",
    "found": "{n:#abertura}; {proof}; agregan {joints:#junta} y {cost:time} de trabajo, sumando a todos",
    "found_none": "no hay que poner nada",
    "proof_least": "ningún juego más barato abre todos (probado, {tried:#juego} vistos)",
    "proof_time": "la búsqueda se cortó por tiempo y puede haber un juego más barato; ninguno cuesta "
    "menos de "
    "{least:time}",
    "proof_rounds": "la búsqueda se cortó después de {tried:#juego} y puede haber uno más barato; "
    "ninguno cuesta "
    "menos de {least:time}",
    "cuts": "cortes",
    "change": "la pieza {piece} queda en {into} piezas, {cut:length} entre todas",
    "change_unknown": "la pieza {piece} queda en {into} piezas; mida primero las partes de la abertura",
    "instead": "en su lugar",
    "repair": "en {piece} un cople de reparación con empaque no sostiene nada: carga de extremo "
    "{load:force} a "
    "{pressure:pressure}, la toma {restraint}",
    "order": "orden",
    "order_told": "{steps:#paso}: {bench:#junta} en el banco, {place} en su lugar; {days:#día} de una "
    "cuadrilla, "
    "esperas según la tarjeta, sin ver el clima",
    "order_with": "con esto puesto: ",
    "order_none": "no se halló",
    "spools": "carretes",
    "spools_told": "{n:#carrete}, el más largo {long:length}, el más pesado {heavy:mass}",
    "spools_none": "ninguno: job.toml no dice bajo [handling] qué se puede cargar",
    "alike": "{n} iguales al carrete {spool}",
    "day": "día {day}",
    "rough": "hay conexiones sin medir: lugar y largos son provisionales",
    "papers": "hoja",
    "caution": "El procedimiento aprobado, la etiqueta del envase y el encargado están por encima de "
    "este orden. "
    "Nadie entre tubo y campana mientras el polipasto jala.",
    "bench_step": "en el banco, {position}: {what} {into}",
    "place_step": "{what} {way} {into}",
    "close_step": "cierra un circuito: {what} {way} {into}",
    "turn_step": "{what} enroscado {into}",
    "into": "en",
    "onto": "sobre",
    "slid": "se desliza sobre sus soportes, {mass:mass}",
    "travel": "recorrido {travel:length}",
    "strap": "la correa de retención va en {strap}",
    "by_hand": "a mano, se detiene {strap}",
    "waits": "no antes de que {joint} quede libre",
    "unknown": "no se conoce el tiempo de no tocar de {joint}",
    "join": "unir {at}",
    "move": "no tocar hasta {at}",
    "bolt": "atornillar o enroscar {what}",
    "at_once": "las dos a la vez",
    "spool": "carrete {n}",
    "level": "a nivel",
    "socket down": "campana abajo",
    "turn": "girando",
    "ground": "lo fijo",
    "and": " y ",
    "step": "paso",
    "joint": "junta",
    "bring": "qué se trae y cómo",
    "first_hour": "primera hora para unir",
    "first_move": "primera hora para mover",
    "made_at": "hecha a las",
    "sticks": "piezas que traer",
    "fittings": "conexiones que traer",
    "cans": "envases que abrir",
    "cans_said": "{cement} de cemento, {primer} de primer",
    "heaviest": "lo más pesado",
    "tackle": "equipo",
    "way_in": "entrada",
    "not_said": "no está en job.toml",
    "tomorrow": "día {day}, {hour}",
    "lead": "encargado",
    "written": "lo escribió",
    "spool_no": "carrete",
    "parts": "partes",
    "sides": "lados",
    "mass": "masa",
    "times": "veces",
    "answer": "Cierre y orden",
    "page_day": "Orden de juntas",
    "page": "página",
    "foot": "El procedimiento, la etiqueta y las normas locales están por encima de esta hoja.",
    "invented": "DATOS INVENTADOS",
    "page_of": "1 de 1",
}
COMPASS_ES = {
    "north": "al norte", "south": "al sur", "east": "al este", "west": "al oeste", "up": "arriba",
    "down": "abajo", "and": "y", "turn": "girando",
}  # fmt: skip


def sequence_words(language: str) -> Mapping[str, str]:
    """The sentences of a language."""
    return ES if language == SPANISH else EN


def way_said(way: str, language: str) -> str:
    """A move by the compass in a language: ``"east and down"``."""
    if language == ENGLISH:
        return way
    return " ".join(COMPASS_ES.get(w, w) for w in way.split())
