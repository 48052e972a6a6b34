"""Serving a crew: by which way phones reach the service, said on the terminal, and kept true while it runs.

Ways: HTTPS with this garage's own authority (what happens when nothing is said), with a certificate brought along, behind
a reverse proxy, or plain HTTP. There is no way from one to another but by saying so: what was asked for works, or
nothing is served.
"""

from yokemate.serving.garage import Garage
from yokemate.serving.tls import Brought
from yokemate.serving.ways import serve_behind, serve_brought, serve_garage, serve_plain

__all__ = ["Brought", "Garage", "serve_behind", "serve_brought", "serve_garage", "serve_plain"]
