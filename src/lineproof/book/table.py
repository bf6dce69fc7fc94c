"""One table: its rows as stored, its side file, its units; the hash that a confirmation is keyed by."""

from __future__ import annotations

import csv
import hashlib
import json
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import cast

from lineproof.floor.errors import OurFault
from lineproof.floor.sources import Kind, Source, Standing
from lineproof.floor.unit_table import UNITS, Unit

# What the end of a column name means. Man-hours are person-seconds; ppm and per cent by volume are
# fractions; what the floor does not list (conductivity, specific heat) is a plain factor.
_UNITS: dict[str, Unit] = {
    "_in": UNITS["length"]["in"],
    "_ft": UNITS["length"]["ft"],
    "_mm": UNITS["length"]["mm"],
    "_m": UNITS["length"]["m"],
    "_psi": UNITS["pressure"]["psi"],
    "_bar": UNITS["pressure"]["bar"],
    "_MPa": UNITS["pressure"]["MPa"],
    "_Pa": UNITS["pressure"]["Pa"],
    "_K": UNITS["temperature_step"]["K"],
    "_degF": UNITS["temperature"]["F"],
    "_degC": UNITS["temperature"]["C"],
    "_per_F": UNITS["expansion"]["1/F"],
    "_mm_per_m_K": UNITS["expansion"]["mm/m/K"],
    "_s": UNITS["time"]["s"],
    "_minutes": UNITS["time"]["min"],
    "_h": UNITS["time"]["h"],
    "_mh": UNITS["time"]["h"],
    "_gal": UNITS["volume"]["gal"],
    "_cP": UNITS["viscosity"]["cP"],
    "_pct": UNITS["fraction"]["%"],
    "_deg": UNITS["angle"]["deg"],
    "_kg_m3": UNITS["density"]["kg/m3"],
    "_g_mol": UNITS["molar_mass"]["g/mol"],
    "_ppm": Unit("ppm", 1.0, "parts a million by volume", over=1e6),
    "_W_m_K": Unit("W/m/K", 1.0, "watt a metre and kelvin"),
    "_kJ_kg_K": Unit("kJ/kg/K", 1e3, "kilojoule a kilogram and kelvin"),
    "_kJ_kg": Unit("kJ/kg", 1e3, "kilojoule a kilogram"),
}
_SUFFIXES = sorted(_UNITS, key=len, reverse=True)
_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?")


def unit_of(column: str) -> Unit | None:
    """The unit at the end of a column name, or None for a plain number or text.

    Parameters
    ----------
    column : str
        Column name, such as ``"od_in"``.

    Returns
    -------
    Unit or None
        The unit.
    """
    return next((_UNITS[s] for s in _SUFFIXES if column.endswith(s)), None)


def to_si(column: str, value: float) -> float:
    """A printed value in SI, by the unit at the end of its column name.

    Parameters
    ----------
    column : str
        Column name, such as ``"od_in"`` or ``"temp_lo_degF"``; without a unit the value is plain.
    value : float
        The value as printed. [unit of the column]

    Returns
    -------
    float
        The value. [SI]
    """
    unit = unit_of(column)
    return value if unit is None else unit.to_si(value)


def _typed(text: str) -> float | str | None:
    text = text.strip()
    if not text:
        return None
    return float(text) if _NUMBER.fullmatch(text) else text


