"""The build book: its chapters as plain data, a route read from its records, one writer of its PDF.

What stands in which chapter says ``planner.output.book``, which alone imports this room.
"""
