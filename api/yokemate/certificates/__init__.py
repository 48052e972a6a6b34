"""HTTPS on a garage's own network: its authority, the service's certificate, the name it is found by.

`names` and `making` are pure: what a certificate holds, given the names and the moment. `files` keeps the keys,
`machine` asks what this machine is called, `announce` makes the name findable, `profile` packs the authority for iOS.
"""
