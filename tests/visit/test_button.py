"""The push button in a real terminal (a pseudo one), and where there is none."""

import io
import os
import pty
import subprocess
import sys
import termios
from pathlib import Path

import pytest

from assistant.visit.button import Button

ROOT = Path(__file__).parents[2]


@pytest.fixture
def terminal(monkeypatch):
    """The keyboard's end, and the terminal as a program opens it."""
    keys, screen = pty.openpty()
    # Whose turn it is in the terminal is tried in a process of its own, below: this one has no terminal to own.
    monkeypatch.setattr(os, "tcgetpgrp", lambda fd: os.getpgrp())
    with open(screen, closefd=False) as stdin:
        yield keys, stdin
    os.close(keys)
    os.close(screen)


def test_a_key_is_a_press_without_enter_and_nobody_waits(terminal):
    keys, stdin = terminal
    with Button(stdin) as button:
        assert button.there
        assert not button.pressed(1.0)
        os.write(keys, b" ")
        assert button.pressed(2.0)
        assert not button.pressed(3.0)


def test_a_key_of_many_signs_or_held_down_is_one_press(terminal):
    keys, stdin = terminal
    with Button(stdin) as button:
        os.write(keys, b"\x1b[24~")
        assert button.pressed(1.0)
        for repeat in range(20):
            os.write(keys, b"\x1b[24~")
            assert not button.pressed(1.5 + 0.03 * repeat)
        os.write(keys, b"x")
        assert button.pressed(5.0)


def test_the_terminal_is_given_back_as_it_was(terminal):
    _, stdin = terminal
    before = termios.tcgetattr(stdin)
    with Button(stdin):
        assert not termios.tcgetattr(stdin)[3] & (termios.ECHO | termios.ICANON)
        assert termios.tcgetattr(stdin)[3] & termios.ISIG, "Ctrl-C still stops the program"
    assert termios.tcgetattr(stdin) == before


@pytest.mark.parametrize("stdin", [None, io.StringIO(" ")])
def test_without_a_terminal_there_is_no_button_and_nothing_breaks(stdin, monkeypatch):
    monkeypatch.setattr(sys, "stdin", None)
    with Button(stdin) as button:
        assert not button.there
        assert not button.pressed(1.0)


def test_a_pipe_and_its_end_are_no_presses(tmp_path):
    (tmp_path / "words").write_text("hello\n")
    with (tmp_path / "words").open() as stdin, Button(stdin) as button:
        assert not button.there
        assert not button.pressed(1.0)


def test_a_terminal_that_goes_away_is_no_button_any_more(terminal):
    keys, stdin = terminal
    with Button(stdin) as button:
        os.write(keys, b"\x04")  # in this mode an ordinary key
        assert button.pressed(1.0)
        os.dup2(os.open(os.devnull, os.O_RDONLY), keys)  # the keyboard's end is closed
        assert not button.pressed(5.0)
        assert not button.there


def test_in_the_background_of_a_terminal_it_is_not_read():
    program = (
        "import os, sys; from assistant.visit.button import Button\n"
        "print(Button().there, flush=True)\n"
        "if os.fork() == 0:\n"
        "    os.setpgid(0, 0)\n"  # as a shell does with `ladderside visit &`
        "    print(Button().there, flush=True)\n"
        "    os._exit(0)\n"
        "os.wait()\n"
    )
    keys, screen = pty.openpty()
    child = subprocess.Popen(
        [sys.executable, "-c", "import fcntl, termios; fcntl.ioctl(0, termios.TIOCSCTTY, 0)\n" + program],
        stdin=screen,
        stdout=subprocess.PIPE,
        text=True,
        cwd=ROOT,
        start_new_session=True,
    )
    said, _ = child.communicate(timeout=60)
    os.close(keys)
    os.close(screen)
    assert said.split() == ["True", "False"]
