"""A reader of finished sheets: from a DXF alone to the solid that its numbers say.

Imports nothing from the program: it reads as a machinist would. Lines say what is meant (which edge a
number belongs to, on which side a hole lies); how big and where is taken from the printed numbers only.
"""
