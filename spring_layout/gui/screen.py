"""Whether there is a screen to open a window on. Qt itself would end the process if not."""

import os
import socket
import sys
from pathlib import Path

NO_SCREEN = (
    "spring-layout: there is no screen to open the window on; "
    "use “spring-layout plan” or “spring-layout sheet”, or run it on a desktop."
)
NEEDS_NONE = ("offscreen", "minimal", "vnc")
"""Qt's platforms that bring their own screen."""
DEVICES = {"linuxfb": "/dev/fb0", "eglfs": "/dev/dri", "vkkhrdisplay": "/dev/dri"}
"""Qt's platforms that draw on a device, without a desktop."""
PATIENCE = 2.0
"""s that a screen on another machine is given to answer."""


def has_screen() -> bool:
    """Whether Qt would find a screen."""
    if not sys.platform.startswith("linux"):
        return True
    asked = [name.partition(":")[0] for name in os.environ.get("QT_QPA_PLATFORM", "").split(";")]
    return any(_can_show(name) for name in asked)


def _can_show(platform: str) -> bool:
    """Whether Qt's platform of that name ("" for any) has something to show a window on."""
    if platform in NEEDS_NONE:
        return True
    if platform in DEVICES:
        return Path(DEVICES[platform]).exists()
    wayland = not platform or platform.startswith("wayland")
    return (wayland and _has_wayland()) or (
        platform in ("", "xcb") and _has_x(os.environ.get("DISPLAY", ""))
    )


def _has_wayland() -> bool:
    name = os.environ.get("WAYLAND_DISPLAY")
    if not name:
        return False
    folder = os.environ.get("XDG_RUNTIME_DIR", "")
    return _answers(Path(folder) / name)


def _has_x(display: str) -> bool:
    """Whether an X server answers at ``display``, such as ":0" or "host:10.0"."""
    host, colon, rest = display.rpartition(":")
    number = rest.split(".")[0]
    if not colon or not number.isdigit():
        return False
    if host in ("", "unix"):
        return _answers(Path(f"/tmp/.X11-unix/X{number}")) or _answers(
            Path(f"\0/tmp/.X11-unix/X{number}")
        )
    try:
        socket.create_connection((host, 6000 + int(number)), PATIENCE).close()
    except OSError:
        return False
    return True


def _answers(path: Path) -> bool:
    """Whether somebody listens on the socket ``path``."""
    try:
        with socket.socket(socket.AF_UNIX, socket.SOCK_STREAM) as tried:
            tried.settimeout(PATIENCE)
            tried.connect(str(path))
    except OSError:
        return False
    return True
