"""A file is written whole or not at all."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from airframe.writing import WriteError, write_folder, write_new, write_whole


def test_the_bytes_arrive_and_nothing_else_stays(tmp_path: Path) -> None:
    """The file holds exactly the bytes, and the folder holds only the file."""
    write_whole(tmp_path / "a.bin", b"\x00one\r\n")
    assert (tmp_path / "a.bin").read_bytes() == b"\x00one\r\n"
    assert [p.name for p in tmp_path.iterdir()] == ["a.bin"]


def test_an_old_file_is_replaced_and_keeps_its_permissions(tmp_path: Path) -> None:
    """Writing again replaces the content, not the permissions."""
    path = tmp_path / "a.txt"
    path.write_bytes(b"a much longer old content")
    path.chmod(0o640)
    write_whole(path, b"new")
    assert path.read_bytes() == b"new"
    assert path.stat().st_mode & 0o777 == 0o640


def test_a_new_file_gets_the_usual_permissions(tmp_path: Path) -> None:
    """A new file is as readable as one made by open(), not private like a temporary file."""
    (tmp_path / "plain").write_bytes(b"")
    write_whole(tmp_path / "ours", b"")
    assert (tmp_path / "ours").stat().st_mode == (tmp_path / "plain").stat().st_mode


def test_a_link_is_followed(tmp_path: Path) -> None:
    """Writing through a symbolic link replaces the file it points to, and keeps the link."""
    (tmp_path / "real").write_bytes(b"old")
    (tmp_path / "link").symlink_to("real")
    write_whole(tmp_path / "link", b"new")
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "real").read_bytes() == b"new"


@pytest.mark.parametrize("step", ["fsync", "replace"])
@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EACCES, errno.EROFS])
def test_a_failure_leaves_the_old_file_and_no_other(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str, code: int
) -> None:
    """A full disk or a lost permission, whenever it strikes, changes nothing in the folder."""
    path = tmp_path / "a.txt"
    path.write_bytes(b"old")

    def refuse(*_: object, **__: object) -> None:
        raise OSError(code, os.strerror(code))

    monkeypatch.setattr(*((os, "fsync") if step == "fsync" else (Path, "replace")), refuse)
    with pytest.raises(WriteError, match=os.strerror(code).lower()) as caught:
        write_whole(path, b"new")
    assert str(path) in str(caught.value)
    assert path.read_bytes() == b"old"
    assert [p.name for p in tmp_path.iterdir()] == ["a.txt"]


def test_ctrl_c_leaves_no_half_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An interrupt passes through as itself, and the temporary file is gone."""

    def interrupt(_: int) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", interrupt)
    with pytest.raises(KeyboardInterrupt):
        write_whole(tmp_path / "a.txt", b"new")
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_refuses(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where no temporary file can be made, the message names the wanted file and the reason."""

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr("tempfile.mkstemp", refuse)
    with pytest.raises(WriteError, match=r"cannot write .*a\.txt: permission denied"):
        write_whole(tmp_path / "a.txt", b"new")


def test_a_missing_folder_and_a_folder_as_target(tmp_path: Path) -> None:
    """Neither case makes anything; both say what is wrong."""
    with pytest.raises(WriteError, match="there is no folder"):
        write_whole(tmp_path / "nowhere" / "a.txt", b"")
    with pytest.raises(WriteError, match="it is a folder"):
        write_whole(tmp_path, b"")
    with pytest.raises(WriteError, match="cannot write"):
        write_whole("a\0b", b"")
    assert list(tmp_path.iterdir()) == []


def test_a_new_file_never_replaces_another(tmp_path: Path) -> None:
    """write_new refuses a name that is taken, be it by a broken link."""
    write_new(tmp_path / "a", b"1")
    (tmp_path / "broken").symlink_to("nothing")
    for name in ("a", "broken"):
        with pytest.raises(WriteError, match="already there"):
            write_new(tmp_path / name, b"2")
    assert (tmp_path / "a").read_bytes() == b"1"


def test_a_folder_gets_all_files(tmp_path: Path) -> None:
    """The folder is made with those above it; it holds the files, in the order asked for, and nothing else."""
    paths = write_folder(tmp_path / "new" / "deep", {"b.txt": b"B", "a.txt": b"A"})
    assert [path.name for path in paths] == ["b.txt", "a.txt"]
    assert sorted(p.name for p in (tmp_path / "new" / "deep").iterdir()) == ["a.txt", "b.txt"]
    assert [path.read_bytes() for path in paths] == [b"B", b"A"]


def test_a_folder_gets_all_files_or_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With the disk full at the second file, the old files stay as they were; a new folder is taken away again."""
    write_folder(tmp_path / "old", {"a.txt": b"old A", "b.txt": b"old B"})
    synced: list[int] = []

    def full(handle: int) -> None:
        synced.append(handle)
        if len(synced) % 2 == 0:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    for folder in ("old", "new"):
        with pytest.raises(WriteError, match="no space left"):
            write_folder(tmp_path / folder, {"a.txt": b"new A", "b.txt": b"new B"})
    assert {p.name: p.read_bytes() for p in (tmp_path / "old").iterdir()} == {"a.txt": b"old A", "b.txt": b"old B"}
    assert not (tmp_path / "new").exists()


@pytest.mark.parametrize("below", ["", "in/it"])
def test_a_file_where_a_folder_is_wanted(below: str, tmp_path: Path) -> None:
    """The message names the file and says what to do, be it the folder itself or one above it."""
    taken = tmp_path / "taken"
    taken.write_text("kept")
    with pytest.raises(WriteError, match=r"there is a file named .*taken; choose another name"):
        write_folder(taken / below, {"a.txt": b"new"})
    assert taken.read_text() == "kept"
