"""Every sound route that is written by hand, by its name."""

from __future__ import annotations

from collections.abc import Callable

from walk_pieces_other import (
    block_with_bore,
    bored_in_place,
    cross_hole,
    flat_on_the_slide,
    slit_clamp,
    tapped_plate,
    tube,
)
from walk_pieces_slender import slender_screw
from walk_pieces_turned import (
    between_centres,
    dial,
    die_in_tailstock,
    in_the_steady,
    knob,
    screw_with_collar,
    stepped_shaft,
)
from walk_records import Route

SOUND: dict[str, Callable[[], Route]] = {
    make.__name__: make
    for make in (
        *(
            stepped_shaft,
            screw_with_collar,
            block_with_bore,
            tube,
            flat_on_the_slide,
            bored_in_place,
        ),
        *(knob, dial, cross_hole, tapped_plate, die_in_tailstock, between_centres, in_the_steady),
        slit_clamp,
        slender_screw,
    )
}
"""Each by what it is."""
