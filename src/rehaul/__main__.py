"""`python -m rehaul`"""

from rehaul.cli.main import main

main()
