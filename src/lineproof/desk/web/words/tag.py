"""Words of the page of a scanned tag, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "title": ("Scanned tag", "Etiqueta leída"),
    "type": ("What the tag says", "Lo que dice la etiqueta"),
    "read": ("Read it", "Leerla"),
    "superseded_word": ("SUPERSEDED", "YA NO VALE"),
    "superseded": (
        "This tag of {name} is of issue {issue}; the crew works by issue {newest}. Do not work from the "
        "sheet it is on: get the sheet of issue {newest}.",
        "Esta etiqueta de {name} es de la emisión {issue}; la cuadrilla trabaja con la emisión {newest}. No "
        "trabaje con la hoja en que está: pida la hoja de la emisión {newest}.",
    ),
    "retired": (
        "{name} is not in the line any more by issue {newest}. The tag is of issue {issue}: do not make it; "
        "ask the lead what stands there now.",
        "{name} ya no está en la línea según la emisión {newest}. La etiqueta es de la emisión {issue}: no "
        "la haga; pregunte al encargado qué hay allí ahora.",
    ),
    "cut_out_word": ("CUT OUT", "CORTADA"),
    "cut_out": (
        "{name} was cut out of the line: the record says so. It holds nothing.",
        "{name} fue cortada de la línea: así consta en el registro. No sostiene nada.",
    ),
    "unknown_word": ("NOT OF THIS JOB'S ISSUES", "NO ES DE NINGUNA EMISIÓN"),
    "unknown": (
        "{name} is no joint and no line of any issue of this job. Do not work from it; look on the page "
        "Joints for the one that is meant.",
        "{name} no es una junta ni una línea de ninguna emisión de esta obra. No trabaje con ella; busque en "
        "la página Juntas la que corresponde.",
    ),
    "other_job_word": ("OF ANOTHER JOB", "DE OTRA OBRA"),
    "other_job": (
        "This tag is of job {job}, not of this one. Take it off and ask the lead.",
        "Esta etiqueta es de la obra {job}, no de esta. Quítela y pregunte al encargado.",
    ),
    "no_tag_word": ("NOT A TAG", "NO ES UNA ETIQUETA"),
    "no_tag": (
        "{text} is not a tag of ours. One reads LP, the job, the joint or line, the issue, such as "
        "LP:BRK:B-201/J14:2.",
        "{text} no es una etiqueta nuestra. Una dice LP, la obra, la junta o línea y la emisión, como "
        "LP:BRK:B-201/J14:2.",
    ),
    "ahead_word": ("A NEWER ISSUE", "UNA EMISIÓN MÁS NUEVA"),
    "ahead": (
        "The tag of {name} is of issue {issue}, but this machine only knows up to issue {newest}. Bring the "
        "newest job folder here first.",
        "La etiqueta de {name} es de la emisión {issue}, pero esta máquina solo conoce hasta la emisión "
        "{newest}. Traiga primero la carpeta más nueva de la obra.",
    ),
    "draft_word": ("A DRAFT", "UN BORRADOR"),
    "draft": (
        "{name} is in the plan, but nothing is issued yet: issue the pack before anyone works from it.",
        "{name} está en el plan, pero todavía no se emitió nada: emita el paquete antes de que alguien "
        "trabaje con él.",
    ),
    "current_word": ("ISSUE THAT COUNTS", "EMISIÓN QUE VALE"),
    "current": (
        "The tag of {name} is of issue {issue}, the newest one. Whether it may be joined is "
        "another question.",
        "La etiqueta de {name} es de la emisión {issue}, la más nueva. Si se puede unir es otra pregunta.",
    ),
    "since": ("What changed since issue {issue}", "Qué cambió desde la emisión {issue}"),
    "same": (
        "Nothing that the joint list says of {name} changed; other things of the line may have.",
        "Nada de lo que la lista de juntas dice de {name} cambió; otras cosas de la línea "
        "pueden haber cambiado.",
    ),
    "was_draft": (
        "The tag was printed from a draft, so what changed is not known: take everything from the new sheet.",
        "La etiqueta se imprimió de un borrador, así que no se sabe qué cambió: tome todo de la hoja nueva.",
    ),
    "nothing": ("nothing", "nada"),
    "drawing": ("Drawing: {before}, now {now}", "Plano: {before}, ahora {now}"),
    "ties": ("It ties: {before}; now {now}", "Une: {before}; ahora {now}"),
    "place": (
        "Along its leg it stood at {before}, now at {now}",
        "A lo largo de su tramo estaba a {before}, ahora a {now}",
    ),
    "piece": (
        "The piece that goes in was {before} long, now {now}: do not use one cut to the old length",
        "La pieza que entra medía {before}, ahora {now}: no use una cortada a la medida vieja",
    ),
    "born": ("New joints: {now}", "Juntas nuevas: {now}"),
    "gone": ("Joints no longer in the line: {before}", "Juntas que ya no están en la línea: {before}"),
    "changed": ("Joints that changed: {now}", "Juntas que cambiaron: {now}"),
    "to_joint": ("Joint {name} as it stands now", "La junta {name} como está ahora"),
    "to_line": ("Line {line} as it is drawn now", "La línea {line} como está dibujada ahora"),
}
