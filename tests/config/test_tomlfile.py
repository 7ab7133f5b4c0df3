# The lines of keys, checked against documents that know where they wrote each key.
import os
import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotfolder.config.tomlfile import MAX_BYTES, KeyPath, dotted, key_text, quoted, read_toml
from hotfolder.errors import ConfigError, ConfigTrouble


def lines_of(tmp_path: Path, text: str) -> Mapping[KeyPath, int]:
    path = tmp_path / "sample.toml"
    path.write_text(text, encoding="utf-8", newline="")
    return read_toml(path).lines


def all_paths(value: object, above: KeyPath = ()) -> Iterator[KeyPath]:
    """Every key and every place in a list of what the standard library's reader gives."""
    pairs: list[tuple[str | int, object]] = []
    if isinstance(value, dict):
        pairs = list(value.items())
    elif isinstance(value, list):
        pairs = list(enumerate(value))
    for key, inner in pairs:
        yield (*above, key)
        yield from all_paths(inner, (*above, key))


def trouble_in(path: Path) -> ConfigTrouble:
    with pytest.raises(ConfigError) as caught:
        read_toml(path)
    (trouble,) = caught.value.troubles
    return trouble


def test_each_kind_of_key_has_its_line(tmp_path: Path) -> None:
    lines = lines_of(
        tmp_path,
        'title = "x"\n'
        "\n"
        "[bleed]  # a comment with a = b\n"
        'wanted = "3 mm"\n'
        'severity.short = "must-fix"\n'
        "[printers.quay]\n"
        '"odd key"."with \\"quotes\\"" = 1\n'
        "'lit.eral' = 2\n",
    )
    assert lines["title",] == 1
    assert lines["bleed",] == 3
    assert lines["bleed", "wanted"] == 4
    assert lines["bleed", "severity"] == 5
    assert lines["bleed", "severity", "short"] == 5
    assert lines["printers",] == 6
    assert lines["printers", "quay", "odd key", 'with "quotes"'] == 7
    assert lines["printers", "quay", "lit.eral"] == 8


def test_text_that_looks_like_keys_is_no_key(tmp_path: Path) -> None:
    text = (
        'a = """\n[not-a-table]\nnot = "a key"\n""""\n'
        "b = '''\nx = 1\n'''\n"
        'c = [ # ] a = 1\n  "[d]", \'e = "\', # "\n  "]",\n]\n'
        'd = "\\" # e = 1"\n'
        "e = 1\n"
    )
    lines = lines_of(tmp_path, text)
    assert lines == {
        ("a",): 1, ("b",): 5, ("c",): 8, ("c", 0): 9, ("c", 1): 9, ("c", 2): 10, ("d",): 12, ("e",): 13,
    }  # fmt: skip


def test_elements_of_arrays_of_tables_are_counted(tmp_path: Path) -> None:
    lines = lines_of(
        tmp_path,
        '[[fruit]]\nname = "apple"\n[fruit.taste]\nsweet = true\n[[fruit.kind]]\nname = "red"\n'
        '[[fruit]]\nname = "plum"\n[[fruit.kind]]\nname = "blue"\n[[fruit.kind]]\nname = "green"\n',
    )
    assert lines["fruit",] == 1
    assert lines["fruit", 0, "taste", "sweet"] == 4
    assert lines["fruit", 0, "kind", 0, "name"] == 6
    assert lines["fruit", 1, "name"] == 8
    assert lines["fruit", 1, "kind", 1, "name"] == 12


def test_keys_of_tables_within_a_line_are_found(tmp_path: Path) -> None:
    lines = lines_of(tmp_path, "\na = { b = 1, c.d = [ { e = 2 },\n { e = 3 } ] }\n")
    assert lines["a", "b"] == 2
    assert lines["a", "c", "d", 0, "e"] == 2
    assert lines["a", "c", "d", 1, "e"] == 3


def test_a_table_stands_at_its_own_heading(tmp_path: Path) -> None:
    lines = lines_of(tmp_path, "[a.b]\nx = 1\n[a]\ny = 2\n")
    assert lines["a", "b"] == 1
    assert lines["a",] == 3


def test_carriage_returns_do_not_move_lines(tmp_path: Path) -> None:
    lines = lines_of(tmp_path, 'a = """x\r\n\r\ny"""\r\n# z\r\nb = 2\r\n')
    assert lines == {("a",): 1, ("b",): 5}


def test_a_byte_order_mark_is_no_mistake(tmp_path: Path) -> None:
    path = tmp_path / "sample.toml"
    path.write_bytes(b"\xef\xbb\xbfa = 1\n")
    assert read_toml(path).data == {"a": 1}


@pytest.mark.parametrize("path", [Path(__file__).parents[2] / "pyproject.toml"])
def test_every_key_of_a_real_file_has_a_line_that_names_it(path: Path) -> None:
    file = read_toml(path)
    assert set(file.lines) == set(all_paths(tomllib.loads(path.read_text())))
    written = path.read_text().splitlines()
    for key_path, line in file.lines.items():
        if isinstance(key_path[-1], str):
            assert key_path[-1] in written[line - 1]


