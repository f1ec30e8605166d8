"""Nothing here uses a network, and neither may a library: what phones home is switched off, and the way out is shut.

``hush_libraries`` runs when the package is imported, before any dependency is. ONNX Runtime (1.32, its Privacy.md)
reports to its maker's event host unless ORT_DISABLE_TELEMETRY is set before it starts: each replay sent three TLS
hellos and left a device id in the user's cache. ``shut`` goes further for a whole process on Linux: the kernel then
refuses every internet socket, whoever asks for it, so that the next library that learns to talk is silent as well.
"""

from __future__ import annotations

import ctypes
import os
import platform
import sys

#: Each is read by the library that it silences; the last is a general request that several tools honour.
SILENT = {
    "ORT_DISABLE_TELEMETRY": "1",
    "HF_HUB_OFFLINE": "1",
    "HF_HUB_DISABLE_TELEMETRY": "1",
    "DO_NOT_TRACK": "1",
}

# From linux/prctl.h, linux/seccomp.h, linux/bpf_common.h, linux/audit.h and sys/socket.h.
_PR_SET_NO_NEW_PRIVS, _PR_SET_SECCOMP, _MODE_FILTER = 38, 22, 2
_ALLOW, _REFUSE_WITH, _KILL = 0x7FFF0000, 0x00050000, 0x80000000
_LOAD, _EQUAL, _RETURN = 0x20, 0x15, 0x06
_EACCES = 13
_UNIX, _INTERNET = 1, (2, 10)
#: By machine: its audit number and that of its system call ``socket``.
_CALLS = {"x86_64": (0xC000003E, 41), "aarch64": (0xC00000B7, 198)}
#: Where the system call's number, the machine's number and the first argument stand in ``struct seccomp_data``.
_NUMBER_AT, _MACHINE_AT, _FIRST_AT = 0, 4, 16


class _Step(ctypes.Structure):
    _fields_ = [("code", ctypes.c_ushort), ("yes", ctypes.c_ubyte), ("no", ctypes.c_ubyte), ("k", ctypes.c_uint32)]


class _Filter(ctypes.Structure):
    _fields_ = [("count", ctypes.c_ushort), ("steps", ctypes.POINTER(_Step))]


def hush_libraries() -> None:
    """Switch off what libraries would report. Before any of them is imported."""
    os.environ.update(SILENT)


def shut(kill: bool = False, local: bool = True) -> bool:
    """Refuse every internet socket of this process and its children, for good; whether that was possible.

    Sockets of this machine (a sound server's) stay. ``kill`` ends the process on the spot instead, and without
    ``local`` no socket of any kind is left: both are for tests. Elsewhere than on Linux nothing is done.
    """
    calls = _CALLS.get(platform.machine())
    if sys.platform != "linux" or calls is None or sys.byteorder != "little":
        return False
    machine, socket_call = calls
    refused = _KILL if kill else _REFUSE_WITH | _EACCES
    steps = [
        _Step(_LOAD, 0, 0, _MACHINE_AT),
        _Step(_EQUAL, 1, 0, machine),
        _Step(_RETURN, 0, 0, _ALLOW),
        _Step(_LOAD, 0, 0, _NUMBER_AT),
        _Step(_EQUAL, 1, 0, socket_call),
        _Step(_RETURN, 0, 0, _ALLOW),
        _Step(_LOAD, 0, 0, _FIRST_AT),
        *(_Step(_EQUAL, 3 - place, 0, family) for place, family in enumerate((*_INTERNET, _UNIX if not local else 2))),
        _Step(_RETURN, 0, 0, _ALLOW),
        _Step(_RETURN, 0, 0, refused),
    ]
    try:
        control = ctypes.CDLL(None, use_errno=True).prctl
        if control(_PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) != 0:
            return False
        whole = _Filter(len(steps), (_Step * len(steps))(*steps))
        return bool(control(_PR_SET_SECCOMP, _MODE_FILTER, ctypes.byref(whole)) == 0)
    except (OSError, AttributeError):
        return False
