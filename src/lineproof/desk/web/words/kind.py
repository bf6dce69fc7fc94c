"""Kinds of entries as the pages name them, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "joint_made": ("A joint was made", "Se hizo una junta"),
    "first_on": ("Ring or nut is on", "El anillo o la tuerca está puesto"),
    "dry_fit": ("Dry fit", "Prueba en seco"),
    "insertion": ("How far short of the mark", "Cuánto faltó para la marca"),
    "hold_end": ("The hold ended", "Se dejó de sostener"),
    "pullers_off": ("Pullers and straps are off", "Polipastos y correas quitados"),
    "examined": ("A joint was examined", "Se revisó una junta"),
    "rejected": ("A joint was rejected", "Se rechazó una junta"),
    "cut_out": ("A joint was cut out", "Se cortó una junta"),
    "replaced": ("A joint was replaced", "Se reemplazó una junta"),
    "field_joint": ("A joint that is not drawn", "Una junta que no está en el plano"),
    "moved": ("It was moved", "Se movió"),
    "disturbed": ("It was knocked", "Recibió un golpe"),
    "isolation": ("How the section ends", "Cómo termina la sección"),
    "source": ("What brings the pressure", "Qué da la presión"),
    "gauge": ("A gauge hangs", "Hay un manómetro puesto"),
    "restraint_checked": ("Restraints looked at", "Sujeciones revisadas"),
    "bolts_torqued": ("Flange bolts tightened", "Tornillos de brida apretados"),
    "grout": ("Fresh grout or anchor", "Mortero o anclaje fresco"),
    "condition": ("Answered on the spot", "Contestado en el lugar"),
    "release_asked": ("A release is asked for", "Se pide una autorización"),
    "release_withdrawn": ("A release is withdrawn", "Se retira una autorización"),
    "release_expired": ("A release ran out", "Se venció una autorización"),
    "zero_proved": ("Zero proved by an open vent", "Cero comprobado con el venteo abierto"),
    "reading": ("A temperature", "Una temperatura"),
    "humidity": ("A humidity", "Una humedad"),
    "reading_file": ("A logger's file", "Archivo de un registrador"),
    "imported": ("A file is imported", "Se importa un archivo"),
    "can_received": ("A can came", "Llegó una lata"),
    "can_opened": ("A can was opened", "Se abrió una lata"),
    "can_thrown": ("A can was thrown away", "Se tiró una lata"),
    "hold_tag_set": ("A hold tag is set", "Se pone una etiqueta de alto"),
    "hold_tag_lifted": ("A hold tag is lifted", "Se quita una etiqueta de alto"),
    "note": ("A note", "Una nota"),
    "correction": ("A correction", "Una corrección"),
    "time_confirmed": ("A time is confirmed", "Se confirma una hora"),
}