KEYS = st.sampled_from(["a", "b-c", "d_1", "with space", "x.y", 'q"q', "é", "#", "[t]"])


def written_list(elements: list[str]) -> str:
    return "[ " + ", # ]\n".join(elements) + " ]"


def written_table(pairs: dict[str, str]) -> str:
    return "{ " + ", ".join(f"{key_text(key)} = {value}" for key, value in pairs.items()) + " }"


VALUES = st.recursive(
    st.sampled_from(
        ["1", "3.5", "true", "2026-11-25", '"a = 1"', "'#'", '"""x\n[y]\n"""', "'''\n\n'''", '""', '"\\""']
    ),
    lambda inner: (
        st.lists(inner, max_size=3).map(written_list)
        | st.dictionaries(KEYS, inner, max_size=2).map(written_table)
    ),
    max_leaves=5,
)


@given(tables=st.dictionaries(KEYS, st.dictionaries(KEYS, VALUES, max_size=4), max_size=4), data=st.data())
def test_lines_are_those_at_which_a_document_was_written(
    tmp_path_factory: pytest.TempPathFactory, tables: dict[str, dict[str, str]], data: st.DataObject
) -> None:
    text = ""
    expected: dict[KeyPath, int] = {}
    for table, pairs in tables.items():
        text += data.draw(st.sampled_from(["", "\n", "# [c]\n"]))
        expected[(table,)] = text.count("\n") + 1
        text += f"[{key_text(table)}]\n"
        for key, value in pairs.items():
            expected[table, key] = text.count("\n") + 1
            text += f"  {key_text(key)} = {value}\n"
    lines = lines_of(tmp_path_factory.mktemp("toml"), text)
    assert {path: line for path, line in lines.items() if len(path) <= 2} == expected
    assert set(lines) == set(all_paths(tomllib.loads(text)))


@given(text=st.text(alphabet="ab.=\"'[]{}#,\n\\1 ", max_size=40))
def test_whatever_the_reader_accepts_is_scanned_and_the_rest_is_told(
    tmp_path_factory: pytest.TempPathFactory, text: str
) -> None:
    path = tmp_path_factory.mktemp("toml") / "any.toml"
    path.write_text(text)
    try:
        wanted: Any = set(all_paths(tomllib.loads(text)))
    except tomllib.TOMLDecodeError:
        trouble = trouble_in(path)
        assert trouble.line is not None
        assert 1 <= trouble.line <= text.count("\n") + 1
    else:
        assert set(read_toml(path).lines) == wanted


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ('a = 1\nb = "open\n', 2),
        ("a = 1\na = 2\n", 2),
        ("[t]\n[t]\n", 2),
        ("\n\nkey\n", 3),
        ('a = """\nnever closed', 2),
    ],
)
def test_a_break_of_the_syntax_is_told_with_its_line(tmp_path: Path, text: str, line: int) -> None:
    path = tmp_path / "broken.toml"
    path.write_text(text)
    trouble = trouble_in(path)
    assert (trouble.file, trouble.line, trouble.key) == (path, line, "")


def test_bytes_that_are_no_utf_8_are_told_with_their_line(tmp_path: Path) -> None:
    path = tmp_path / "latin.toml"
    path.write_bytes(b"a = 1\nb = '\xe9'\n")
    assert trouble_in(path).line == 2


@pytest.mark.parametrize("content", [b"#" * (MAX_BYTES + 1), b"a = " + b"[" * 100_000])
def test_a_file_of_another_kind_is_refused(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "huge.toml"
    path.write_bytes(content)
    assert trouble_in(path).file == path


def test_what_is_no_file_is_refused_without_opening_it(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.toml")
    for path in (tmp_path / "missing.toml", tmp_path, tmp_path / "pipe.toml"):
        assert trouble_in(path).line is None


def test_a_trouble_stands_at_the_key_or_at_the_table_that_lacks_it(tmp_path: Path) -> None:
    path = tmp_path / "sample.toml"
    path.write_text('[a]\nb = ["x",\n"y"]\n')
    file = read_toml(path)
    assert file.trouble(("a", "b", 1), "no", "yes") == ConfigTrouble(path, 3, "a.b[1]", "no", "yes")
    assert file.trouble(("a", "c"), "no", "yes").line == 1
    assert file.trouble(("d",), "no", "yes").line is None
    assert (file.line_of(("a", "b")), file.line_of(("a", "c"))) == (2, None)


@given(
    name=st.text(st.characters(exclude_categories=["Cs"])),
    value=st.text(st.characters(exclude_categories=["Cs"])),
)
def test_keys_and_texts_are_written_as_toml_reads_them(name: str, value: str) -> None:
    assert tomllib.loads(f"{key_text(name)} = {quoted(value)}") == {name: value}
    assert tomllib.loads(f"{dotted(('t', name))} = 1") == {"t": {name: 1}}
