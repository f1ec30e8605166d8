"""The software bill of materials: ``python .ci/bill.py`` writes ``bill-of-materials.json`` (CycloneDX 1.6) again.

Every package that users install (``requirements.lock``) with version, licence as the package states it and the hashes
of its files; and every model that is loaded, with the package that brings it and the hash that it is held to.
"""

from __future__ import annotations

import re
import sys
from importlib.metadata import PackageNotFoundError, metadata
from pathlib import Path

from cyclonedx.model import HashAlgorithm, HashType
from cyclonedx.model.bom import Bom
from cyclonedx.model.component import Component, ComponentType
from cyclonedx.model.license import DisjunctiveLicense
from cyclonedx.output.json import JsonV1Dot6
from packageurl import PackageURL

ROOT = Path(__file__).parent.parent
BILL = ROOT / "bill-of-materials.json"
sys.path.insert(0, str(ROOT))

from assistant import __version__  # noqa: E402
from assistant.data import weights  # noqa: E402
from assistant.hearing.ears import acoustics  # noqa: E402
from assistant.language.net.hashes import SHA256  # noqa: E402


def locked(text: str) -> dict[tuple[str, str], list[str]]:
    """The hashes of every package and version in a lock."""
    found: dict[tuple[str, str], list[str]] = {}
    for block in re.split(r"\n(?=[A-Za-z0-9])", text):
        match = re.match(r"([A-Za-z0-9._-]+)==([^\s;\\]+)", block)
        if match is not None:
            found[match[1], match[2]] = re.findall(r"--hash=sha256:([0-9a-f]{64})", block)
    return found


def licence(name: str) -> str:
    """What the installed package says of its licence, in few words; empty where it says nothing."""
    try:
        told = metadata(name)
    except PackageNotFoundError:
        return ""
    expression = told.get("License-Expression")
    if expression:
        return str(expression)
    named = [each.rsplit("::", 1)[-1].strip() for each in told.get_all("Classifier", []) if each.startswith("License")]
    given = (told.get("License") or "").strip().splitlines()
    return " or ".join(named) or (given[0][:80] if given else "")


def bill() -> str:
    """The whole bill as JSON, the same each time."""
    made = Bom(serial_number=None)
    made.metadata.timestamp = None  # type: ignore[assignment]
    whole = Component(name="ladderside", version=__version__, type=ComponentType.APPLICATION, bom_ref="ladderside")
    made.metadata.component = whole
    for (name, version), hashes in locked((ROOT / "requirements.lock").read_text(encoding="utf-8")).items():
        stated = licence(name)
        made.components.add(
            Component(
                name=name,
                version=version,
                type=ComponentType.LIBRARY,
                bom_ref=f"{name}=={version}",
                purl=PackageURL("pypi", None, name, version),
                hashes=[HashType(alg=HashAlgorithm.SHA_256, content=each) for each in hashes],
                licenses=[DisjunctiveLicense(name=stated)] if stated else None,
            )
        )
    models = [(f"{model.package} {model.version}/{model.place}", file, sha256) for model in
              (weights.WHISPER, weights.MOONSHINE, weights.PHONEME, weights.VOICE_ACTIVITY)
              for file, sha256 in model.files.items()]  # fmt: skip
    models += [("grammars/meanings", file, sha256) for file, sha256 in SHA256.items()]
    for place, file, sha256 in [*models, ("grammars", acoustics.LEARNT, acoustics.LEARNT_SHA256)]:
        made.components.add(
            Component(
                name=f"{place}/{file}",
                bom_ref=f"{place}/{file}",
                type=ComponentType.MACHINE_LEARNING_MODEL,
                hashes=[HashType(alg=HashAlgorithm.SHA_256, content=sha256)],
            )
        )
    made.register_dependency(whole, made.components)
    text = JsonV1Dot6(made).output_as_string(indent=1)
    # Two runs are to give the same file.
    text = re.sub(r'^ "serialNumber": .*\n', "", text, flags=re.M)
    return re.sub(r'^ *"timestamp": .*\n', "", text, flags=re.M) + "\n"


if __name__ == "__main__":
    BILL.write_text(bill(), encoding="utf-8")
    print(f"{BILL.name} is written.")
