"""The papers: PDF from templates and XLSX lists, black and white first, the same bytes for the same pack."""

from __future__ import annotations

from lineproof.desk.papers.make import papers
from lineproof.desk.papers.spreadsheet import xlsx

__all__ = ["papers", "xlsx"]
