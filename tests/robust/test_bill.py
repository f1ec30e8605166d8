"""The bill of materials tells what the lock installs and what the ears load; ``python .ci/bill.py`` writes it again."""

import json
import re
from pathlib import Path

from assistant.data import weights
from assistant.hearing.ears import acoustics
from assistant.language.net.hashes import SHA256

ROOT = Path(__file__).parents[2]
BILL = json.loads((ROOT / "bill-of-materials.json").read_text(encoding="utf-8"))["components"]


def hashes(component):
    return {each["content"] for each in component["hashes"]}


def test_every_locked_package_is_in_it_with_the_hashes_of_its_files():
    locked = {}
    for block in re.split(r"\n(?=[A-Za-z0-9])", (ROOT / "requirements.lock").read_text(encoding="utf-8")):
        name, version = re.match(r"([A-Za-z0-9._-]+)==([^\s;\\]+)", block).groups()
        locked[name, version] = set(re.findall(r"sha256:([0-9a-f]{64})", block))
    told = {(each["name"], each["version"]): hashes(each) for each in BILL if each["type"] == "library"}
    assert told == locked


def test_every_model_is_in_it_with_the_hash_that_it_is_held_to():
    told = {each["name"]: hashes(each) for each in BILL if each["type"] == "machine-learning-model"}
    for model in (weights.WHISPER, weights.MOONSHINE, weights.PHONEME, weights.VOICE_ACTIVITY):
        for file, sha256 in model.files.items():
            assert told.pop(f"{model.package} {model.version}/{model.place}/{file}") == {sha256}
    for file, sha256 in SHA256.items():
        assert told.pop(f"grammars/meanings/{file}") == {sha256}
    assert told == {f"grammars/{acoustics.LEARNT}": {acoustics.LEARNT_SHA256}}


def test_every_package_states_a_licence():
    bare = [each["name"] for each in BILL if each["type"] == "library" and not each.get("licenses")]
    assert bare == []
