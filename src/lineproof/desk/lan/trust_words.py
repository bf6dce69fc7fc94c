"""What the page of the certificate says, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

WORDS: Mapping[str, tuple[str, str]] = {
    "title": ("Once on each phone: trust this job", "Una vez en cada teléfono: confiar en esta obra"),
    "what": (
        "The phone has to know that it talks to {name} and to nobody else. Until it does, the joint card "
        "cannot keep records without a signal. The certificate is good for this job's name and the site's "
        "own network only, until {until}; take it off the phone when the job is over.",
        "El teléfono tiene que saber que habla con {name} y con nadie más. Mientras no lo sepa, la tarjeta "
        "de la junta no puede guardar registros sin señal. El certificado solo vale para el nombre de esta "
        "obra y la red de la obra, hasta {until}; quítelo del teléfono cuando termine la obra.",
    ),
    "take": ("Get the certificate: job-ca.crt", "Bajar el certificado: job-ca.crt"),
    "compare": (
        "Compare with the screen of the lead, figure by figure, before you trust it (SHA-256):",
        "Compare con la pantalla del encargado, cifra por cifra, antes de confiar (SHA-256):",
    ),
    "wrong": (
        "If one figure differs, stop: do not trust it, and tell the lead. Never tap past a warning that the "
        "page is not safe: the card would then not work without a signal.",
        "Si una cifra es distinta, pare: no confíe y avise al encargado. Nunca pase por encima de un aviso "
        "de que la página no es segura: la tarjeta no funcionaría sin señal. (Spanish to be read over by a "
        "native-speaking fitter.)",
    ),
}
STEPS: tuple[tuple[str, str], ...] = (
    (
        "Tap the button above. The phone saves the file or says that a profile was loaded.",
        "Toque el botón de arriba. El teléfono guarda el archivo o dice que se cargó un perfil.",
    ),
    (
        "If it says profile: open Settings, tap the loaded profile, install it. Then search the settings "
        "for “certificate trust” and switch this one on.",
        "Si dice perfil: abra Ajustes, toque el perfil cargado, instálelo. Luego busque en los ajustes "
        "“confianza de certificados” y active este.",
    ),
    (
        "If it saved a file: open Settings, search for “CA certificate”, choose to install it, and pick "
        "job-ca.crt.",
        "Si guardó un archivo: abra Ajustes, busque “certificado de CA”, elija instalar y escoja job-ca.crt.",
    ),
    (
        "Look at the certificate's details there and compare SHA-256 once more.",
        "Vea ahí los detalles del certificado y compare SHA-256 otra vez.",
    ),
    (
        "Open {pair} and type the code that the lead makes for you.",
        "Abra {pair} y escriba el código que el encargado le haga.",
    ),
)
