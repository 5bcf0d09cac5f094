"""The build package: every file of a job in one folder, written whole or not at all.

write makes it; claim is the folder beside the target in which it is made, one build at a time; swap
puts it into its place and mends what an interrupted build left; manifest tells an untouched package
from anything of the user's; origin says what a package was made from; guide writes its README.txt.
Nothing here loads what plans, so that an unchanged job costs next to nothing.
"""

from planner.output.package.manifest import MANIFEST
from planner.output.package.names import unsafe
from planner.output.package.origin import made_from, read_files, read_hashes, unchanged
from planner.output.package.swap import mended
from planner.output.package.write import build

__all__ = [
    "MANIFEST",
    "build",
    "made_from",
    "mended",
    "read_files",
    "read_hashes",
    "unchanged",
    "unsafe",
]
