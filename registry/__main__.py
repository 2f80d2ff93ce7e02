"""Run the command line as ``python -m registry``."""

from registry.cli import main

main()
