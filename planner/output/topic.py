"""What a topic is: one question about a job, and all the faces of its answer.

A topic is data. The command, its help and its JSON, the files of the package and the tests are made
from it; the topics themselves stand in ``planner.output.topics``. Every command and every help loads
this, so it imports nothing that plans, and what is only a record is a NamedTuple, which is made faster.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

from msgspec import field

from parts.value import Value
from planner.words.formats import format_name

if TYPE_CHECKING:
    from planner.output.plan import Plan
    from planner.words.findings import Finding
    from planner.words.register import Severity
    from planner.words.tables import Table

Asked = Mapping[str, Any]
"""What is asked of a topic: a value for each of its options, by name."""


class Option(NamedTuple):
    """One option of one topic's command: ``--name``.

    default: its value when not given; False makes it a flag. choices: the words it may be, if only
    those. metavar: what help calls its value. plans: it changes how the job is worked out, and is
    given to Plan under its name; else it only changes what is shown of it.
    """

    name: str
    help: str
    default: str | bool | None = None
    choices: tuple[str, ...] = ()
    metavar: str | None = None
    plans: bool = False


class Reply(NamedTuple):
    """What a command prints: for people, for machines, the findings, and whether it is clean else."""

    text: str
    record: dict[str, Any]
    findings: tuple[Finding, ...]
    clean: bool


class Instead(NamedTuple):
    """A flag that has the command answer something else of the job, which need not have a plan.

    name: of the flag and of its JSON. keys: of the record of its answer. answer: from the job file;
    raises BadInput. number: of the format of its JSON.
    """

    name: str
    help: str
    keys: tuple[str, ...]
    answer: Callable[[Path], Reply]
    number: int = 1


class Copy(NamedTuple):
    """The option ``--write FILE``: a copy of the job with what the topic found.

    changed: the copy's text from the job's; raises ValueError where the job's has a form that cannot
    be changed, and then the user is told to do it by_hand.
    """

    help: str
    by_hand: str
    changed: Callable[[Plan, Asked, str], str]


class Records(NamedTuple):
    """A list of records that only JSON has, under its own key beside the tables."""

    key: str
    keys: tuple[str, ...]
    of: Callable[[Plan], list[dict[str, Any]]]


class OnMaking(NamedTuple):
    """What comes to light only as a topic's files are made.

    code: of those findings. found: from the plan, its files made. Where a build takes the files over,
    it takes over the findings of that code too.
    """

    code: str
    found: Callable[[Plan], tuple[Finding, ...]]


class Folder(NamedTuple):
    """One folder of the package and what is in it, in one line."""

    name: str
    what: str


TABLES, DATA, PICTURES, DRAWINGS = "tables", "data", "pictures", "drawings"
"""Where all tables, JSON, pictures and drawings lie; everything else lies in its topic's own folder."""

SHEETS, DIAL = f"{DRAWINGS}/sheets.pdf", f"{DRAWINGS}/dial.pdf"
"""All sheets to print, and the dial's sheet and strip, where what writes PDF is installed."""

BOOK, COVER = "book.pdf", f"{PICTURES}/attachment.svg"
"""The build book, and the picture on its cover."""

FOLDERS = (
    Folder(
        "cutting", "the cut list, sheets to saw by, and every flat piece and sheet to cut (DXF)"
    ),
    Folder(
        DRAWINGS,
        "a dimensioned sheet of each part, piece and weldment (one PDF of all to print, a DXF each);"
        " flat profiles, 1:1 (DXF); the dial's sheet, strip to wrap, and rim for a graver",
    ),
    Folder("solids", "each part and the whole attachment (STEP, which says its unit itself)"),
    Folder(
        PICTURES,
        "the attachment alone, taken apart and on the lathe (PNG); the sweep and the passes of each"
        " ball, and what bends most (SVG)",
    ),
    Folder(TABLES, "every table, for a spreadsheet (CSV), the units in its heads"),
    Folder(DATA, "the same, for programs (JSON); what the page is put together from"),
)
"""The folders of the package, in the order its README.txt has them."""


class File(NamedTuple):
    """One file of the package: its path in it, what it is, and its text or what writes it there."""

    path: str
    what: str
    content: str | Callable[[Path], None]

    def write(self, package: Path) -> None:
        """Write it into the package's folder. Raises OSError."""
        path = package / self.path
        path.parent.mkdir(parents=True, exist_ok=True)
        if callable(self.content):
            self.content(path)
        else:
            path.write_text(self.content, encoding="utf-8", newline="\n")


def _no_tables(_plan: Plan, _asked: Asked) -> list[Table]:
    return []


