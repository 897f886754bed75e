"""`python -m rehaul.kernels`: compile now what would be compiled on first use."""

import sys

from rehaul.kernels.preparing import is_done, packages, prepare

prepare()
sys.exit(not all(is_done(package) for package in packages()))
