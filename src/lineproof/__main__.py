"""Runs the command line: ``python -m lineproof``."""

from lineproof.desk.cli import main

if __name__ == "__main__":
    main()
