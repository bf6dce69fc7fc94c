"""Runs the command line: ``python -m lineproof``."""

import sys

if __name__ == "__main__":
    try:
        from lineproof.desk.cli import main

        main()
    except KeyboardInterrupt:  # stopped while loading: as quiet as later on
        sys.exit(130)