def _no_findings(_plan: Plan, _asked: Asked) -> tuple[Finding, ...]:
    return ()


def sheet_files(topic: Topic, plan: Plan) -> Iterator[File]:
    """The topic's text, its JSON and a CSV file a table, as the package has them."""
    from planner.words.tables import as_csv, as_json

    asked = topic.asked(topic.packaged)
    yield File(
        topic.at(f"{topic.name}.txt"),
        topic.answer,
        topic.printed(plan, asked),
    )
    record = topic.record(plan, asked)
    for finding in record["findings"]:
        finding["file"] = Path(plan.file).name
    yield File(
        f"{DATA}/{topic.name}.json", f"{topic.name}, every table, for machines", as_json(record)
    )
    for table in topic.tables(plan, asked):
        name = topic.name if table.name == topic.name else f"{topic.name}-{table.name}"
        yield File(f"{TABLES}/{name}.csv", table.title, as_csv(table, plan.job.inch))


class Topic(Value, frozen=True, eq=False):
    """One topic.

    name: of its command and its files. summary: in one line, for help. number: of the format of its
    JSON, which rises when a key goes or is renamed. about: the rest of the help.
    examples: worked examples of the command, which must run. first: the path of its file that is to
    be opened before others of the package, "" for none. folder: where its text and its drawings lie
    in the package, one of FOLDERS; "" for the top. needs: "sizes", or "solids" for what loads the CAD
    kernel; then made_of: what its files are made from, which a build holds against an earlier one's
    by its repr, to take over the files made of the same, and on_making: what is found only then.

    columns: the keys of each table it can make, by the table's name, as JSON has them; none, and it
    has no command. tables: makes them; text: what the terminal and the text file have, unless simply
    the tables. records: what JSON has besides. findings: what to look at first, besides the plan's
    own. stops: the severities that make the command's exit code 1. files: what it brings to the
    package; packaged: what is asked for those, where it differs from the options' defaults.
    """

    name: str
    summary: str
    number: int = 1
    about: str = ""
    examples: tuple[str, ...] = ()
    first: str = ""
    folder: str = ""
    needs: Literal["sizes", "solids"] = "sizes"
    made_of: Callable[[Plan], Any] | None = None
    on_making: OnMaking | None = None
    columns: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    tables: Callable[[Plan, Asked], list[Table]] = _no_tables
    text: Callable[[Plan, Asked], str] | None = None
    records: tuple[Records, ...] = ()
    findings: Callable[[Plan, Asked], tuple[Finding, ...]] = _no_findings
    stops: tuple[Severity, ...] = ("warning", "refused")
    files: Callable[[Topic, Plan], Iterator[File]] = sheet_files
    packaged: Asked = field(default_factory=dict)
    options: tuple[Option, ...] = ()
    instead: tuple[Instead, ...] = ()
    copy: Copy | None = None

    def asked(self, given: Asked) -> dict[str, Any]:
        """A value for each option: the given ones, and the defaults of the others."""
        return {option.name: given.get(option.name, option.default) for option in self.options}

    @property
    def answer(self) -> str:
        """What its text tells, in one line: the summary without its verb and its full stop."""
        return self.summary.removeprefix("Print ").removesuffix(".")

    def at(self, name: str) -> str:
        """The path in the package of a file of its folder."""
        return f"{self.folder}/{name}" if self.folder else name

    def plan(self, job: Path, asked: Asked) -> Plan:
        """The job worked out as asked. Raises BadInput."""
        from planner.output.plan import Plan

        return Plan(job, **{o.name: asked[o.name] for o in self.options if o.plans})

    def printed(self, plan: Plan, asked: Asked) -> str:
        """The topic as the terminal and the text file have it."""
        from planner.words.tables import as_text

        return self.text(plan, asked) if self.text else as_text(self.tables(plan, asked))

    def record(self, plan: Plan, asked: Asked) -> dict[str, Any]:
        """The topic for machines: its format, the job, units, its tables and records, findings."""
        from planner.job.lines import located

        record: dict[str, Any] = {
            "format": format_name(self.name, self.number),
            "job": plan.job.name,
            "lengths": "mm",
            "tables": {table.name: table.records() for table in self.tables(plan, asked)},
        }
        record |= {more.key: more.of(plan) for more in self.records}
        found = located(self.all_findings(plan, asked))
        return record | {"findings": [finding.as_dict() for finding in found]}

    def all_findings(self, plan: Plan, asked: Asked) -> tuple[Finding, ...]:
        """What to look at first: the plan's findings, then the topic's own."""
        return plan.findings + self.findings(plan, asked)
