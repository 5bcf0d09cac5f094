"""The tests of this room find each other's helpers."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
