"""Book: published tables as printed, each with its source; look-ups log every cell they read."""
