"""The things a part is made of, and the standards it is made to."""
