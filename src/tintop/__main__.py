"""`python -m tintop`: the same as the command."""

from tintop.cli import main

main()
