"""``python -m beltwright``: the command line."""

from beltwright.cli.main import main

main()