def _key_part(text: str) -> str:
    value = _typed(text)
    return f"{value:g}" if isinstance(value, float) else (value or "")


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a table as stored.

    Parameters
    ----------
    key : str
        The key columns joined by ``/``, numbers without needless zeros, such as ``"12/80"``.
    values : mapping
        Column to value as printed; None where the table has none.
    hash : str
        First 16 hex digits of SHA-256 over table, edition and all columns.
    source : Source
        The table's source with what was read for this row.
    """

    key: str
    values: Mapping[str, float | str | None]
    hash: str
    source: Source


@dataclass(frozen=True, slots=True)
class Table:
    """One published table.

    Parameters
    ----------
    name : str
        Folder name.
    source : Source
        The document behind it.
    units : str
        The units the document rules in.
    key : tuple of str
        Names of the key columns.
    columns : mapping
        Column name to its meaning.
    standing_columns : mapping
        Column name to the column that holds its standing; others use ``standing``.
    derived_from : mapping
        Column name (``*`` = any) to ``found`` or ``memory``: what DERIVED values stand on.
    notes : tuple of str
        Known misprints and cautions.
    rows : mapping
        Key to row, in the order of the file.
    """

    name: str
    source: Source
    units: str
    key: tuple[str, ...]
    columns: Mapping[str, str]
    standing_columns: Mapping[str, str]
    derived_from: Mapping[str, str]
    notes: tuple[str, ...]
    rows: Mapping[str, Row]

    @property
    def value_columns(self) -> tuple[str, ...]:
        """Columns that hold values: neither key, standing nor source."""
        apart = {*self.key, *self.standing_columns.values(), "standing", "source", "designation", "edition"}
        return tuple(c for c in self.columns if c not in apart)

    def standing_of(self, row: Row, column: str) -> Standing:
        """Standing of one value as the table states it."""
        return Standing(str(row.values[self.standing_columns.get(column, "standing")]))

    def stands_on_found(self, column: str, standing: Standing) -> bool:
        """Whether a value of this standing needs no confirmation."""
        if standing is Standing.DERIVED:
            return self.derived_from.get(column, self.derived_from.get("*", "memory")) == "found"
        return standing is Standing.FOUND


def _fault(folder: Path, what: str) -> OurFault:
    return OurFault(f"table {folder.name}: {what}", next="repair the table folder")


def read_table(folder: Path) -> Table:
    """Read one table folder and check that its CSV and its side file agree.

    Parameters
    ----------
    folder : Path
        Folder with ``table.csv`` and ``source.toml``.

    Returns
    -------
    Table
        The table.

    Raises
    ------
    OurFault
        If header, keys or standing are not what the side file says.
    """
    side = tomllib.loads((folder / "source.toml").read_text("utf-8"))
    columns = cast("dict[str, str]", side["columns"])
    key = tuple(cast("list[str]", side["key"]))
    standing_columns = cast("dict[str, str]", side.get("standing_columns", {}))
    source = Source(
        designation=str(side["designation"]),
        edition=str(side["edition"]),
        table=str(side["table"]),
        standing=Standing(str(side["standing"])),
        kind=Kind(str(side["kind"])),
        read_in=str(side["read_in"]),
        transcribed_by=str(side["transcribed_by"]),
        checked_by=str(side["checked_by"]),
    )
    with (folder / "table.csv").open(encoding="utf-8", newline="") as file:
        lines = list(csv.reader(file))
    header = lines[0] if lines else []
    if header != list(columns):
        raise _fault(folder, f"header {header} is not the columns of source.toml {list(columns)}")
    for column in (*key, *standing_columns, *standing_columns.values(), "standing", "source"):
        if column not in columns:
            raise _fault(folder, f"column {column} is named in source.toml but not there")
    rows: dict[str, Row] = {}
    for number, line in enumerate(lines[1:], start=2):
        if len(line) != len(header):
            raise _fault(folder, f"line {number} has {len(line)} cells, not {len(header)}")
        raw = dict(zip(header, line, strict=True))
        name = "/".join(_key_part(raw[k]) for k in key)
        if name in rows:
            raise _fault(folder, f"line {number}: row {name} is there twice")
        for column in {"standing", *standing_columns.values()}:
            if raw[column] not in Standing.__members__:
                raise _fault(folder, f"line {number}: {column} is {raw[column]!r}")
        of_row = replace(
            source,
            read_in=raw["source"],
            designation=raw.get("designation") or source.designation,
            edition=raw.get("edition") or source.edition,
        )
        rows[name] = Row(
            key=name,
            values={c: _typed(v) for c, v in raw.items()},
            hash=row_hash(folder.name, of_row.edition, raw),
            source=of_row,
        )
    return Table(
        name=folder.name,
        source=source,
        units=str(side["authoritative_units"]),
        key=key,
        columns=columns,
        standing_columns=standing_columns,
        derived_from=cast("dict[str, str]", side.get("derived_from", {})),
        notes=tuple(cast("list[str]", side["notes"])),
        rows=rows,
    )


def row_hash(table: str, edition: str, raw: Mapping[str, str]) -> str:
    """Hash of a row: it changes when any cell, the edition or the table changes.

    Parameters
    ----------
    table, edition : str
        Folder name and edition.
    raw : mapping
        Column to text as in the file.

    Returns
    -------
    str
        First 16 hex digits of SHA-256.
    """
    text = json.dumps([table, edition, sorted(raw.items())], ensure_ascii=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()[:16]
