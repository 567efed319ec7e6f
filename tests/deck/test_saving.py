"""A file is replaced whole or not at all."""

import errno
import os
import resource
import stat
import sys
import threading
from pathlib import Path

import pytest

from spring_layout.deck.files import (
    OutputError,
    write_all_atomically,
    write_atomically,
    write_deck,
)
from tests.decks import grid_deck


def refusal(path, data=b"new"):
    with pytest.raises(OutputError) as refused:
        write_atomically(path, data)
    message = str(refused.value)
    assert message.endswith(".")
    assert "\n" not in message
    return message


@pytest.fixture
def old(tmp_path):
    path = tmp_path / "old.deck.json"
    path.write_bytes(b"old")
    return path


def failing(error):
    def fail(*_):
        raise error

    return fail


def test_the_new_file_replaces_the_old_one_and_nothing_else_is_left(old):
    write_atomically(old, b"new")
    assert old.read_bytes() == b"new"
    assert list(old.parent.iterdir()) == [old]


@pytest.mark.parametrize(
    ("step", "code", "says"),
    [
        ("os.fsync", errno.ENOSPC, "the disk is full; make room"),
        ("os.fsync", errno.EDQUOT, "used up"),
        ("os.open", errno.EACCES, "permission is missing"),
        ("os.open", errno.EROFS, "can only be read"),
        ("pathlib.Path.replace", errno.EPERM, "permission is missing"),
        ("pathlib.Path.replace", errno.EIO, "check the disk"),
        ("pathlib.Path.replace", errno.EXDEV, "odd"),
    ],
)
def test_a_failure_at_any_step_leaves_the_old_file_and_no_other(old, monkeypatch, step, code, says):
    monkeypatch.setattr(step, failing(OSError(code, "odd")))
    assert says in refusal(old)
    monkeypatch.undo()
    assert old.read_bytes() == b"old"
    assert list(old.parent.iterdir()) == [old]


def test_a_write_that_really_runs_out_of_room_leaves_the_old_file(old):
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (100_000, hard))
    try:
        message = refusal(old, b"x" * 200_000)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert "too large" in message
    assert old.read_bytes() == b"old"
    assert list(old.parent.iterdir()) == [old]


def test_being_stopped_by_hand_leaves_the_old_file(old, monkeypatch):
    monkeypatch.setattr("os.fsync", failing(KeyboardInterrupt()))
    with pytest.raises(KeyboardInterrupt):
        write_atomically(old, b"new")
    monkeypatch.undo()
    assert old.read_bytes() == b"old"
    assert list(old.parent.iterdir()) == [old]


def test_a_link_stays_a_link_and_its_file_is_replaced(old, tmp_path):
    folder = tmp_path / "elsewhere"
    folder.mkdir()
    link = folder / "link"
    link.symlink_to(old)
    write_atomically(link, b"new")
    assert link.is_symlink()
    assert old.read_bytes() == b"new"
    assert list(folder.iterdir()) == [link]


def test_the_mode_of_an_existing_file_is_kept(old):
    old.chmod(0o640)
    write_atomically(old, b"new")
    assert stat.S_IMODE(old.stat().st_mode) == 0o640


def test_a_new_file_has_the_mode_that_the_user_gives_to_new_files(tmp_path):
    plain, ours = tmp_path / "plain", tmp_path / "ours"
    plain.write_bytes(b"")
    write_atomically(ours, b"new")
    assert ours.stat().st_mode == plain.stat().st_mode


def test_a_protected_file_is_not_replaced_behind_its_back(old, monkeypatch):
    monkeypatch.setattr("os.access", lambda path, mode: False)
    assert "protected against writing" in refusal(old)
    assert old.read_bytes() == b"old"


def test_a_folder_that_is_not_there_and_one_in_the_files_place_are_told(tmp_path):
    assert "its folder does not exist" in refusal(tmp_path / "gone" / "new.svg")
    assert "is a folder" in refusal(tmp_path)
    assert "name cannot be used" in refusal("null\0byte")


def test_a_folder_that_cannot_be_synced_does_not_undo_the_saving(old, monkeypatch):
    real = os.open

    def no_folders(path, flags, *rest):
        if Path(path).is_dir():
            raise OSError(errno.EINVAL, "no folders")
        return real(path, flags, *rest)

    monkeypatch.setattr("os.open", no_folders)
    write_atomically(old, b"new")
    assert old.read_bytes() == b"new"


def test_the_folder_is_synced_after_the_file_is_in_place(old, monkeypatch):
    synced = []
    real = os.fsync

    def fsync(number):
        synced.append((stat.S_ISDIR(os.fstat(number).st_mode), old.read_bytes()))
        real(number)

    monkeypatch.setattr("os.fsync", fsync)
    write_atomically(old, b"new")
    assert synced == [(False, b"old"), (True, b"new")]


def test_many_files_take_their_places_together(tmp_path):
    files = {str(tmp_path / f"tile-{i}.svg"): bytes([i]) * 1000 for i in range(40)}
    write_all_atomically(files)
    assert {str(path): path.read_bytes() for path in tmp_path.iterdir()} == files


def test_where_one_of_many_files_cannot_be_written_none_is_replaced(tmp_path, monkeypatch):
    old = [tmp_path / f"tile-{i}.svg" for i in range(20)]
    for path in old:
        path.write_bytes(b"old")
    real = os.fsync
    calls = iter(range(100))

    def full(number):
        if next(calls) == 11:
            raise OSError(errno.ENOSPC, "full")
        real(number)

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(OutputError, match="the disk is full") as refused:
        write_all_atomically({str(path): b"new" for path in old})
    assert Path(refused.value.path) in old
    assert sorted(tmp_path.iterdir()) == sorted(old)
    assert {path.read_bytes() for path in old} == {b"old"}


def test_a_place_that_is_not_there_is_named_before_any_file_is_written(tmp_path):
    good, gone = tmp_path / "a.svg", tmp_path / "gone" / "b.svg"
    with pytest.raises(OutputError, match="its folder does not exist") as refused:
        write_all_atomically({str(good): b"new", str(gone): b"new"})
    assert refused.value.path == str(gone)
    assert list(tmp_path.iterdir()) == []


def test_a_pipe_is_written_to_and_stays_a_pipe(tmp_path):
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    read = []
    reader = threading.Thread(target=lambda: read.append(pipe.read_bytes()))
    reader.start()
    write_atomically(pipe, b"new")
    reader.join(10)
    assert read == [b"new"]
    assert stat.S_ISFIFO(pipe.stat().st_mode)


def test_a_deck_that_cannot_be_saved_leaves_the_old_one(old, monkeypatch):
    monkeypatch.setattr("os.fsync", failing(OSError(errno.ENOSPC, "full")))
    with pytest.raises(OutputError, match="the disk is full"):
        write_deck(grid_deck(), old)
    assert old.read_bytes() == b"old"


def test_these_tests_run_where_files_work_as_they_assume():
    assert sys.platform != "win32"
