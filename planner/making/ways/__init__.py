"""The ways things are made, a file a kind of work: turned, drilled, milled, sawn, divided, welded.

Each returns set-ups and operations of ``making.model``, the first way whose needs the shop and the
state of the work meet; what is lacking it notes in the Workshop. Imported by making.route's planners.
"""
