"""Where a file is written: whole or not at all, and never over anything that a person may want back."""

from __future__ import annotations

import datetime as dt
import hashlib
import os
import re
import tempfile
import zipfile
from collections.abc import Callable, Iterable
from pathlib import Path
from types import TracebackType
from typing import Final, Self

from sheetcalc.errors import OutputError

#: The part of a workbook in which it says how it left us, and the property that says it: what the parts before came to.
PROPERTIES: Final = "docProps/custom.xml"
WRITTEN: Final = "parts as written"
_DIGEST: Final = re.compile(rb'name="' + WRITTEN.encode() + rb'"><vt:lpwstr>([0-9a-f]{64})</vt:lpwstr>')
#: What workbooks say that were written before they said what their parts came to.
_OLDER: Final = (b'name="formula set"', b'name="edition"')
_PIECE: Final = 1 << 20
#: The most that the parts of a workbook of ours come to, in bytes.
_MOST: Final = 2 << 30


def is_ours(path: Path) -> bool:
    """Whether a file is a workbook that was written here, changed since or not."""
    return _said(path) is not None


def is_as_written(path: Path) -> bool:
    """Whether nothing was typed into a workbook of ours, and no other program saved it, since it was written."""
    said = _said(path)
    if not said:
        return False
    digest = hashlib.sha256()
    with zipfile.ZipFile(path) as package:
        for info in package.infolist():
            if info.filename == PROPERTIES:
                return digest.hexdigest() == said
            with package.open(info) as part:
                for piece in iter(lambda part=part: part.read(_PIECE), b""):  # type: ignore[misc]
                    digest.update(piece)
    return False


def _said(path: Path) -> str | None:
    """What a workbook says that its parts came to, "" where it does not say; None of a file that is none of ours."""
    try:
        with zipfile.ZipFile(path) as package:
            if sum(info.file_size for info in package.infolist()) > _MOST:
                return None
            properties = package.read(PROPERTIES)
    except (OSError, KeyError, ValueError, NotImplementedError, RuntimeError, zipfile.BadZipFile):
        return None
    found = _DIGEST.search(properties)
    if found:
        return found[1].decode()
    return "" if all(name in properties for name in _OLDER) else None


def same_file(one: Path, other: Path) -> bool:
    """Whether two paths lead to one file, by another way, a link or the case of a letter too."""
    try:
        if one.exists() and other.exists() and one.samefile(other):
            return True
        return str(one.resolve()).casefold() == str(other.resolve()).casefold()
    except OSError:
        return False


class Output:
    """A file to be written: a temporary one beside it takes its place when all went well, and is gone when not.

    As a context it gives that temporary file. A file that stands there already is left alone unless `replace` is said, and
    even then where `ours` says that it is none of ours, or where it is one of `inputs`. One that was changed since it was
    written, as `as_written` tells, is moved: `moved` says where.

    Raises OutputError in one sentence, also when the disk will not take the file.
    """

    def __init__(
        self,
        path: Path,
        *,
        replace: bool,
        inputs: Iterable[Path | None] = (),
        ours: Callable[[Path], bool] = is_ours,
        as_written: Callable[[Path], bool] = is_as_written,
    ) -> None:
        self.path, self.ours, self.as_written = path, ours, as_written
        self.moved: Path | None = None
        self._refuse(replace=replace, inputs=[one for one in inputs if one is not None])
        self.temporary = path

    def _refuse(self, *, replace: bool, inputs: list[Path]) -> None:
        path = self.path
        if path.is_dir():
            message = f"{path} is a folder: name a file."
        elif not path.parent.is_dir():
            message = f"The folder {path.parent} does not exist: make it first, or name another."
        elif any(same_file(path, one) for one in inputs):
            message = f"{path} is one of the files that are read, and is never written over: name another file."
        elif not path.exists():
            return
        elif not replace:
            message = f"{path} exists and is left as it is: name another file, or add --replace."
        elif not self.ours(path):
            message = f"{path} was not written by sheetcalc and is never replaced: name another file."
        elif lock := self._lock():
            message = f"{path} is open elsewhere, as {lock.name} beside it says: close it there first."
        else:
            return
        raise OutputError(message)

    def _lock(self) -> Path | None:
        """What a spreadsheet program leaves beside a file as long as it has it open."""
        locks = (self.path.with_name(f".~lock.{self.path.name}#"), self.path.with_name(f"~${self.path.name}"))
        return next((lock for lock in locks if lock.exists()), None)

    def __enter__(self) -> Self:
        try:
            handle, name = tempfile.mkstemp(dir=self.path.parent, prefix=f".{self.path.stem}-", suffix=".part")
            os.close(handle)
        except OSError as error:
            message = f"{self.path} cannot be written: {error.strerror}."
            raise OutputError(message) from error
        self.temporary = Path(name)
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        try:
            if kind is None:
                self._put()
        except OSError as fault:
            error = fault
        finally:
            self.temporary.unlink(missing_ok=True)
        if isinstance(error, OSError):
            message = f"{self.path} cannot be written: {error.strerror or error}. Nothing was changed."
            raise OutputError(message) from error

    def _put(self) -> None:
        """The temporary file in the place of the old one, which is moved first where somebody worked in it."""
        # mkstemp makes the file private; the finished one gets what the user's own files get.
        umask = os.umask(0)
        os.umask(umask)
        self.temporary.chmod(0o666 & ~umask)
        if self.path.exists() and not self.as_written(self.path):
            now = dt.datetime.now().astimezone()
            stamps = ("%Y-%m-%d %H.%M.%S", "%Y-%m-%d %H.%M.%S.%f")
            aside = (self.path.with_name(f"{self.path.stem} (before {now:{one}}){self.path.suffix}") for one in stamps)
            self.moved = next(one for one in aside if not one.exists())
            self.path.rename(self.moved)
        self.temporary.replace(self.path)
