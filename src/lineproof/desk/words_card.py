"""Words of the joint card on a phone, English and Spanish. No word of it lets pressure on.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

CARD: Mapping[str, tuple[str, str]] = {
    "joint": ("Joint", "Junta"),
    "joints": ("Joints", "Juntas"),
    "line": ("Line", "Línea"),
    "open_joint": ("Open a joint", "Abrir una junta"),
    "tag_or_number": ("Tag, or line and number", "Etiqueta, o línea y número"),
    "scan": ("Scan the tag", "Escanear la etiqueta"),
    "go_there": ("Open", "Abrir"),
    "all_joints": ("All joints", "Todas las juntas"),
    "not_a_joint": ("{name} is not a joint of this job.", "{name} no es una junta de esta obra."),
    "other_job": (
        "This tag is of another job, {name}: nothing of it is kept here.",
        "Esta etiqueta es de otra obra, {name}: aquí no se guarda nada de ella.",
    ),
    "superseded": (
        "SUPERSEDED: this tag is of issue {old}, the crew works by issue {new}. Get the new sheet; "
        "what you tell is kept.",
        "YA NO VALE: esta etiqueta es de la emisión {old}; la cuadrilla trabaja con la emisión {new}. "
        "Pida la hoja nueva; lo que usted anote se guarda.",
    ),
    "who_writes": ("Who writes on this phone?", "¿Quién anota en este teléfono?"),
    "writes": ("{name} writes", "Anota {name}"),
    "no_job_yet": (
        "This phone does not have the job yet. Open this page once while the job answers.",
        "Este teléfono todavía no tiene la obra. Abra esta página una vez con señal.",
    ),
    "goes_in": ("goes in", "entra"),
    "into": ("into", "en"),
    "depth": ("depth to the stop", "profundidad hasta el tope"),
    "second_mark": ("second mark", "segunda marca"),
    "cement": ("Cement", "Cemento"),
    "primer": ("Primer", "Primer"),
    "lot": ("lot", "lote"),
    "card": ("cement card", "tarjeta del cemento"),
    "hands": ("hands", "personas"),
    "missing": ("Missing: {what}", "Falta: {what}"),
    "no_steps": (
        "No procedure says how this joint is made. Ask the lead before a can is opened.",
        "Ningún procedimiento dice cómo se hace esta junta. Pregunte al encargado antes de abrir una lata.",
    ),
    "first_ring": ("RING ON THE PIPE FIRST", "PRIMERO EL ANILLO EN EL TUBO"),
    "first_nut": ("NUT ON THE PIPE FIRST", "PRIMERO LA TUERCA EN EL TUBO"),
    "first_other": ("{what} ON THE PIPE FIRST", "PRIMERO EN EL TUBO: {what}"),
    "first_half": ("if this half carries it", "si esta mitad lo lleva"),
    "ring_is_on": ("ring is on, right way round", "anillo puesto, del lado correcto"),
    "nut_is_on": ("nut is on, right way round", "tuerca puesta, del lado correcto"),
    "other_is_on": ("it is on, right way round", "puesto, del lado correcto"),
    "first_on": ("first on the pipe", "primero en el tubo"),
    "dry_fit": ("Dry fit: the dry pipe stops at", "Prueba en seco: el tubo seco se detiene a"),
    "band_tight": ("tight fit: under {a}", "ajuste apretado: menos de {a}"),
    "band_good": ("good fit: {a} to {b}", "buen ajuste: {a} a {b}"),
    "band_net": ("net fit: {b} to the stop", "ajuste justo: {b} hasta el tope"),
    "band_loose": ("plays at the stop: loose", "juega en el tope: flojo"),
    "stops_here": ("STOPS HERE", "SE DETIENE AQUÍ"),
    "it_plays": ("IT PLAYS AT THE STOP", "JUEGA EN EL TOPE"),
    "no_bands": (
        "The depth of this socket is not known: measure it before the dry fit is judged.",
        "No se sabe la profundidad de esta campana: mídala antes de juzgar la prueba en seco.",
    ),
    "boxes": ("Who does what", "Quién hace qué"),
    "pipe_end": ("pipe end", "espiga"),
    "socket": ("socket", "campana"),
    "pulled": ("pulls", "jala"),
    "called_time": ("calls time", "canta el tiempo"),
    "nobody": ("not named", "sin nombre"),
    "cans": ("Cans", "Latas"),
    "expired": ("past its date", "vencida"),
    "temperatures": ("Temperatures", "Temperaturas"),
    "joint_temperature": ("joint", "junta"),
    "air_temperature": ("air", "aire"),
    "humidity": ("humidity", "humedad"),
    "not_measured": ("not measured", "sin medir"),
    "less": ("less", "menos"),
    "more": ("more", "más"),
    "marked": ("depth marked, second mark too", "profundidad marcada, también la segunda marca"),
    "cleaned": ("clean and dry", "limpio y seco"),
    "socket_primed": ("primer in the socket", "primer en la campana"),
    "pipe_primed": ("primer on the pipe end", "primer en la espiga"),
    "socket_primed_again": ("primer in the socket again", "primer otra vez en la campana"),
    "pipe_cemented": ("cement on the pipe end", "cemento en la espiga"),
    "socket_cemented": ("cement in the socket, thin", "cemento en la campana, delgado"),
    "pipe_cemented_again": ("cement on the pipe end again", "cemento otra vez en la espiga"),
    "pushed": ("pushing", "empujando"),
    "home": ("all the way in: hold", "hasta el tope: sostener"),
    "made": ("made", "hecha"),
    "joint_made": ("all the way in, held", "hasta el tope, sosteniendo"),
    "hold_end": ("hold let go", "se dejó de sostener"),
    "let_go": ("HOLD OVER, NO PUSH-BACK", "FIN DE SOSTENER, NO SE REGRESÓ"),
    "pullers_off": ("pullers and straps off", "polipastos y correas quitados"),
    "insertion": ("Short of the mark by", "Le falta para la marca"),
    "all_in": ("WRITE IT DOWN", "ANOTAR"),
    "allowed": ("the procedure allows {a}", "el procedimiento permite {a}"),
    "working_left": ("working time left", "tiempo de trabajo que queda"),
    "working_over": (
        "WORKING TIME IS OVER: a skin? Stop and ask, do not push.",
        "SE ACABÓ EL TIEMPO DE TRABAJO: ¿hay nata? Pare y pregunte, no empuje.",
    ),
    "hold_left": ("hold", "sostener"),
    "hold_over": (
        "hold is over: let go gently, look for push-back",
        "fin de sostener: suelte despacio, vea si se regresa",
    ),
    "pullers_left": ("pullers stay on", "no quitar polipastos"),
    "hands_off": ("HANDS OFF", "NO TOCAR"),
    "hands_off_left": ("hands off", "no tocar"),
    "not_before": ("NOT BEFORE {when}, then ask again", "NO ANTES de {when}; pregunte otra vez"),
    "not_before_day": ("NOT BEFORE {when}, then ask again", "NO ANTES del {when}; pregunte otra vez"),
    "colder": (
        "Colder or damper than planned, or not measured: the times are longer than shown. Ask.",
        "Más frío o húmedo que lo previsto, o sin medir: los tiempos son más largos que los de aquí. "
        "Pregunte.",
    ),
    "hotter": (
        "Hotter than planned: the working time is shorter than shown. Ask before a can is opened.",
        "Más calor que lo previsto: el tiempo de trabajo es más corto que el de aquí. Pregunte antes "
        "de abrir una lata.",
    ),
    "as_far": (
        "As far as this phone can tell. It never says that pressure may come on: ask the person in "
        "charge of the test.",
        "Hasta donde este teléfono sabe. Nunca dice que se puede presurizar: pregunte al encargado de "
        "la prueba.",
    ),
    "ask_again": ("ask again: may it be moved?", "pregunte otra vez: ¿se puede mover?"),
    "time_unknown": ("time not known: ask", "no se sabe el tiempo: pregunte"),
    "no_time": ("no time on the cement card: ask", "sin tiempo en la tarjeta del cemento: pregunte"),
    "take_photo": ("Take a photo", "Tomar una foto"),
    "photo": ("photo", "foto"),
    "no_picture": (
        "NOT KEPT: that is no picture. Take the photo again.",
        "NO SE GUARDÓ: eso no es una foto. Tómela otra vez.",
    ),
    "no_room_photo": (
        "No room for photos on this phone: PHOTO OWED is noted instead. Entries are still kept. "
        "Send what waits.",
        "No hay lugar para fotos en este teléfono: se anotó SE DEBE LA FOTO. Los registros se siguen "
        "guardando. Envíe lo que espera.",
    ),
    "photos_wait": ("○ photos on this phone only: {n}", "○ fotos solo en este teléfono: {n}"),
    "scan_can": ("Scan the can", "Escanear la lata"),
    "as_codes": ("Show entries as codes", "Mostrar los registros como códigos"),
    "codes_how": (
        "No network: hold another phone or the laptop before this screen, page All joints, Read codes. "
        "The codes come round again and again.",
        "Sin red: ponga otro teléfono o la computadora frente a esta pantalla, página Todas las juntas, Leer "
        "códigos. Los códigos se repiten.",
    ),
    "frame_of": ("code {n} of {of}", "código {n} de {of}"),
    "pace": ("Faster or slower", "Más rápido o más lento"),
    "read_codes": ("Read codes of another phone", "Leer códigos de otro teléfono"),
    "read_camera": ("Read with the camera", "Leer con la cámara"),
    "read_pictures": ("Read from pictures", "Leer de fotos"),
    "read_text": ("Or the text of the codes, one on each line", "O el texto de los códigos, uno por línea"),
    "read_so_far": (
        "{n} of {of} codes read; missing: {missing}",
        "{n} de {of} códigos leídos; faltan: {missing}",
    ),
    "read_all": (
        "All {n} codes read; the entries are kept here and sent on.",
        "Los {n} códigos están leídos; los registros se guardan aquí y se envían.",
    ),
    "read_bad": (
        "The codes do not fit together. Read them all again.",
        "Los códigos no coinciden. Léalos todos otra vez.",
    ),
    "carried": (
        "Entries of another phone wait here to be sent. {sentence}",
        "Registros de otro teléfono esperan aquí para enviarse. {sentence}",
    ),
    "photo_owed": ("photo owed", "se debe la foto"),
    "examine": ("Examined by another person", "Revisada por otra persona"),
    "examined": ("examined", "revisada"),
    "point_bead": ("bead all round", "cordón completo"),
    "point_home": ("home against the mark", "hasta el tope según la marca"),
    "point_ring": ("ring or nut on, right way round", "anillo o tuerca puestos, del lado correcto"),
    "point_straight": ("straight", "derecha"),
    "accepted": ("ACCEPTED", "ACEPTADA"),
    "not_accepted": ("NOT ACCEPTED", "NO ACEPTADA"),
    "same_person": (
        "{name} had a hand in this joint: another person has to look.",
        "{name} hizo parte de esta junta: tiene que revisarla otra persona.",
    ),
    "further": ("More", "Más"),
    "moved": ("moved or lowered", "movida o bajada"),
    "disturbed": ("knocked, bent or pulled", "golpeada, doblada o jalada"),
    "extra_joint": ("Extra joint beside this one", "Junta extra junto a esta"),
    "coupling": ("coupling", "cople"),
    "repair_coupling": ("repair coupling", "cople de reparación"),
    "field_joint": ("not on the drawing", "no está en el plano"),
    "note": ("note", "nota"),
    "write_note": ("Write a note", "Escribir una nota"),
    "keep": ("KEEP", "GUARDAR"),
    "cut_out": ("cut out", "cortada"),
    "first_dry_fit": ("dry fit", "prueba en seco"),
    "keep_anyway": ("KEEP IT ALL THE SAME", "GUARDAR DE TODOS MODOS"),
    "go_back": ("BACK", "REGRESAR"),
    "insisted": ("kept all the same, flagged", "guardado de todos modos, señalado"),
    "odd_order": ("{before} comes before {step}.", "{before} va antes de {step}."),
    "odd_early": ("The hold has {left} to go.", "Faltan {left} para dejar de sostener."),
    "odd_pullers": ("The pullers stay on for {left} more.", "Los polipastos se quedan {left} más."),
    "odd_hands_off": (
        "Hands off for {left} more: the time starts again.",
        "No tocar por {left} más: el tiempo empieza otra vez.",
    ),
    "odd_tight": (
        "It stops before one third: tight fit. Do not force it; measure both, change one, or ask.",
        "Se detiene antes de un tercio: ajuste apretado. No lo fuerce; mida los dos, cambie uno, o pregunte.",
    ),
    "odd_loose": (
        "It plays at the stop: loose fit. STOP and ask.",
        "Juega en el tope: ajuste flojo. ALTO y pregunte.",
    ),
    "odd_short": (
        "That is more than the procedure allows. No hammer, no pulling back: ask.",
        "Es más de lo que permite el procedimiento. Sin martillo, sin jalar: pregunte.",
    ),
    "odd_expired": ("Lot {name} is past its date.", "El lote {name} está vencido."),
    "odd_missing": ("Not said: {what}.", "No se dijo: {what}."),
    "odd_again": (
        "This joint is told as made already. If you tell it again, there are two stories.",
        "Esta junta ya está anotada como hecha. Si la anota otra vez, habrá dos versiones.",
    ),
    "odd_unknown": ("{name} is not known here.", "{name} no se conoce aquí."),
    "told_elsewhere": (
        "Another phone told that this joint is made.",
        "Otro teléfono anotó que esta junta está hecha.",
    ),
    "two_stories": (
        "TWO STORIES: this joint was told to be made more than once. Nothing can be told of it until "
        "the lead settles which one stands.",
        "DOS VERSIONES: esta junta se anotó como hecha más de una vez. No se puede decir nada de ella "
        "hasta que el encargado aclare cuál vale.",
    ),
    "forked": (
        "TWO STORIES: another entry stands in the place of one of this phone. Both are kept; the lead "
        "settles it.",
        "DOS VERSIONES: otra anotación está en el lugar de una de este teléfono. Se guardan las dos; "
        "el encargado lo aclara.",
    ),
    "under_pressure": (
        "UNDER PRESSURE: section {name}. Do not cut, loosen or cap. Keep off the line.",
        "CON PRESIÓN: sección {name}. No abrir, no aflojar, no cortar. Aléjese de la línea.",
    ),
    "waiting": ("{n} on this phone only", "{n} solo en este teléfono"),
    "all_sent": ("all arrived", "todo llegó"),
    "kept": ("kept on this phone", "guardado en este teléfono"),
    "not_kept": (
        "NOT KEPT: the phone could not write it. Make room, tap again; write it on paper.",
        "NO SE GUARDÓ: el teléfono no pudo escribirlo. Haga espacio, toque otra vez; anótelo en papel.",
    ),
    "offline": (
        "no answer from the job; everything is kept here",
        "la obra no contesta; todo se guarda aquí",
    ),
    "portal": (
        "This network answers with a page of its own: sign in there. Everything is kept here.",
        "Esta red contesta con su propia página: entre ahí primero. Todo se guarda aquí.",
    ),
    "refused": ("The job does not take it: {sentence}", "La obra no lo acepta: {sentence}"),
    "strange": (
        "The job's answer does not fit what was sent. Everything is kept here; tell the office.",
        "La respuesta de la obra no corresponde a lo enviado. Todo se guarda aquí; avise a la oficina.",
    ),
    "send_now": ("Send now", "Enviar ahora"),
    "as_file": ("Save entries as a file", "Guardar las anotaciones en un archivo"),
    "not_safe": (
        "NOT SAFE TO KEEP HERE: put the card on the home screen, send often.",
        "NO ES SEGURO GUARDAR AQUÍ: ponga la tarjeta en la pantalla de inicio, envíe seguido.",
    ),
    "nearly_full": (
        "THE PHONE IS NEARLY FULL: send now, then make room.",
        "EL TELÉFONO ESTÁ CASI LLENO: envíe ahora y haga espacio.",
    ),
    "clock_wrong": (
        "THE CLOCK OF THIS PHONE IS WRONG by {by}. Set it. Times told with it count for nothing until "
        "somebody confirms them.",
        "EL RELOJ DE ESTE TELÉFONO ESTÁ MAL por {by}. Póngalo en hora. Sus horas no cuentan hasta que "
        "alguien las confirme.",
    ),
    "update": ("A newer card is ready: tap to load it", "Hay una tarjeta más nueva: toque para cargarla"),
    "closed": (
        "Open this page again: a newer card has taken over.",
        "Abra esta página otra vez: hay una tarjeta más nueva.",
    ),
    "dark": ("dark", "oscuro"),
    "light": ("light", "claro"),
    "caution": (
        "No flames, no sparks. Gloves, goggles, moving air; the vapour lies low. The container's label "
        "and the approved procedure win over this card.",
        "SIN LLAMAS NI CHISPAS. Guantes, lentes, aire en movimiento; el vapor se queda abajo. La "
        "etiqueta del envase y el procedimiento aprobado valen más que esta tarjeta.",
    ),
    "list_page": ("The whole job", "Toda la obra"),
}
"""Key to English and Spanish; ``{name}`` is filled in on the phone."""


def card_words() -> dict[str, dict[str, str]]:
    """The words by language, as the phone keeps them.

    Returns
    -------
    dict
        Language to key to words.
    """
    return {language: {key: told[n] for key, told in CARD.items()} for n, language in enumerate(("en", "es"))}
