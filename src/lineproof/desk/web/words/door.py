"""What the guard says to whoever it does not let in, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "foreign": (
        "This form does not come from a page of this server; open the page here and send it again.",
        "Este formulario no viene de una página de este servidor; abra aquí la página y mándelo otra vez.",
    ),
    "name": (
        "This server is not called {name}; use the address it printed.",
        "Este servidor no se llama {name}; use la dirección que mostró.",
    ),
    "nothing": ("nothing", "nada"),
    "other_door": (
        "This address is for this machine only; use the one the server printed for the site's network.",
        "Esta dirección es solo para esta máquina; use la que el servidor mostró para la red de la obra.",
    ),
    "far": (
        "This server is for the site's own network only.",
        "Este servidor es solo para la red de la obra.",
    ),
    "not_paired": (
        "This phone is not paired with the job, or not any more: ask the lead for a code and open "
        "https://{name}/pair. Nothing on the phone is lost meanwhile.",
        "Este teléfono no está emparejado con la obra, o ya no: pida un código al encargado y abra "
        "https://{name}/pair. Mientras tanto no se pierde nada del teléfono.",
    ),
    "role": (
        "This phone is paired as {mine}; that is for: {roles}. Ask the lead; nothing was written.",
        "Este teléfono está emparejado como {mine}; eso es para: {roles}. Pregunte al encargado; no se "
        "escribió nada.",
    ),
    "often": (
        "Too often: try again in {seconds} s.",
        "Demasiado seguido: pruebe otra vez en {seconds} s.",
    ),
    "length": (
        "The length of this form is not a number.",
        "El tamaño de este formulario no es un número.",
    ),
    "large": (
        "This form is larger than {bytes} bytes.",
        "Este formulario pasa de {bytes} bytes.",
    ),
    "kind": (
        "This takes {allowed}, not {kind}.",
        "Aquí va {allowed}, no {kind}.",
    ),
    "no_kind": ("something without a type", "algo sin tipo"),
    "broke_off": (
        "This form broke off on its way; send it again.",
        "Este formulario se cortó en el camino; mándelo otra vez.",
    ),
    "slow": (
        "This form came too slowly; send it again where the signal is better.",
        "Este formulario llegó demasiado lento; mándelo otra vez donde haya mejor señal.",
    ),
    "others_chain": (
        "These entries were begun on phone {owner}, and this is {phone}: a chain is written by one phone "
        "only",
        "Estos registros se empezaron en el teléfono {owner}, y este es {phone}: una cadena la escribe un "
        "solo teléfono",
    ),
    "others_chain_next": (
        "nothing was taken and nothing is lost; if it is the same phone paired anew, the lead pairs it "
        "again as {owner}; otherwise save them as a file and give it to the lead",
        "no se tomó ni se perdió nada; si es el mismo teléfono emparejado de nuevo, el encargado lo "
        "empareja otra vez como {owner}; si no, guárdelos como archivo y déselo al encargado",
    ),
    "known_chain": (
        "These entries go on a chain that no paired phone began",
        "Estos registros siguen una cadena que no empezó ningún teléfono emparejado",
    ),
    "known_chain_next": (
        "nothing was taken and nothing is lost; save them as a file and give it to the lead",
        "no se tomó ni se perdió nada; guárdelos como archivo y déselo al encargado",
    ),
    "not_your_kind": (
        "Entry {n} ({kind}) cannot be sent from the phone of: {roles}",
        "El registro {n} ({kind}) no se puede mandar desde el teléfono de: {roles}",
    ),
    "not_your_kind_next": (
        "nothing was taken and nothing is lost; show this to the lead",
        "no se tomó ni se perdió nada; enséñele esto al encargado",
    ),
    "kind_here": (
        "{kind} cannot be put down from the phone of: {roles}",
        "{kind} no se puede anotar desde el teléfono de: {roles}",
    ),
    "kind_here_next": (
        "nothing was written; ask the person who signs it",
        "no se escribió nada; pídaselo a la persona que lo firma",
    ),
    "others_name": (
        "Entry {n} ({kind}) bears another name than {person}, whose phone this is",
        "El registro {n} ({kind}) lleva otro nombre que el de {person}, de quien es este teléfono",
    ),
    "others_name_next": (
        "nothing was taken and nothing is lost; whoever signs does it on their own phone",
        "no se tomó ni se perdió nada; quien firma lo hace en su propio teléfono",
    ),
    "other_name": (
        "This phone was paired to {person} and cannot sign as {typed}",
        "Este teléfono está emparejado con {person} y no puede firmar como {typed}",
    ),
    "other_name_allowed": ("{person}", "{person}"),
    "other_name_next": (
        "sign with your own name, or let that person do it on their own phone; nothing was written",
        "firme con su propio nombre, o que esa persona lo haga en su propio teléfono; no se escribió nada",
    ),
}
