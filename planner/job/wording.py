"""What the validation library complains of, in words of the shop; each as a finding of the register.

Imported by job.reading alone.
"""

from __future__ import annotations

import re
from difflib import get_close_matches
from math import isfinite
from types import UnionType
from typing import Any, get_args, get_origin

from pydantic import BaseModel

from planner.job.causes import SPOKEN
from planner.job.shop import MachineName
from planner.words.findings import Finding, finding
from planner.words.short import begun, printed

LONGEST_VALUE = 48
"""A longer value is shown by its beginning (signs)."""

MOST_KEYS = 8
"""So many known keys are named at once."""


SAME = {
    "imperial": "inch",
    **dict.fromkeys(("sphere", "full ball"), "ball"),
    "half ball": "hemisphere",
    **dict.fromkeys(("pillar drill", "bench drill", "drill", "drilling machine"), "drill press"),
    **dict.fromkeys(("milling machine", "miller"), "mill"),
    **dict.fromkeys(("mma", "arc", "smaw"), "stick"),
    **{"gmaw": "mig", "gtaw": "tig", "oxy-acetylene": "gas"},
}
"""Other words for a choice that are no misspelling of it."""


def complaint(file: str, root: type[BaseModel], detail: Any) -> Finding:
    """The finding of one of the library's complaints; root: the table of the whole file."""
    place = [step for step in detail["loc"] if step != "[key]"]
    key, kind, context = key_of(place), detail["type"], detail.get("ctx") or {}
    value = shown(detail.get("input"))
    if kind == "shop":
        code, limit, remedy = context["code"], context["limit"], context["remedy"]
        if within := re.match(r"([a-z_.]+(?:\[\d+\]\.[a-z_]+)?): ", limit):
            # of a whole table: which of its keys
            inside = detail.get("input")
            own = inside.get(within[1]) if isinstance(inside, dict) else None
            key = f"{key}.{within[1]}" if place else within[1]
            value = "" if own is None else shown(own)
            limit = limit[within.end() :]
        elif isinstance(detail.get("input"), dict):
            value = ""  # of a table as a whole
        return finding(code, file, key, value, limit, remedy)
    if kind == "extra_forbidden":
        inside = detail.get("input")
        what = "unknown table" if _is_table(inside) else "unknown key"
        return finding("unknown-key", file, key, "", what, _near(root, place, inside))
    if kind == "missing":
        about = _about(root, place)
        limit = f"missing ({about})" if about else "missing"
        remedy = f"Write {place[-1]} = and its value"
        if _model(root, place) is not None:
            remedy = f"Write [{key}] on a line, and its keys below it"
        return finding("missing-key", file, key, "", limit, remedy)
    if kind in ("literal_error", "enum"):
        choices = str(context.get("expected", ""))
        limit = f"must be {choices}"
        near = _near_choice(detail.get("input"), choices)
        return finding("not-a-choice", file, key, value, limit, near or "Choose one")
    code, limit, remedy = _plain(kind, context, detail.get("input"), key)
    return finding(code, file, key, value, limit, remedy)


