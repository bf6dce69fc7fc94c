"""Spanish for the hour, for cold spring and for the last gap.

Plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

WHY_HOUR_ES: Mapping[str, Mapping[str, str]] = {
    "GAP-01": {
        "no_misfit": "{who}: no se puede decir cuánto pueden errar sus caras; falta: {missing}.",
        "no_limit": "{who}: sus caras pueden errar hasta {length:length} y nadie dijo cuánto absorbe el "
        "empaque.",
        "over": "{who}: sus caras pueden errar hasta {measured:length} ({side}); empaque y brida admiten "
        "{limit:length}.",
        "over_angle": "{who}: sus caras pueden quedar {measured:angle} fuera de paralelo; se admiten "
        "{limit:angle}.",
        "go": "{who}: sus caras yerran a lo más {measured:length}; se absorben {limit:length}.",
    },
    "SPR-01": {
        "not_allowed": "{who}: el procedimiento {procedure:@} no permite con palabras doblar el tubo para "
        "hacerlo "
        "entrar.",
        "too_large": "{who}: el tubo de {size} no se dobla; el mayor es {most}.",
        "no_state": "{who}: no se sabe si todas las juntas del tramo doblado están curadas.",
        "not_cured": "{who}: {not_cured:#junta} sin curar en el tramo doblado: {not_cured}.",
        "no_run": "{who}: no se puede decir cuánto daría el tramo; falta: {missing}.",
        "no_radius": "{who}: no hay radio mínimo de curva para este tubo.",
        "short": "{who}: con el radio mínimo el tramo da {measured:length} y la junta pide {limit:length}.",
        "not_signed": "{who}: lo firma el ingeniero; firmado por {signed_by:@}, ingeniero {engineer:@}.",
        "go": "{who}: el tramo da {measured:length} y la junta pide {limit:length}; {procedure:@} lo "
        "permite.",
    },
}

NEXT_HOUR_ES: Mapping[str, str] = {
    "say_errors": "Escriba tape_error, cut_error y stop_gap en [cutting], y mida las conexiones.",
    "say_closing": "Escriba en [cutting] cuánto absorbe el empaque, como closing_length.",
    "tape_gap": "Deje la pieza nombrada para medirla y córtela a la holgura.",
    "ask_closing": "Deje una pieza para medir en este circuito, o pregunte al ingeniero qué admite la brida.",
    "open_otherwise": "Cierre el circuito con una brida, una tuerca unión o una pieza de ajuste.",
    "record_run": "Registre las juntas del tramo, para que se conozca su curado.",
    "let_cure": "Espere a que todas las juntas del tramo estén curadas; una junta fresca no se dobla.",
    "say_run": "Diga el largo recto del tramo, su tubo y lo que pide la junta.",
    "ask_radius": "Pida al ingeniero el radio mínimo de curva y escríbalo como spring_radius.",
    "ask_spring": "Pida la firma del ingeniero.",
}
