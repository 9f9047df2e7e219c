"""Whatever is done to a job folder, it loads or says what is wrong, line by line, with the file named."""

import random
import re
import tempfile
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rackbook.job import FILES, Job, Text, set_field
from rackbook.job.folder import parse, read_files
from rackbook.job.text import refused_character
from rackbook.job.yamlfile import Items, Mapping, read_yaml
from rackbook.shipped import shipped
from rackbook.trace import InputError

DEMOS = [read_files(shipped("data", "jobs", name)) for name in ("quartz_saddle", "heron_quay")]
HOSTILE = [
    "\x00", "\x1b[31m", "\u202e", "\ufeff", "\u2028", "\ud800", "\U0001f642", "\xe9", "=cmd()", "<script>",
    "\\input{x}", "$x$", "#{", "%s", "{{a}}", "&a ", "*a", "!!python/object:os.system", "|", ">", "'", '"', "- ", ": ",
    "#", "[", "{", "}", "]", ",", "\t", "\n", "\r", "\r\n", "---\n", "...\n", "%YAML 9.9\n", "? ", "<<: ", "nan", "inf",
    "1e999", "-1", "0", "lb", "ft**99999", "yes", "null", "~", "9" * 400, "x" * 3000, "\\", '"\\u0000"', '"\\xZZ"',
    "1/0 ft", "--5 ft", "mph", "degC", "\xb0", "\xb5m",
]  # fmt: skip
UNITS = ["mph", "ft", "in", "psf", "degC", "plf", "um", "s", "kip/in", "%", "lbf", "lb", "", "kVA", "V", "A"]
LINE = re.compile(r"(rack\.yaml|equipment\.csv|circuits\.csv)(:\d+)?: \S")


def mutate(text: str, chance: random.Random) -> str:
    """Return the text with one thing done to it that hands, spreadsheets or merges do."""
    lines = text.splitlines(keepends=True) or [""]
    i, j = chance.randrange(len(lines)), chance.randrange(len(lines))
    at = chance.randrange(len(text) + 1)
    what = chance.randrange(14)
    if what == 0:
        del lines[i]
    elif what == 1:
        lines.insert(j, lines[i])
    elif what == 2:
        lines[i], lines[j] = lines[j], lines[i]
    elif what == 3:  # a key or a head renamed
        lines[i] = re.sub(r"[a-z]{3,}", lambda m: m[0][::-1], lines[i], count=1)
    elif what == 4:  # a unit swapped
        lines[i] = re.sub(r"(?<=\d )[a-zA-Z%/]+", chance.choice(UNITS), lines[i], count=1)
    elif what == 5:
        return text[:at] + chance.choice(HOSTILE) + text[at:]
    elif what == 6:  # a cell or a value replaced
        parts = re.split(r"([,:])", lines[i])
        parts[chance.randrange(len(parts))] = chance.choice([*HOSTILE, "", " "])
        lines[i] = "".join(parts)
    elif what == 7:
        return text[:at]
    elif what == 8:  # a column more, or a column blank
        lines = [line.rstrip("\n") + ",x\n" for line in lines]
    elif what == 9:
        head, *rows = lines
        chance.shuffle(rows)
        lines = [head, *rows]
    elif what == 10:
        lines[i] = lines[i][: chance.randrange(len(lines[i]) + 1)]
    elif what == 11:
        lines[i] = " " * chance.randrange(1, 5) + lines[i]
    elif what == 12:
        return text[:at] + text[at + chance.randrange(1, 40) :]
    else:  # numbers out of any range, or with something in them
        lines[i] = re.sub(r"\d+", chance.choice(["0", "-1", "1e99", "1,5", "12.5.1", "٣"]), lines[i], count=1)
    return "".join(lines)


def check(files: dict[str, bytes]) -> None:
    """Load, and see that the outcome is a job or lines that each name a file and hold no control character."""
    try:
        outcome: Job | InputError = parse(files)
    except InputError as e:
        outcome = e
    if isinstance(outcome, Job):
        return
    assert outcome.problems
    lines = str(outcome).split("\n")
    assert len(lines) == len(outcome.problems)
    for line in lines:
        assert LINE.match(line), line
        assert refused_character(line) is None, line


@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.sampled_from(DEMOS), st.sampled_from(FILES), st.integers(1, 4), st.randoms(use_true_random=False))
def test_a_garbled_folder_loads_or_every_line_names_a_file(files, name, times, chance):
    text = files[name].decode()
    for _ in range(times):
        text = mutate(text, chance)
    content = text.encode("utf-8", "surrogatepass")
    check({**files, name: content})


@settings(max_examples=100, deadline=None)
@given(st.sampled_from(FILES), st.binary(max_size=200), st.integers(0, 3000), st.integers(0, 60))
def test_bytes_put_anywhere(name, put, at, over):
    files = DEMOS[0]
    content = files[name][:at] + put + files[name][at + over :]
    check({**files, name: content})


def leaves(node: Mapping | Items | Text, path: tuple[str, ...] = ()) -> list[str]:
    """Return the dotted paths of all fields under a node."""
    if isinstance(node, Text):
        return [".".join(path)]
    pairs = node.items() if isinstance(node, Mapping) else ((str(i), item) for i, item in enumerate(node, 1))
    return [leaf for name, child in pairs for leaf in leaves(child, (*path, name))]


FIELDS = leaves(read_yaml("rack.yaml", DEMOS[0]["rack.yaml"].decode()))
WRITTEN = st.one_of(st.sampled_from(HOSTILE), st.text(max_size=30), st.sampled_from(["12 ft", "-3 in", "C", "90 mph", "0.4"]))


@settings(max_examples=100, deadline=None)
@given(st.sampled_from([*FIELDS, "site.seismic.period", "frame.canopy.height", "frame.bays.4", "job.nowhere"]), WRITTEN)
def test_any_text_written_to_any_field_is_refused_whole_or_read_back(field, text):
    with tempfile.TemporaryDirectory() as folder:
        for name, content in DEMOS[0].items():
            (Path(folder) / name).write_bytes(content)
        try:
            saved: Job | InputError = set_field(folder, field, text)
        except InputError as e:
            saved = e
        after = read_files(folder)
        if isinstance(saved, InputError):
            assert after == DEMOS[0]
            return
        assert {n: c for n, c in after.items() if n != "rack.yaml"} == {n: c for n, c in DEMOS[0].items() if n != "rack.yaml"}
        node = read_yaml("rack.yaml", after["rack.yaml"].decode())
        for name in field.split("."):
            node = node[int(name) - 1] if isinstance(node, list) else node[name]
        assert node == text
        comments = [line.partition("#")[2] for line in DEMOS[0]["rack.yaml"].decode().splitlines()]
        kept = [line.partition("#")[2] for line in after["rack.yaml"].decode().splitlines()]
        assert all(comment in "\n".join(kept) for comment in comments)