def _plain(kind: str, context: dict[str, Any], value: Any, key: str) -> tuple[str, str, str]:
    """Code, limit and remedy of a value of the wrong sort or out of its range."""
    bound = next((context[one] for one in ("gt", "ge", "lt", "le") if one in context), None)
    quoted = isinstance(value, str)
    match kind:
        case "greater_than":
            return "out-of-range", f"must be more than {_number(bound)}", "Correct the number"
        case "greater_than_equal":
            return "out-of-range", f"must be {_number(bound)} or more", "Correct the number"
        case "less_than":
            return "out-of-range", f"must be less than {_number(bound)}", "Correct the number"
        case "less_than_equal":
            return "out-of-range", f"must be {_number(bound)} or less", "Correct the number"
        case "finite_number":
            return "out-of-range", "must be a number that is finite", "Correct the number"
        case "string_too_long":
            limit = f"must have at most {context['max_length']} letters"
            return "out-of-range", limit, "Shorten it"
        case "string_too_short":
            return "out-of-range", "is empty", "Give it a name"
        case "too_short":
            return "out-of-range", "the list is empty", "Write at least one in [ ]"
        case "too_long":
            limit = f"the list has more than {context.get('max_length')}"
            return "out-of-range", limit, "Leave some out"
        case "string_pattern_mismatch":
            limit = "has signs that a name cannot have"
            return "wrong-value", limit, "Use letters, figures, blanks, points and hyphens"
        case "string_type":
            return "wrong-value", "must be words in quotes", 'Write it in quotes ""'
        case "bool_type" | "bool_parsing":
            return "wrong-value", "must be true or false", "Write true or false, without quotes"
        case "int_type" | "int_parsing" | "int_from_float" | "int_parsing_size":
            remedy = "Write a whole number, without a point"
            if quoted:
                ratio = re.fullmatch(r"\s*(\d{1,6})(?:\s*:\s*1)?\s*", value)
                remedy = "Write a whole number, without quotes"
                remedy = f"Write {ratio[1]}, without quotes" if ratio else remedy
            return "wrong-value", "must be a whole number", remedy
        case "float_type" | "float_parsing":
            remedy = "Write it without quotes" if quoted else "Write a number"
            if quoted and (figures := _figures(value)) not in ("", value):
                remedy = f"Write {figures}, without quotes"
            return "wrong-value", "must be a number", remedy
        case "list_type" | "tuple_type":
            if isinstance(value, dict):
                return "wrong-value", "may stand there several times", f"Write [[{key}]] for each"
            remedy = "Write it in brackets, as in [1, 2]"
            if isinstance(value, int | float) and not isinstance(value, bool):
                remedy = f"Write it in brackets: [{shown(value)}]"
            elif isinstance(value, str) and value.isprintable() and '"' not in value:
                every = [one.strip() for one in re.split("[,;]", value)]
                if all(re.fullmatch(r"\d+(\.\d+)?", one) for one in every):
                    remedy = begun(f"Write it in brackets: [{', '.join(every)}]")
                elif not re.fullmatch(r"[\d.]+\s*(-|–|to|\.\.+)\s*[\d.]+", value.strip()):
                    members = ", ".join(f'"{one}"' for one in every)
                    remedy = begun(f"Write it in brackets: [{members}]")
            return "wrong-value", "must be a list", remedy
        case "dict_type" | "model_type" | "model_attributes_type" | "dict_attributes_type":
            limit = "must be a table of its own"
            if isinstance(value, list) and value and all(isinstance(one, str) for one in value):
                return "wrong-value", limit, begun(f"Write [{key}.{_name(value[0])}] for each")
            return "wrong-value", limit, "Write [its.name] on a line, and its keys below"
    return "wrong-value", "cannot be read here", "See: pommel schema"


def _figures(text: str) -> str:
    """The number in a text that has a sign, a unit or a comma too; "" where it has none, or several."""
    found: list[str] = re.findall(r"-?\d+(?:[.,]\d+)?", text)
    if len(found) != 1 or len(found[0]) > 12 or re.search(r"\d,\d{3}$", found[0]):
        return ""
    return found[0].replace(",", ".")


def _number(bound: Any) -> str:
    return f"{bound:g}" if isinstance(bound, float) else str(bound)


def key_of(place: list[Any]) -> str:
    """A place as findings write it: dotted, list members counted from 1, odd names in quotes."""
    text = ""
    for step in place:
        if isinstance(step, int):
            text += f"[{step + 1}]"
        else:
            text += ("." if text else "") + _name(str(step))
    return text


def _name(step: str) -> str:
    """A key as it is shown: in quotes where it has a blank, no sign that would steer a terminal."""
    plain = begun(printed(step), LONGEST_VALUE + 3)
    return f'"{plain}"' if " " in plain or not plain else plain


def shown(value: Any) -> str:
    """A value of the file as a message shows it, long ones by their beginning."""
    if isinstance(value, dict | list):
        return "a table" if isinstance(value, dict) else "a list"
    if isinstance(value, bool):
        return str(value).lower()  # as TOML writes it
    if isinstance(value, float) and not isfinite(value):
        return str(value)
    if isinstance(value, int) and abs(value) >= 10**20:
        return "a number of more than 20 figures"
    text = repr(value) if isinstance(value, str) else str(value)
    if isinstance(value, str) and not value.isprintable():
        text = ascii(value)
    return text if len(text) <= LONGEST_VALUE else f"{text[: LONGEST_VALUE - 4]}...{text[-1]}"


