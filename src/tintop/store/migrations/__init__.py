"""How garage.sqlite came to its present tables, step by step; `VERSIONS` lists the steps in order."""

VERSIONS = ("0001", "0002")
LATEST = VERSIONS[-1]
