"""Desk: terminal, papers, drawings and exchange; it gives birth to no engineering number."""
