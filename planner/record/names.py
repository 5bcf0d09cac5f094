"""What the record's folder and its files are called: loads nothing. For this room and the package."""

FOLDER_SUFFIX, MADE, BALLS, MOVES = "-record", "made.toml", "balls.jsonl", "moves.jsonl"
"""The record of my-lathe.toml is my-lathe-record/, and in it these files."""
