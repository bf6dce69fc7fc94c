"""Pages of ``lineproof serve``: the same values as the command line and the papers, drawn for a screen."""
