"""The caution page in Spanish, sentence by sentence as in ``cautions``.

Plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

CAUTIONS_ES: tuple[tuple[str, tuple[str, ...]], ...] = (
    (
        "Solvente: fuego y vapores",
        (
            "El cemento, el primer y el limpiador arden, y sus vapores también. SIN LLAMAS NI CHISPAS, sin "
            "fumar, sin trabajo en caliente cerca de latas abiertas, juntas frescas o tubo abierto, tampoco "
            "semanas después, si no está ventilado o cerrado con permiso.",
            "Los vapores pesan más que el aire y se quedan en zanjas, fosas y tubo bajo. Aire en movimiento, "
            "jalado desde abajo y lejos; ahí las herramientas y luces eléctricas deben ser para vapores "
            "inflamables.",
            "Guantes, lentes, mangas largas. Latas cerradas entre capas, trapos en una lata de metal con "
            "tapa, "
            "un extintor a la mano. Las hojas de seguridad están en el sitio. Respirador solo dentro de un "
            "programa de respiradores.",
        ),
    ),
    (
        "Espacio confinado",
        (
            "Una bóveda, un pozo, una fosa, un tanque o un tubo grande puede serlo. Nadie entra a cementar "
            "antes "
            "de que la persona competente haya medido el aire en el fondo, la ventilación esté trabajando, "
            "haya "
            "un vigía afuera y la entrada tenga permiso.",
        ),
    ),
    (
        "Zanja",
        (
            "La persona competente revisa la zanja cada día y después de la lluvia. Apuntale, ponga cajón o "
            "dé "
            "talud antes de que alguien entre; la tierra lejos de la orilla; una escalera cerca. El cajón "
            "debe "
            "ser lo bastante largo para los polipastos.",
        ),
    ),
    (
        "Polipastos, sierras, izaje",
        (
            "Correas y polipastos de capacidad marcada y dentro de su fuerza; nadie en línea con una correa "
            "cargada; ninguna mano entre tubo y campana. Si una pieza pide más fuerza que la planeada, se "
            "para; "
            "no se jala más fuerte.",
            "Lentes y guantes en la sierra; el tubo sujeto para que no ruede. Levante según la masa: vea la "
            "lista de corte.",
        ),
    ),
    (
        "Fraguado y curado",
        (
            "NO TOCAR hasta la hora de la tarjeta de junta: nada se mueve, nada se baja, nada se une a ella. "
            "Sin "
            "calor para apurarla.",
        ),
    ),
    (
        "Prueba de presión: solo agua",
        (
            "Nunca pruebe tubo de plástico con aire ni gas. Sin presión antes de que cada junta de la "
            "sección "
            "haya curado para la presión a su propia altura, y solo con la autorización de la persona a "
            "cargo de "
            "la prueba.",
            "Purgue todo el aire, suba por pasos, aléjese, nadie en la zanja mientras sube. Tapas y bridas "
            "ciegas "
            "sujetas; cero comprobado en cada parte cerrada antes de aflojar nada.",
        ),
    ),
)
"""Title and sentences, in the order of ``cautions.CAUTIONS``."""

ABOVE_ES = (
    "La etiqueta del envase y la hoja de seguridad, el procedimiento de unión aprobado, el plano, el "
    "reglamento "
    "local y los permisos del sitio mandan sobre todo lo de este paquete. Donde no coincidan, mandan ellos: "
    "pare y "
    "pregunte."
)

ROLES_ES: Mapping[str, tuple[str, str]] = {
    "lead": ("encargado de la cuadrilla", "las juntas de una sección están listas"),
    "engineer": ("ingeniero", "presión máxima firmada, sujeciones, esfuerzo en frío, valores confirmados"),
    "quality": ("persona de calidad", "valores confirmados contra el documento abierto"),
    "second_reader": ("segundo lector", "tarjeta de cemento leída de regreso del envase"),
    "inspector": ("inspector", "puntos de espera"),
    "test_in_charge": ("persona a cargo de la prueba", "llevar a presión; gente fuera; cero comprobado"),
    "witness": ("testigo del dueño", "lo que se vio; no autoriza nada"),
}
"""Role to what it is called and what it signs."""

HEADS_ES = {
    "name": "Precauciones",
    "where": "se leen en voz alta antes de abrir la primera lata",
    "who": "Quién decide, por puesto",
    "role": "puesto",
    "signs_for": "firma",
    "person": "nombre",
    "field": "Las personas con licencia o competentes que nombra el reglamento local (ingeniero, supervisor "
    "de "
    "entrada, operador de grúa, electricista) deciden en su propio campo.",
    "hot": "Hay trabajo en caliente planeado: {kind}, {place}",
    "hot_lines": ", líneas {lines}",
}
"""Headings of the page."""
