"""The HTTP side: parse a request, call the room below, answer. A refusal becomes a status code in one place.

The only room that knows FastAPI, beside `app`, which wires the rooms together.
"""