def _is_table(value: Any) -> bool:
    """Whether a value is a table, or a list of tables."""
    many = isinstance(value, list) and value and all(isinstance(one, dict) for one in value)
    return isinstance(value, dict) or bool(many)


def _near(root: type[BaseModel], place: list[Any], value: Any) -> str:
    """What an unknown key may have been meant as; value: what stands there."""
    last = str(place[-1])
    if isinstance(value, dict) and place[:-1] and last == str(place[-2]):
        return f"Leave {last}. out: the line stands in [{key_of(place[:-1])}]"
    if (machine := last.replace("_", " ")) in get_args(MachineName) and "shop" in root.model_fields:
        return f"Write [shop.machines.{_name(machine)}] on a line of its own"
    known = known_keys(root, place[:-1])
    near = get_close_matches(last.lower().replace("-", "_").replace(" ", "_"), known, 1)
    if near:
        return f"Did you mean {near[0]}?"
    elsewhere = [path for path in _everywhere(root) if path.rsplit(".", 1)[-1] == last]
    if elsewhere:
        table = elsewhere[0].rpartition(".")[0]
        if _is_table(value):
            return (
                f"Write [[{elsewhere[0]}]]"
                if isinstance(value, list)
                else f"Write [{elsewhere[0]}]"
            )
        return f"It belongs in [{table}]" if table else "It belongs at the top, before any table"
    if len(known) <= MOST_KEYS:
        return f"Known here: {', '.join(known)}" if known else "Take it out"
    closest = get_close_matches(last, known, MOST_KEYS // 2, 0.4) or known[: MOST_KEYS // 2]
    return f"Known here are {', '.join(closest)} and others: pommel schema"


def _near_choice(value: Any, choices: str) -> str:
    words = [one.strip("' ") for one in choices.replace(" or ", ", ").split(", ")]
    if not isinstance(value, str):
        return ""
    plain = value.strip().lower()
    said = {word.lower(): word for word in words}
    meant = next((one for one in (SAME.get(plain), SPOKEN.get(plain)) if one in said), plain)
    near = get_close_matches(meant, said, 1)
    return f'Did you mean "{said[near[0]]}"?' if near else ""


def _everywhere(root: type[BaseModel], head: str = "") -> list[str]:
    """Every key of the tables under one, with the tables it stands in."""
    found = []
    for name, field in root.model_fields.items():
        found.append(f"{head}{name}")
        inner = _inner(field.annotation)
        if inner is not None:
            found += _everywhere(inner, f"{head}{name}.")
    return found


def lists_of(root: type[BaseModel]) -> list[str]:
    """The tables that may stand several times, dotted."""
    found = []
    for name, field in root.model_fields.items():
        inner = _inner(field.annotation)
        if inner is not None and get_origin(field.annotation) is list:
            found.append(name)
        elif inner is not None:
            found += [f"{name}.{one}" for one in lists_of(inner)]
    return found


def _inner(annotation: Any) -> type[BaseModel] | None:
    """The table that a field holds, in a list or not."""
    for one in (annotation, *get_args(annotation)):
        if isinstance(one, type) and issubclass(one, BaseModel):
            return one
    return None


def _model(root: type[BaseModel], place: list[Any]) -> type[BaseModel] | None:
    """The table at a place, None where there is none."""
    model: Any = root
    for step in place:
        if isinstance(step, int):
            continue
        if isinstance(model, type) and issubclass(model, BaseModel):
            field = model.model_fields.get(str(step))
            model = field.annotation if field else None
        elif model is not None:
            model = getattr(model, "__args__", (None,))[-1]
        if model is None:
            return None
        if isinstance(model, UnionType):  # a table that may be left out
            model = next((one for one in get_args(model) if one is not type(None)), None)
        origin = getattr(model, "__origin__", None)
        if origin is list:
            model = model.__args__[0]
        elif origin is dict and step is not place[-1]:
            continue
    if getattr(model, "__origin__", None) is dict:
        return None
    return model if isinstance(model, type) and issubclass(model, BaseModel) else None


def known_keys(root: type[BaseModel], place: list[Any]) -> list[str]:
    """The keys that the table at a place may have."""
    model = _model(root, place)
    return sorted(model.model_fields) if model else []


def _about(root: type[BaseModel], place: list[Any]) -> str:
    model = _model(root, place[:-1])
    field = model.model_fields.get(str(place[-1])) if model else None
    return (field.description or "") if field else ""
