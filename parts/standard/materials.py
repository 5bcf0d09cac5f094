"""Materials of bars, tubes and tools: strength, stiffness, density, weldability."""

from __future__ import annotations

import functools
import re

from parts.standard.errors import BadTable, UnknownSize, unknown
from parts.standard.table import load
from parts.value import Value

GROUPS = (
    "free-cutting steel",
    "mild steel",
    "medium carbon steel",
    "alloy steel",
    "stainless steel",
    "brass",
    "bearing bronze",
    "aluminium",
    "tool steel",
)
GALLS = ("aluminium", "stainless steel")
"""Groups that tear and seize where one runs on the same (common practice)."""

SPARES_STEEL = ("brass", "bearing bronze")
"""Groups that neither score a journal of steel nor gall on aluminium; both are leaded, and are cut dry
by a tool without top rake, or they draw it in (common practice)."""

LISTED = "pommel list materials"
"""The command that lists them all."""

MOST_KIN = 4
"""So many of a kind are named at once."""

MAGNESIUM = r"magnesium|mg$|az\d|am\d0|zk\d|we\d|elektron|mgal"
"""How names of magnesium alloys begin: refused, for their chips burn."""

BURNS = (
    "Magnesium is not turned by these sheets: its chips catch fire, and water feeds the fire. Turn the"
    " ball from aluminium, or ask a shop that is fitted out for it"
)
"""Why (common practice)."""

WELDABLE = ("yes", "preheat", "no")

STEELS = ("mild steel", "medium carbon steel", "alloy steel", "stainless steel")
"""Groups that are welded to each other; aluminium only to itself."""

NOT_JOINED = {
    "aluminium": "aluminium with another metal gets brittle and cracks",
    "bearing bronze": "its lead sweats out, and copper makes steel crack",
    "brass": "its zinc boils off in the arc, and copper makes steel crack",
    "cast iron": "beside the weld it hardens and cracks, but by a qualified procedure",
    "free-cutting steel": "its sulphur and lead crack the weld",
    "tool steel": "it hardens and cracks beside the weld",
}
"""Why a group is not welded to another, each common practice."""


class Material(Value, frozen=True):
    """A material in one condition; strengths are the least of the condition, in MPa.

    `yield_MPa` and `tensile_MPa` are None where none is published (hardened tool steel).
    `group` is one of GROUPS, the key to cutting speeds; `weldable` is one of WELDABLE.
    `haz_yield_MPa` and `haz_tensile_MPa` are what is left beside a weld, in the zone that its heat
    affects; None where it takes nothing that is counted on. `aliases` are other names it answers to,
    parted by semicolons.
    """

    name: str
    condition: str
    aliases: str
    density_kg_m3: float
    modulus_MPa: float
    yield_MPa: float | None
    tensile_MPa: float | None
    group: str
    weldable: str
    haz_yield_MPa: float | None
    haz_tensile_MPa: float | None
    source: str
    mark: str

    @property
    def welded_yield_MPa(self) -> float | None:
        """What it bears where it is welded, or near by: its yield, less what the heat takes."""
        return self.yield_MPa if self.haz_yield_MPa is None else self.haz_yield_MPa


def material(name: str) -> Material:
    """The material of that name or alias; case, blanks and hyphens do not matter.

    Raises UnknownSize with the nearest known name.

    >>> material("s355").yield_MPa
    355.0
    """
    found = _by_spelling().get(_spelling(name))
    if found is None and re.match(MAGNESIUM, _spelling(name)):
        raise UnknownSize("material", name, "", BURNS)
    if found is None and (kin := _of_kind(name)):
        raise UnknownSize("material", name, "", f"Say which: {', '.join(kin)}; or: {LISTED}")
    if found is None:
        raise unknown("material", name, [known.name for known in materials()])
    return found


def _of_kind(name: str) -> list[str]:
    """Some materials of the group that a word like "mild steel" or "aluminum" speaks of."""
    said = name.lower().replace("aluminum", "aluminium")
    words = [word for word in re.findall(r"[a-z]+", said) if len(word) > 3]
    groups = [group for group in GROUPS if words and all(word in group for word in words)]
    best = [one for group in groups for one in materials() if one.group == group]
    return [one.name for one in best[:MOST_KIN]]


def not_welded(one: str, other: str) -> str | None:
    """Why two materials are not welded to each other; None where they are.

    one, other: names of materials. Raises UnknownSize for a name that is none.
    """
    groups = {material(one).group, material(other).group}
    if groups <= set(STEELS) or groups == {"aluminium"}:
        return None
    return next(reason for group, reason in NOT_JOINED.items() if group in groups)


def galls(one: str, other: str) -> bool:
    """Whether two materials tear and seize where they run on each other.

    one, other: names of materials. Raises UnknownSize for a name that is none.

    >>> galls("6082", "6061-T6"), galls("6082", "C45")
    (True, False)
    """
    group = material(one).group
    return group in GALLS and group == material(other).group


def materials() -> tuple[Material, ...]:
    """All materials, in the order of the table."""
    return load("materials.csv", Material, ("name",))


@functools.cache
def _by_spelling() -> dict[str, Material]:
    spellings: dict[str, Material] = {}
    for row in materials():
        for name in (row.name, *row.aliases.split(";")):
            key = _spelling(name)
            if key and spellings.setdefault(key, row) is not row:
                other = spellings[key].name
                raise BadTable("materials.csv", 0, "aliases", name, f"{other} has it too")
    return spellings


def _spelling(name: str) -> str:
    return re.sub(r"[\s_-]+", "", name.lower())
