"""Words of the walk pad, in English and Spanish; the statements of a walk are the same in both.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "title": ("Walk pad", "Trazar"),
    "title_line": ("Walk pad {line}", "Trazar {line}"),
    "tell": (
        "Tell a line by tapping a way and typing a length. What is saved is the same text that an editor "
        "writes.",
        "Cuente una línea: toque un rumbo y escriba una medida. Lo que se guarda es el mismo texto que "
        "escribe un editor; sus palabras son en inglés.",
    ),
    "none": (
        "No line is walked yet: begin one below.",
        "Todavía no hay ninguna línea trazada: empiece una aquí abajo.",
    ),
    "new": ("New line", "Línea nueva"),
    "name": ("Name", "Nombre"),
    "size": ("Size", "Medida"),
    "size_such": ("6in or d160", "6in o d160"),
    "material": ("Material", "Material"),
    "wall": ("Wall as printed on the pipe", "Pared, como está impresa en el tubo"),
    "for": ("What it is for", "Para qué es"),
    "for_such": ("backwash", "retrolavado"),
    "begin": ("Begin", "Empezar"),
    "no_name": ("the new line has no name", "la línea nueva no tiene nombre"),
    "no_name_allowed": ("a name such as B-201", "un nombre como B-201"),
    "no_name_next": ("go back, give it one", "regrese y póngale uno"),
    "walked": ("line {name} is walked already", "la línea {name} ya está trazada"),
    "walked_allowed": ("a name of its own", "un nombre propio"),
    "walked_next": (
        "open it from the list, or give the new one another name",
        "ábrala de la lista, o póngale otro nombre a la nueva",
    ),
    "no_line": ("no walk names a line {line}", "ningún trazo nombra una línea {line}"),
    "no_line_allowed": ("{names}", "{names}"),
    "no_line_next": ("open one of these, or begin a new line", "abra una de éstas, o empiece una nueva"),
    "a_new_line": ("a new line", "una línea nueva"),
    "much": ("{joints:#joint}, {pieces:#piece}", "{joints:#junta}, {pieces:#pieza}"),
    "much_so_far": (
        "{joints:#joint}, {pieces:#piece}, drawn as far as it goes",
        "{joints:#junta}, {pieces:#pieza}, dibujada hasta donde llega",
    ),
    "saved_as": ("Saved as {file}.", "Guardada como {file}."),
    "not_saved_why": ("Not saved: {why}", "No se guardó: {why}"),
    "drawing": ("Drawing", "Dibujo"),
    "drawing_of": ("Drawing of line {line}", "Dibujo de la línea {line}"),
    "undo": ("Undo", "Deshacer"),
    "redo": ("Redo", "Rehacer"),
    "drop": ("Take out", "Quitar"),
    "save": ("Save", "Guardar"),
    "below_is": ("The statement below is", "La frase de abajo es"),
    "add": ("added", "nueva"),
    "change": ("the row anew", "en vez de la fila"),
    "split": ("a split at", "un corte a"),
    "ways": ("Ways", "Rumbos"),
    "length": ("Length", "Medida"),
    "back": ("back one", "borrar uno"),
    "feet": ("feet", "pies"),
    "inches": ("inches", "pulgadas"),
    "field": ("field", "campo"),
    "enter": ("Enter", "Poner"),
    "parts": ("Parts and other statements", "Partes y otras frases"),
    "statements": ("Statements", "Frases"),
    "or_type": ("Or type any statement of the walk above:", "O escriba arriba cualquier frase del trazo:"),
    "slip": (
        "A slip is answered with what may stand there.",
        "Si hay un error, se contesta qué puede ir ahí.",
    ),
    "throw": (
        "Throw mine away, open the file as it is now",
        "Tirar lo mío y abrir el archivo como está ahora",
    ),
    "whole": ("The whole text", "Todo el texto"),
    "look": ("Look at it", "Verlo"),
    "save_it": ("Save it", "Guardarlo"),
    # what the script of the pad says
    "js_unsaved": ("Not saved", "Sin guardar"),
    "js_saved": ("Saved", "Guardado"),
    "js_mend": (", {n} to mend", ", {n} por corregir"),
    "js_add": ("Below row {row}", "Debajo de la fila {row}"),
    "js_change": ("Row {row} anew", "En vez de la fila {row}"),
    "js_split": ("Split row {row} at", "Cortar la fila {row} a"),
    "js_not_understood": (
        "that was not understood; open the page again",
        "eso no se entendió; abra la página otra vez",
    ),
    "js_no_answer": (
        "The server does not answer. What you walked is kept on this page.",
        "El servidor no contesta. Lo que trazó sigue en esta página.",
    ),
    "js_saved_as": ("Saved as {file}.", "Guardada como {file}."),
    "js_not_saved": ("Not saved.", "No se guardó."),
    "js_theirs": (
        "{file} was changed by somebody else since you opened it. Yours is still here; it cannot be saved "
        "over theirs.",
        "Otra persona cambió {file} después de que usted lo abrió. Lo suyo sigue aquí; no se puede guardar "
        "encima de lo otro.",
    ),
    # what a key of the pad stands for; the walk's own word is typed
    "js_way_north": ("north", "norte"),
    "js_way_south": ("south", "sur"),
    "js_way_east": ("east", "este"),
    "js_way_west": ("west", "oeste"),
    "js_way_up": ("up", "arriba"),
    "js_way_down": ("down", "abajo"),
    "word_starts_at": ("starts at", "empieza en"),
    "word_ends_at": ("ends at", "termina en"),
    "word_offset": ("offset", "desvío"),
    "word_put": ("put", "poner"),
    "word_tee": ("tee", "te"),
    "word_saddle": ("saddle", "silleta"),
    "word_reduce_to": ("reduce to", "reducir a"),
    "word_union": ("union", "tuerca unión"),
    "word_ringed_union": ("ringed union", "tuerca unión con anillo"),
    "word_drop_out_union": ("drop-out union", "tuerca unión que sale de lado"),
    "word_flanges": ("flanges", "bridas"),
    "word_ringed_flanges": ("ringed flanges", "bridas con anillo"),
    "word_stub_and_ring": ("stub and ring", "portabrida y anillo"),
    "word_coupling": ("coupling", "cople"),
    "word_repair_coupling": ("repair coupling", "cople de reparación"),
    "word_thread": ("thread", "rosca"),
    "word_expansion_joint": ("expansion joint", "junta de expansión"),
    "word_no_joint": ("no joint", "sin junta"),
    "word_bells": ("bells", "campanas"),
    "word_spool": ("spool", "carrete"),
    "word_spool_ends": ("spool ends", "fin del carrete"),
}
