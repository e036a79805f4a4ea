"""The rows of a sweep as they are finished, kept beside its output, so that an interrupted one can go on."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import IO

from airframe.sweep.engines import SweepError
from airframe.sweep.plan import Plan
from airframe.sweep.rows import Row
from airframe.writing import WriteError

SUFFIX = ".journal"


class Journal:
    """One line of JSON for each row that is done; the first line says of which sweep they are."""

    def __init__(self, output: Path, plan: Plan) -> None:
        self.path = output.with_name(output.name + SUFFIX)
        self._plan = plan
        self._file: IO[str] | None = None

    def begin(self) -> None:
        """Start anew. Raises WriteError."""
        head = {"sweep": self._plan.digest, "variants": self._plan.count}
        self._open("w").write(json.dumps(head) + "\n")

    def resume(self) -> list[Row]:
        """The rows that are done, to go on after them; none where nothing was begun.

        Raises SweepError where what is there was begun for another sweep, and WriteError.
        """
        try:
            head, *lines = self.path.read_text(encoding="utf-8").splitlines(keepends=True)
            begun = json.loads(head)
        except FileNotFoundError:
            self.begin()
            return []
        except ValueError:
            begun, lines = {}, []
        if begun.get("sweep") != self._plan.digest:
            message = (
                f"{self.path} was begun for something else: another design, other keys, values or measures, or another "
                "version of this program; sweep without --resume to start anew"
            )
            raise SweepError(message)
        # A last line without its end was being written when the power went.
        whole = [line for line in lines if line.endswith("\n")]
        self._open("w").writelines([head, *whole])
        return [_row(json.loads(line), self._plan) for line in whole]

    def kept(self) -> int:
        """How many rows of this very sweep are here from a time when it was interrupted."""
        try:
            head, *lines = self.path.read_text(encoding="utf-8").splitlines(keepends=True)
            is_ours = json.loads(head).get("sweep") == self._plan.digest
        except (OSError, ValueError, AttributeError):
            return 0
        return sum(line.endswith("\n") for line in lines) if is_ours else 0

    def add(self, rows: Sequence[Row]) -> None:
        """Keep these rows, on the disk."""
        assert self._file is not None
        for row in rows:
            self._file.write(json.dumps([row.number, row.verdict, row.message, dict(row.answers)]) + "\n")
        self._file.flush()

    def close(self) -> None:
        """Leave the rows where they are."""
        if self._file is not None:
            self._file.close()

    def remove(self) -> None:
        """All is done and written: the journal is not needed any more."""
        self.close()
        self.path.unlink(missing_ok=True)

    def _open(self, mode: str) -> IO[str]:
        try:
            self._file = self.path.open(mode, encoding="utf-8")
        except OSError as error:
            message = f"cannot write {self.path}: {(error.strerror or str(error)).lower()}"
            raise WriteError(message) from error
        return self._file


def _row(line: list[object], plan: Plan) -> Row:
    number, verdict, message, answers = line
    assert isinstance(number, int) and isinstance(answers, dict)
    return Row(number, plan.values(number), answers, None if verdict is None else str(verdict), str(message))
