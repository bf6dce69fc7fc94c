"""Words of the lists of a pack, as a page shows them in both languages: cuts, sticks, tape, joints, legs.

The printed pack is English; a page asks for its own language. The Spanish is plain site Spanish, **to be read
over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from lineproof.desk.say import Words, listed
from lineproof.desk.words import ENGLISH, LANGUAGES, term
from lineproof.floor.shown import Shown

SHEETS: Mapping[str, tuple[str, str]] = {
    # the cut list
    "cut": ("Cut now", "Cortar ahora"),
    "field": (
        "Cut after taping: the cut length is a long listing, not a length to saw",
        "Cortar después de medir: el largo está listado de más, no es un largo para cortar",
    ),
    "wait": ("Waits for a measure: tape first", "Espera una medida: primero mida"),
    "whole": ("whole stick: do not cut", "tramo entero: no cortar"),
    "waits_for": ("waits for {names}", "espera {names}"),
    "spool": ("spool {name}", "carrete {name}"),
    "taped_by": ("taped by {who}", "lo midió {who}"),
    "grown": ("{much} of it for temperature", "{much} de eso por temperatura"),
    "tape_first": ("tape first", "primero mida"),
    "mark": ("mark {much}", "marca {much}"),
    "second": ("2nd {much}", "2.ª {much}"),
    "bevel": ("bevel", "bisel"),
    "factory_bell": ("factory bell", "campana de fábrica"),
    "open_end": ("open end", "punta abierta"),
    "next_bell": ("next bell", "la campana que sigue"),
    "of": ("{part} of {line}", "{part} de {line}"),
    "sockets would meet": ("sockets would meet", "las campanas se tocarían"),
    "less bare pipe than straps, nuts and rings need": (
        "less bare pipe than straps, nuts and rings need",
        "menos tubo libre del que piden correas, tuercas y anillos",
    ),
    "no place for a coupling off the stretch kept free of joints": (
        "no place for a coupling off the stretch kept free of joints",
        "no hay lugar para un cople fuera de la parte que va sin juntas",
    ),
    "no stock item is named for this pipe": (
        "no stock item is named for this pipe",
        "no hay material nombrado para este tubo",
    ),
    "the bell of the stock item is not measured": (
        "the bell of the stock item is not measured",
        "no está medida la campana de este tubo",
    ),
    # the sticks
    "sticks": ("{n:#stick}, bound {bound}, gap {gap}", "{n:#tramo}, mínimo {bound}, diferencia {gap}"),
    "yard": ("in yard {yard}, on order {ordered}", "en el patio {yard}, pedidos {ordered}"),
    "scraps": ("saw cuts, trims and scraps {much}", "cortes de sierra, recortes y sobras {much}"),
    "counted_long": (
        "{n:#field piece} counted long, cut after taping",
        "{n:#pieza de campo/piezas de campo} contadas de más, se cortan después de medir",
    ),
    "not_counted": (
        "{n:#piece} not counted: length not known",
        "{n:#pieza} sin contar: no se sabe el largo",
    ),
    "after": ("{piece} after taping", "{piece} después de medir"),
    "keep": ("keep {much}", "guardar {much}"),
    "waste": ("waste {much}", "sobra {much}"),
    "stick": ("stick {n}", "tramo {n}"),
    "offcut": ("offcut {name}", "sobrante {name}"),
    # the tape list
    "not in parts.csv": ("not in parts.csv", "no está en parts.csv"),
    "not measured": ("not measured", "sin medir"),
    "fewer than three of the lot measured": (
        "fewer than three of the lot measured",
        "menos de tres del lote medidas",
    ),
    "several lots and no count or lot said": (
        "several lots and no count or lot said",
        "varios lotes y no se dice cuál ni cuántas",
    ),
    "fabricated: this one is not measured": (
        "fabricated: this one is not measured",
        "fabricada: ésta no está medida",
    ),
    "the lots counted in parts.csv are used up": (
        "the lots counted in parts.csv are used up",
        "ya se usaron los lotes contados en parts.csv",
    ),
    "no_lot": ("no lot said", "sin lote"),
    "lot": ("lot {lot}", "lote {lot}"),
    "not_yet": ("not known yet", "todavía no se sabe"),
    # the joints
    "piece_end": ("piece {name} {port}", "pieza {name} {port}"),
    "standing": ("standing", "fijo"),
    "by_hand": ("by hand", "a mano"),
    "line": ("line {line}", "línea {line}"),
    "section": ("section {section}", "sección {section}"),
    "drawing": ("drawing {drawing} rev {rev}", "plano {drawing} rev {rev}"),
    "no_drawing": ("no drawing named", "sin plano nombrado"),
    # the legs
    "leg_field": ("field: cut after taping", "campo: se corta después de medir"),
    "no_joint": ("no joint {a} to {b}", "sin junta de {a} a {b}"),
    "not_known": ("not known", "no se sabe"),
    "east": ("east", "este"),
    "west": ("west", "oeste"),
    "north": ("north", "norte"),
    "south": ("south", "sur"),
    "up": ("up", "arriba"),
    "down": ("down", "abajo"),
    # the card of one joint
    "goes_in": ("goes in", "entra"),
    "into": ("into", "en"),
    "od": ("outside diameter", "diámetro exterior"),
    "depth": ("depth to the stop", "profundidad hasta el tope"),
    "second_mark": ("second mark", "segunda marca"),
    "outside_wet": ("outside the wet part", "fuera de la parte mojada"),
    "cannot_tell": ("cannot tell", "no se sabe"),
    "dry_fit": ("dry fit: the dry pipe stops at", "prueba en seco: el tubo seco se detiene a"),
    "fit": ("fit", "ajuste"),
    "under": ("under {a}", "menos de {a}"),
    "between": ("{a} to {b}", "{a} a {b}"),
    "to": ("to {a}", "hasta {a}"),
    "plays": ("plays: stop", "juega: alto"),
    "gap": (
        "gap on the diameter, {inside} inside: the standards allow {a} to {b}; measure it",
        "holgura en el diámetro, {inside} adentro: las normas permiten de {a} a {b}; mídala",
    ),
    "no_depth": (
        "depth of the socket not known: measure it, then judge the dry fit",
        "no se sabe la profundidad de la campana: mídala y luego juzgue la prueba en seco",
    ),
    "primer": ("primer", "primer"),
    "passes": ("{n:#pass/passes}", "{n:#mano}"),
    "cement": ("cement", "cemento"),
    "card": ("card {card}", "tarjeta {card}"),
    "body": ("{body} body", "cuerpo {body}"),
    "no_body": ("body not known", "no se sabe el cuerpo"),
    "coats": ("coats", "capas"),
    "coats_told": ("pipe {pipe}, socket {socket}", "espiga {pipe}, campana {socket}"),
    "applicator": ("applicator", "aplicador"),
    "wide": ("{a} wide", "{a} de ancho"),
    "a_face": ("{n} a face", "{n} por cara"),
    "pull_in": ("pull-in", "jalar"),
    "pull_yes": ("yes, {n:#tool} on the list", "sí, {n:#equipo} en la lista"),
    "pull_none": ("yes, none on the list", "sí, ninguno en la lista"),
    "working": ("working time", "tiempo de trabajo"),
    "hold": ("hold", "sostener"),
    "pullers_off": ("pullers off", "quitar polipastos"),
    "hands_off": ("hands off", "no tocar"),
    "cure": ("cure", "curado"),
    "cure_to": ("cure to {pressure}", "curado hasta {pressure}"),
    "hands_unknown": ("hands: cannot tell", "personas: no se sabe"),
    "hands": ("{n} hands", "{n} personas"),
    "doubled": (
        "{n:#box/boxes} doubled up: the lead says whose",
        "{n:#puesto} doble: el encargado dice de quién",
    ),
}
"""Key to English and Spanish."""

TRADE_ES: Mapping[str, str] = {
    "elbow": "codo",
    "tee": "te",
    "coupling": "cople",
    "repair coupling": "cople de reparación",
    "reducer": "reducción",
    "bushing": "reducción bushing",
    "union": "tuerca unión",
    "flange": "brida",
    "stub": "portabrida",
    "blind": "brida ciega",
    "cap": "tapa",
    "valve": "válvula",
    "saddle": "silleta",
    "adapter": "adaptador",
    "expansion joint": "junta de expansión",
    "ground": "lo que está fijo",
    "what stands": "lo que está fijo",
    "standing end": "punta fija",
    "bell": "campana",
    "piece": "pieza",
    "lead": "encargado",
    "joiner": "quien hace la junta",
    "engineer": "ingeniero",
    "inspector": "inspector",
    "quality": "calidad",
    "witness": "testigo",
    "owner's inspector": "inspector del dueño",
    "puller and fire watch": "jala y vigila contra fuego",
    "timekeeper and recorder": "canta el tiempo y anota",
    "in charge of the test": "a cargo de la prueba",
    "test in charge": "a cargo de la prueba",
    "regular": "regular",
    "medium": "medio",
    "heavy": "pesado",
    "extra heavy": "extra pesado",
    "overall": "de largo total",
    "laying": "de largo útil",
}
"""Words of the trade that the job and the plan carry, in Spanish."""


class Sheets:
    """Words of one language for the lists of a job.

    Parameters
    ----------
    shown : Shown
        How the job shows its numbers.
    language : str
        ``"en"`` or ``"es"``.
    """

    def __init__(self, shown: Shown, language: str = ENGLISH) -> None:
        self.shown = shown
        self.language = language
        self._at = LANGUAGES.index(language)
        self._words = Words(shown, language)

    def __call__(self, key: str, /, **values: object) -> str:
        """Words of the catalogue."""
        told = SHEETS[key][self._at]
        return self._words.fill(told, values) if "{" in told else told

    def trade(self, word: str) -> str:
        """A word that the job carries; as it stands where the catalogue has no Spanish for it."""
        if self.language == ENGLISH:
            return word
        return TRADE_ES.get(word) or str(term(word, self.language))

    def listed(self, names: Iterable[object], most: int = 4) -> str:
        """Names in a row, the rest counted."""
        return listed(names, most, self.language)
