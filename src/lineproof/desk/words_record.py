"""Kinds, fields and steps of the logbook as papers print them, in English and in Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

from lineproof.desk.words import SPANISH

KINDS_SAID: Mapping[str, tuple[str, str]] = {
    "answer": ("answer given", "respuesta dada"),
    "bolts_torqued": ("bolts to torque", "tornillos a su par"),
    "can_opened": ("can opened", "lata abierta"),
    "can_received": ("can received", "lata recibida"),
    "can_thrown": ("can thrown away", "lata tirada"),
    "card": ("cement card in use", "tarjeta de cemento en uso"),
    "condition": ("answered on the spot", "respondido en el lugar"),
    "correction": ("correction", "corrección"),
    "cut_out": ("cut out", "cortada"),
    "disturbed": ("knocked, bent or pulled", "golpeada, doblada o jalada"),
    "dry_fit": ("dry fit", "prueba en seco"),
    "examined": ("examined", "revisada"),
    "field_joint": ("not on the drawing", "no está en el plano"),
    "first_on": ("first on the pipe", "primero en el tubo"),
    "fork_settled": ("stories settled", "versiones aclaradas"),
    "gauge": ("gauge", "manómetro"),
    "grout": ("grout or anchor", "grout o ancla"),
    "hold_end": ("hold ended", "se dejó de sostener"),
    "hold_tag_lifted": ("hold tag lifted", "etiqueta de alto quitada"),
    "hold_tag_set": ("hold tag set", "etiqueta de alto puesta"),
    "humidity": ("humidity read", "humedad leída"),
    "imported": ("file taken in", "archivo tomado"),
    "insertion": ("insertion", "inserción"),
    "isolation": ("how it ends there", "cómo termina ahí"),
    "issue": ("pack issued", "paquete emitido"),
    "joint_made": ("made", "hecha"),
    "moved": ("moved or lowered", "movida o bajada"),
    "note": ("note", "nota"),
    "phone_dropped": ("phone dropped", "teléfono quitado"),
    "phone_paired": ("phone paired", "teléfono emparejado"),
    "pullers_off": ("pullers and straps off", "polipastos y correas quitados"),
    "chain_bound": ("phone's chain bound", "cadena del teléfono ligada"),
    "refusals": ("turned away at the door", "rechazados en la entrada"),
    "reading": ("temperature read", "temperatura leída"),
    "reading_file": ("logger's file", "archivo del registrador"),
    "rejected": ("rejected", "rechazada"),
    "release_asked": ("release asked", "autorización pedida"),
    "release_expired": ("release ran out", "autorización vencida"),
    "release_given": ("release given", "autorización dada"),
    "release_withdrawn": ("release withdrawn", "autorización retirada"),
    "replaced": ("replaced", "reemplazada"),
    "restraint_checked": ("restraints looked at", "sujeciones revisadas"),
    "source": ("source of pressure", "fuente de presión"),
    "step_in_clock": ("clock jumped", "brincó el reloj"),
    "time_confirmed": ("time confirmed", "hora confirmada"),
    "zero_proved": ("zero proved", "cero comprobado"),
}
"""Kind to how a paper calls it: English, Spanish."""

FIELDS_SAID: Mapping[str, tuple[str, str]] = {
    "about": ("about", "sobre"),
    "accepted": ("accepted", "aceptada"),
    "air_temperature": ("air", "aire"),
    "allowed": ("allowed", "permitido"),
    "answer": ("answer", "respuesta"),
    "asked": ("asked", "pedido"),
    "at": ("at", "a las"),
    "because": ("because of", "por"),
    "beside": ("beside", "junto a"),
    "boundary": ("end", "extremo"),
    "by": ("by", "por"),
    "calibrated": ("calibrated", "calibrado"),
    "called_time": ("called time", "cantó el tiempo"),
    "can": ("can", "lata"),
    "cans": ("cans", "latas"),
    "card": ("card", "tarjeta"),
    "certificate": ("certificate", "certificado"),
    "claimed": ("claimed", "solo escrito"),
    "clock_checked": ("clock checked", "reloj revisado"),
    "condition": ("condition", "condición"),
    "corrects": ("corrects", "corrige"),
    "depth": ("depth", "profundidad"),
    "due": ("due", "vence"),
    "elevation": ("elevation", "elevación"),
    "error": ("error", "error"),
    "expires": ("expires", "vence"),
    "fields": ("fields", "campos"),
    "file": ("file", "archivo"),
    "flanges": ("flanges", "bridas"),
    "from": ("from", "desde"),
    "gauge": ("gauge", "manómetro"),
    "good": ("good", "bien"),
    "helped": ("helped", "ayudó"),
    "holds": ("holds", "contiene"),
    "how": ("how", "cómo"),
    "humidity": ("humidity", "humedad"),
    "insisted": ("insisted", "insistió"),
    "instrument": ("instrument", "instrumento"),
    "issue": ("issue", "emisión"),
    "joint": ("joint", "junta"),
    "joint_temperature": ("joint", "junta"),
    "joints": ("joints", "juntas"),
    "list": ("list", "lista"),
    "lot": ("lot", "lote"),
    "lots": ("lots", "lotes"),
    "may": ("may", "para"),
    "medium": ("medium", "medio"),
    "most": ("most", "máximo"),
    "name": ("name", "nombre"),
    "note": ("note", "nota"),
    "of": ("of", "de"),
    "on": ("on", "en"),
    "photos": ("photos", "fotos"),
    "pipe_end": ("pipe end", "espiga"),
    "place": ("place", "lugar"),
    "points": ("points", "puntos"),
    "pressure": ("pressure", "presión"),
    "primer": ("primer", "primer"),
    "procedure": ("procedure", "procedimiento"),
    "pulled": ("pulled", "jaló"),
    "pushed_back": ("pushed back", "se regresó"),
    "range": ("range", "escala"),
    "ready": ("ready", "listo"),
    "reason": ("reason", "motivo"),
    "release": ("release", "autorización"),
    "roles": ("hands", "manos"),
    "rows": ("rows", "renglones"),
    "second": ("second person", "segunda persona"),
    "section": ("section", "sección"),
    "shortfall": ("short by", "le faltan"),
    "since": ("since", "desde"),
    "size": ("size", "medida"),
    "socket": ("socket", "campana"),
    "source": ("source", "fuente"),
    "steps": ("steps", "pasos"),
    "tag": ("tag", "etiqueta"),
    "temperature": ("temperature", "temperatura"),
    "text": ("text", "texto"),
    "to": ("to", "hasta"),
    "torque": ("torque", "par"),
    "true_time": ("true time", "hora verdadera"),
    "vent": ("vent", "purga"),
    "void": ("void", "anulado"),
    "volume": ("volume", "volumen"),
    "what": ("what", "qué"),
    "wind": ("wind", "viento"),
}
"""Field of a body to how a paper calls it: English, Spanish."""

STEPS_SAID: Mapping[str, tuple[str, str]] = {
    "ring_on": ("ring on", "anillo puesto"),
    "dry_fitted": ("dry fitted", "probada en seco"),
    "marked": ("marked", "marcada"),
    "cleaned": ("cleaned", "limpiada"),
    "socket_primed": ("socket primed", "primer en campana"),
    "pipe_primed": ("pipe primed", "primer en espiga"),
    "socket_primed_again": ("socket primed again", "primer otra vez en campana"),
    "pipe_cemented": ("pipe cemented", "cemento en espiga"),
    "socket_cemented": ("socket cemented", "cemento en campana"),
    "pipe_cemented_again": ("pipe cemented again", "cemento otra vez en espiga"),
    "pushed": ("pushed", "empujada"),
    "home": ("all the way in", "hasta el tope"),
    "hold_begun": ("hold begun", "se empezó a sostener"),
    "wiped": ("wiped", "limpiado el cordón"),
}
"""Step of making a joint to how a paper calls it: English, Spanish."""

CONDITIONS_SAID: Mapping[str, tuple[str, str]] = {
    "fill": ("FILL", "LLENAR"),
    "raise": ("RAISE TO", "SUBIR A"),
    "people-out": ("people are out", "la gente está fuera"),
    "nothing-since": (
        "no joint made, cut, moved or repaired since", "ninguna junta hecha, cortada, movida o reparada "
        "desde",
    ),
    "vents-open": ("vents are open", "las purgas están abiertas"),
    "air-out": ("the air is out", "el aire está fuera"),
    "joints-ready": ("joints are ready", "las juntas están listas"),
    "heard-for": ("answered for a writer not heard", "respondido por un aparato que no se reportó"),
}  # fmt: skip
"""What a release lets happen, and what is answered on the spot: English, Spanish."""

VOIDS_ES = (
    "cualquier junta hecha, cortada, movida, golpeada o reparada en la sección o más allá de un extremo que "
    "no "
    "aguanta",
    "una etiqueta de alto puesta en ella",
    "una lectura más fría, una corrección o un registro tardío que alarga una espera",
    "otro manómetro, otra fuente, otro medio, más presión",
    "gente de regreso en el área",
)
"""What ends a release, in the order of ``raise_keep.VOIDS``."""

CODES_SAID: Mapping[str, tuple[str, str]] = {
    "two-stories": ("told to be made twice", "registrada como hecha dos veces"),
    "fork": ("two entries in one place", "dos registros en un mismo lugar"),
    "newer-entry": ("an entry of newer software", "un registro de un programa más nuevo"),
    "faulty-entry": ("an entry that does not fit its kind", "un registro que no es como su tipo"),
    "made-after-cut-out": ("told to be made after it was cut out", "hecha después de cortada"),
    "taken-away-alone": ("one person alone took something away", "una sola persona quitó algo"),
}
"""Codes of an unclear record: English, Spanish."""


def said(table: Mapping[str, tuple[str, str]], word: str, language: str) -> str:
    """A kind, field or step in a language; the word itself, blanks for underscores, where none is carried.

    Parameters
    ----------
    table : mapping
    word : str
    language : str

    Returns
    -------
    str
    """
    found = table.get(word)
    return word.replace("_", " ") if found is None else found[1 if language == SPANISH else 0]
