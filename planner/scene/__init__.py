"""The attachment as meshes in a pose, on the lathe or alone: for the PNG pictures and the page.

scene works out what stands where, ``render`` draws it by its own z-buffer, ``png`` writes the bytes.
Loads the CAD kernel (through planner.solids) only where the attachment's own meshes are asked for.
Imported by planner.output and planner.page.
"""

from planner.scene.bodies import Work
from planner.scene.model import Mesh, Scene, Thing
from planner.scene.scene import Sweep, lathe_scene, scene

__all__ = ["Mesh", "Scene", "Sweep", "Thing", "Work", "lathe_scene", "scene"]
