"""What is kept on disk is asked once, and nothing rests on it."""

import sqlite3

import pytest

from rackbook.trace import kept as store
from rackbook.trace.kept import kept


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.setattr(store, "user_cache_path", lambda name: tmp_path / name)
    return tmp_path / "rackbook"


class Asked:
    def __init__(self):
        self.keys = []

    def __call__(self, key):
        self.keys.append(key)
        return key.upper()


def test_it_is_asked_once(folder):
    find = Asked()
    assert [kept("words", find, "beam") for _ in range(3)] == ["BEAM"] * 3
    store._store.cache_clear()  # the next run
    assert kept("words", find, "beam") == "BEAM"
    assert find.keys == ["beam"]
    assert kept("other words", find, "beam") == "BEAM"
    assert find.keys == ["beam", "beam"]


def test_hostile_text_is_only_text(folder):
    find = Asked()
    for key in ("'; DROP TABLE kept; --", "\x00", "\ue000 ö", ""):
        assert kept("words", find, key) == kept("words", find, key) == key.upper()
    assert len(find.keys) == 4


@pytest.mark.parametrize("spoil", [
    lambda path: path.write_bytes(b"no store at all" * 100),
    lambda path: path.mkdir(),
    lambda path: sqlite3.connect(path).execute("CREATE TABLE kept (other INTEGER)").connection.close(),
], ids=["something else", "a folder", "another table"])  # fmt: skip
def test_a_spoiled_store_is_done_without(folder, spoil):
    folder.mkdir()
    spoil(folder / "words")
    assert kept("words", Asked(), "beam") == kept("words", Asked(), "beam") == "BEAM"


def test_a_store_spoiled_while_open_is_done_without(folder):
    kept("words", Asked(), "beam")
    (folder / "words").write_bytes(b"\x00" * 20)
    assert kept("words", Asked(), "post") == "POST"


def test_no_folder_can_be_made(folder):
    folder.write_text("a file stands in its place")
    assert kept("words", Asked(), "beam") == "BEAM"


def test_a_store_in_use_elsewhere_is_not_waited_for_in_vain(folder):
    kept("words", Asked(), "beam")
    other = sqlite3.connect(folder / "words", isolation_level=None)
    other.execute("BEGIN EXCLUSIVE")
    assert kept("words", Asked(), "post") == "POST"
    other.execute("COMMIT")
    find = Asked()
    assert kept("words", find, "post") == "POST"
    assert find.keys == ["post"]
    other.close()
