"""Writes a file whole or not at all: no command ever leaves half a result behind."""

from __future__ import annotations

import contextlib
import os
import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path


class WriteError(OSError):
    """A file that could not be written; the message names the file and the reason."""


def write_whole(path: Path | str, data: bytes) -> None:
    """Write the file so that it holds either its old content or all of the new.

    The bytes go to a temporary file in the same folder, to the disk, and then take the file's name in
    one step. A link is followed: the file it points to is replaced. Raises WriteError (no such folder,
    read-only, disk full); whatever goes wrong, Ctrl-C included, the temporary file is removed.
    """
    try:
        target = Path(os.path.realpath(path))
        mode = _mode(target)
        handle, temporary = tempfile.mkstemp(prefix=f".{target.name[:40]}.", suffix=".part", dir=target.parent)
    except (OSError, ValueError) as error:
        raise _explained(path, error) from error
    try:
        with open(handle, "wb") as file:  # noqa: PTH123 - an open handle, not a path
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        Path(temporary).chmod(mode)
        Path(temporary).replace(target)
    except BaseException as error:
        with contextlib.suppress(OSError):
            Path(temporary).unlink()
        if isinstance(error, OSError):
            raise _explained(path, error) from error
        raise


def write_new(path: Path | str, data: bytes) -> None:
    """Write a file that must not be there yet; as `write_whole` otherwise."""
    if os.path.lexists(path):
        message = f"cannot write {path}: it is already there; choose another name, or remove it first"
        raise WriteError(message)
    write_whole(path, data)


def write_folder(folder: Path, contents: Mapping[str, bytes]) -> list[Path]:
    """Write several files into a folder, made if need be: all of them, or none. Raises WriteError.

    They are written beside one another under a hidden name first, and take their places when all are there.
    """
    is_new = not folder.exists()
    make_folder(folder)
    staged = folder / ".part"
    try:
        make_folder(staged)
        for name, data in contents.items():
            write_whole(staged / name, data)
        for name in contents:
            _take_place(staged / name, folder / name)
    finally:
        shutil.rmtree(staged, ignore_errors=True)
        if is_new:
            with contextlib.suppress(OSError):
                folder.rmdir()  # only where nothing came into it
    return [folder / name for name in contents]


def remove(path: Path) -> None:
    """Remove a file; one that is not there is fine. Raises WriteError."""
    try:
        path.unlink(missing_ok=True)
    except OSError as error:
        raise _explained(path, error) from error


def _take_place(staged: Path, path: Path) -> None:
    try:
        staged.replace(path)
    except OSError as error:
        raise _explained(path, error) from error


def _mode(target: Path) -> int:
    """The permissions the file has, or those any new file would get."""
    if target.exists():
        return target.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def _explained(path: Path | str, error: Exception) -> WriteError:
    target = Path(path)
    if isinstance(error, FileNotFoundError) and not target.parent.exists():
        reason = f"there is no folder {target.parent}"
    elif isinstance(error, IsADirectoryError) or (isinstance(error, OSError) and target.is_dir()):
        reason = "it is a folder"
    else:
        reason = (getattr(error, "strerror", None) or str(error)).lower()
    return WriteError(f"cannot write {path}: {reason}")


def make_folder(folder: Path) -> None:
    """The folder, with those above it, if they are not there yet. Raises WriteError."""
    check_folder(folder)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        message = f"cannot make the folder {folder}: {(error.strerror or str(error)).lower()}"
        raise WriteError(message) from error


def check_folder(folder: Path) -> None:
    """Raises WriteError where there can be no folder of this name, because it, or one above it, is a file."""
    for one in (folder, *folder.parents):
        if one.is_file():
            message = f"cannot make the folder {folder}: there is a file named {one}; choose another name"
            raise WriteError(message)
