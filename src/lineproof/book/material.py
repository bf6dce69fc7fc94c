"""Properties of PVC and CPVC: density, expansion, modulus, working stress."""

from __future__ import annotations

from lineproof.book.load import Book
from lineproof.book.table import to_si
from lineproof.floor.errors import OurFault
from lineproof.floor.sources import Reading

_TABLE = "material_properties"
_ISO_NAMES = {"pvc": "pvc-u", "cpvc": "pvc-c"}


def density(book: Book, material: str, reading: Reading) -> float:
    """Density.

    Parameters
    ----------
    book : Book
        The tables.
    material : str
        ``"pvc"`` or ``"cpvc"``.
    reading : Reading
        The log of what is read.

    Returns
    -------
    float
        Density. [kg/m3]
    """
    return book.number(_TABLE, f"{material}/density//", "value_kg_m3", reading)


def expansion(book: Book, material: str, reading: Reading, *, metric: bool = False) -> float:
    """Linear thermal expansion, the row marked as default.

    Parameters
    ----------
    book : Book
        The tables.
    material : str
        ``"pvc"`` or ``"cpvc"``.
    reading : Reading
        The log of what is read.
    metric : bool
        True for pipe to ISO standards, whose documents carry larger values.

    Returns
    -------
    float
        Coefficient. [1/K]
    """
    if metric:
        return book.number(_TABLE, f"{_ISO_NAMES[material]}/linear-expansion//", "value_mm_per_m_K", reading)
    return book.number(_TABLE, f"{material}/linear-expansion//default", "value_per_F", reading)


def modulus(book: Book, material: str, temperature: float, reading: Reading) -> float | None:
    """Short-term modulus at the next hotter listed temperature (the lower modulus).

    Parameters
    ----------
    book : Book
        The tables.
    material : str
        ``"pvc"`` or ``"cpvc"``.
    temperature : float
        Wall temperature. [K]
    reading : Reading
        The log of what is read.

    Returns
    -------
    float or None
        Modulus; None above the hottest row. [Pa]
    """
    return _next_hotter(book, f"{material}/modulus/", temperature, reading)


def working_stress(book: Book, material: str, temperature: float, reading: Reading) -> float | None:
    """Working hoop stress at the next hotter listed temperature.

    Parameters
    ----------
    book : Book
        The tables.
    material : str
        ``"pvc"`` or ``"cpvc"``.
    temperature : float
        Wall temperature. [K]
    reading : Reading
        The log of what is read.

    Returns
    -------
    float or None
        Stress; None above the hottest row. [Pa]
    """
    return _next_hotter(book, f"{material}/working-stress/", temperature, reading)


def _next_hotter(book: Book, prefix: str, temperature: float, reading: Reading) -> float | None:
    hotter = []
    for key in book.keys(_TABLE):
        if key.startswith(prefix):
            hot = to_si("temp_degF", book.plain(_TABLE, key, "temp_degF"))
            if hot >= temperature - 1e-6:
                hotter.append((hot, key))
    return book.number(_TABLE, min(hotter)[1], "value_psi", reading) if hotter else None


def solvent(book: Book, substance: str, prop: str, reading: Reading) -> float | None:
    """A property of a solvent in cement or primer, SI.

    Parameters
    ----------
    book : Book
        The tables.
    substance : str
        ``"thf"``, ``"mek"``, ``"cyclohexanone"``, ``"acetone"`` or ``"nmp"``.
    prop : str
        ``"liquid-density"`` [kg/m3], ``"molar-mass"`` [kg/mol], ``"boiling-point"`` and
        ``"flash-point"`` [K], ``"lower-limit"``, ``"osha-pel"`` and ``"idlh"`` [volume fraction],
        ``"vapour-pressure-20C"`` [Pa], ``"heat-of-vaporisation"`` [J/kg].
    reading : Reading
        The log of what is read.

    Returns
    -------
    float or None
        The value; None where the table has none. [SI]
    """
    row = f"{substance}/{prop}"
    if not book.has("substances", row):
        return None
    for column in book.table("substances").value_columns:
        if column != "condition":
            value = book.maybe_number("substances", row, column, reading)
            if value is not None:
                return value
    raise OurFault(f"table substances, row {row} holds no value")


def least_bend_radius(book: Book, material: str, od: float, reading: Reading) -> float:
    """Least radius to which a run may be bowed.

    Parameters
    ----------
    book : Book
        The tables.
    material : str
        ``"pvc"``; nothing is listed for others.
    od : float
        Outside diameter of the pipe. [m]
    reading : Reading
        The log of what is read.

    Returns
    -------
    float
        Radius. [m]

    Raises
    ------
    SizeNotListed
        For a material that is not listed.
    """
    return od * book.number("bend_radius", material, "value_ratio", reading)
