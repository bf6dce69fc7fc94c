"""Lineproof: from a drawing to a proven line."""

__version__ = "0.1.0"
