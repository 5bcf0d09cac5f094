"""Drawing sheets: what a part, a piece or a weldment must say, where it stands, and its writers.

What is said: ``subjects`` what a sheet is of, ``stations`` the faces and axes of its solid,
``relations`` what need not be said and why, ``scheme`` the dimensions, ``signs`` textures, welds,
datums and trueness, ``proof`` and ``proof_signs`` that all is complete and nothing is said twice.
Where it stands: ``choose`` the views, ``outline`` and ``pointing`` what they show, ``beside`` and
``lanes`` the dimensions, ``wording`` and ``callouts`` the words, ``room`` and ``leaders`` where these
go, ``standing`` the signs, ``joints`` where a weld runs, ``scaled`` and ``detail`` what is shown
larger, ``isometric`` a picture beside them, ``layout`` a sheet, ``notice`` a page that says why there
is none. The whole: ``arrangement`` on the lathe, ``cutaway`` in section, ``exploded`` with its list of
``items``. Set-ups: ``setup`` and ``setup_tools``, from plain sizes. One model in paper millimetres
(``model``), and the writers that print it.
"""
