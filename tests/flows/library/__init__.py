"""Flows of the library beside the main one: walks that take every rule, and what their examples come to.

`NAME.yaml` here holds the walks of the flow NAME, a replay file with `walks:`; `flows/examples/NAME/` its
examples, each of which says under `expect` what it must come to.
"""
