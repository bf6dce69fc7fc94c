"""Words of the pages that pair phones, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "title": ("Phones", "Teléfonos"),
    "alone": (
        "The job is shown on this machine only. To let phones in, stop it and start: lineproof serve --lan",
        "La obra se ve solo en esta máquina. Para dejar entrar teléfonos, deténgala y arranque: lineproof "
        "serve --lan",
    ),
    "none": ("No phone is paired yet.", "Todavía no hay ningún teléfono emparejado."),
    "first": (
        "First, once on each phone: open {address} and take the certificate of the job. Its fingerprint "
        "must read:",
        "Primero, una vez en cada teléfono: abra {address} y acepte el certificado de la obra. Su huella "
        "debe decir:",
    ),
    "pair": ("Pair a phone", "Emparejar un teléfono"),
    "person": ("Whose phone is it?", "¿De quién es el teléfono?"),
    "does": ("What that person does here", "Qué hace aquí esa persona"),
    "again": ("A phone that is paired again", "Un teléfono que se empareja otra vez"),
    "again_none": ("no, it is a new one", "no, es uno nuevo"),
    "make": ("Make the code", "Hacer el código"),
    "code": ("The code for {person}", "El código para {person}"),
    "scan": (
        "Scan it with the phone's camera, or open {address} and type the code. It pairs one phone, once, "
        "and only until {until}.",
        "Escanéelo con la cámara del teléfono, o abra {address} y escriba el código. Empareja un solo "
        "teléfono, una vez, y solo hasta las {until}.",
    ),
    "hand": (
        "Hand it to {person} in person: what is signed on that phone counts as signed by {person}.",
        "Entréguelo a {person} en persona: lo que se firme en ese teléfono cuenta como firmado por {person}.",
    ),
    "listed": ("Paired phones", "Teléfonos emparejados"),
    "row": ("{person}, as {roles}", "{person}, como {roles}"),
    "since": ("paired {paired}, last seen {seen}", "emparejado {paired}, visto por última vez {seen}"),
    "dropped": ("dropped {when}", "quitado {when}"),
    "drop": ("Drop this phone", "Quitar este teléfono"),
    "reason": ("Why", "Por qué"),
    "drop_told": (
        "{phone} is dropped. What it sent stays in the logbook; what waits on it can be sent once it is "
        "paired again.",
        "{phone} quedó fuera. Lo que mandó sigue en el registro; lo que le falta por mandar se puede mandar "
        "cuando se empareje otra vez.",
    ),
    "no_phone": ("There is no phone {phone} to drop", "No hay ningún teléfono {phone} que quitar"),
    "no_phone_next": ("open the page Phones again", "abra otra vez la página Teléfonos"),
    "enter": ("Pair this phone with the job", "Emparejar este teléfono con la obra"),
    "enter_code": ("The code from the lead", "El código del encargado"),
    "enter_name": ("A name for this phone", "Un nombre para este teléfono"),
    "enter_go": ("Pair", "Emparejar"),
    "enter_why": (
        "The lead makes a code and shows it to you. It works once and only for a few minutes. What you sign "
        "on this phone is then signed with your name.",
        "El encargado hace un código y se lo muestra. Sirve una vez y solo unos minutos. Lo que usted firme "
        "en este teléfono queda firmado con su nombre.",
    ),
    "wrong": (
        "This code is not open: it was used, it ran out, or a letter is wrong. Ask the lead for a new one.",
        "Este código no vale: ya se usó, venció o hay una letra mal. Pida uno nuevo al encargado.",
    ),
    "off": (
        "Phones are not let in now. Ask the lead.",
        "Ahora no se dejan entrar teléfonos. Pregunte al encargado.",
    ),
    "lead": ("lead", "encargado"),
    "joiner": ("joiner", "pegador"),
    "inspector": ("inspector", "inspector"),
    "engineer": ("engineer", "ingeniero"),
    "test_in_charge": ("person in charge of the test", "responsable de la prueba"),
    "witness": ("owner's witness", "testigo del dueño"),
    "viewer": ("viewer", "solo ver"),
}
