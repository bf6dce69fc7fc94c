"""What ends a release at once, in the order of ``raise_keep.VOIDS``, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "0": (
        "any joint made, cut, moved, disturbed or repaired in the section or beyond an end that does "
        "not hold",
        "cualquier junta hecha, cortada, movida, golpeada o reparada en la sección o más allá de un extremo "
        "que no cierra",
    ),
    "1": ("a hold tag set on it", "una etiqueta de alto puesta en ella"),
    "2": (
        "a colder reading, a correction or a late entry that makes a wait longer",
        "una lectura más fría, una corrección o una anotación tardía que alarga una espera",
    ),
    "3": (
        "another gauge, another source, another medium, a higher pressure",
        "otro manómetro, otra fuente, otro fluido, más presión",
    ),
    "4": ("people back in the area", "gente otra vez en el área"),
}
