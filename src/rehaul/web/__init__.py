"""The job in a browser: a server for this machine or the local network, and its pages."""

from rehaul.web.app import make_app
from rehaul.web.serving import print_security, serve
from rehaul.web.settings import Settings

__all__ = ["Settings", "make_app", "print_security", "serve"]
