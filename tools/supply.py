"""What this program is made of: `python3 tools/supply.py audit licences bill`, any of the three.

audit       known vulnerabilities of every listed package. Exit code 1: some found; 3: not all of
            them could be looked up, which is said and is no clean bill of health
licences    every package that the program installs with its licence; one not ALLOWED fails
bill        bill of materials, CycloneDX JSON, in build/goodflight.cdx.json

The work is done by pip-audit, pip-licenses and cyclonedx-bom, installed by hash like everything
else into an environment of their own; a second one holds the program's packages and nothing else.
"""

import json
import subprocess
import sys
import tomllib
from collections.abc import Callable, Sequence
from functools import cache
from pathlib import Path
from typing import Any

HOME = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(HOME))
import start  # noqa: E402 - the file beside the folder of this one

TOOLS = start.VENV / "supply-tools"
PROGRAM = start.VENV / "supply-program"
SOURCE = HOME / "src" / "goodflight"
CARRIED = ("page/static/vendor/VENDORED.toml", "outputs/bench/fonts/VENDORED.toml")
BILL = HOME / "build" / "goodflight.cdx.json"
FOUND, NOT_DONE = 1, 3
VALID = """\
import sys
from cyclonedx.schema import SchemaVersion
from cyclonedx.validation.json import JsonStrictValidator
with open(sys.argv[1], encoding="utf-8") as bill:
    sys.exit(JsonStrictValidator(SchemaVersion.V1_6).validate_str(bill.read()))
"""
ALLOWED = (  # as the packages state them; a new one is read by a person before it stands here
    "Apache-2.0",
    "Apache Software License",
    "BSD License",
    "BSD-2-Clause",
    "BSD-2-Clause AND Apache-2.0 WITH LLVM-exception",
    "BSD-3-Clause",
    "BSD-3-Clause AND 0BSD AND MIT AND Zlib AND CC0-1.0",
    "MIT",
    "MIT License",
    "PSF-2.0",
)


def tool(*words: str | Path) -> subprocess.CompletedProcess[str]:
    """Run one of the tools, keep what it prints."""
    command = [str(start.python_in(TOOLS)), *map(str, words)]
    return subprocess.run(command, check=False, cwd=HOME, capture_output=True, text=True)


def judged(dependencies: Sequence[dict[str, Any]]) -> tuple[list[str], list[str]]:
    """Lines about what was found, and the packages that could not be looked up."""
    found = [
        f"{each['name']} {each['version']}: {known['id']}, mended in "
        f"{' or '.join(known['fix_versions']) or 'no version yet'}"
        for each in dependencies
        for known in each.get("vulns", [])
    ]
    return found, [each["name"] for each in dependencies if "skip_reason" in each]


def audit() -> int:
    """Known vulnerabilities of the listed packages."""
    listed = start.LISTED["test"]
    options = ["--require-hashes", "--disable-pip", "--format", "json", "--progress-spinner", "off"]
    done = tool("-m", "pip_audit", "-r", listed, *options)
    try:
        dependencies = json.loads(done.stdout)["dependencies"]
    except ValueError:
        sys.stderr.write(done.stderr[-2000:])
        print("audit: NOT DONE. The list of known vulnerabilities could not be asked, see above.")
        return NOT_DONE
    found, silent = judged(dependencies)
    for line in found:
        print("audit:", line)
    print(f"audit: {len(dependencies)} packages, {len(found)} known vulnerabilities.")
    if silent:
        print(f"audit: NOT DONE for {len(silent)} of them, unknown to the list that was asked:")
        print("      ", ", ".join(silent))
    return FOUND if found else NOT_DONE if silent else 0


@cache
def program() -> Path:
    """The Python of the environment that holds the program's packages, made once a run."""
    start.install(PROGRAM, start.LISTED[""])
    return start.python_in(PROGRAM)


def licences() -> int:
    """Every package that runs, with its licence."""
    done = tool(
        "-m",
        "piplicenses",
        f"--python={program()}",
        "--from=mixed",
        "--order=license",
        "--allow-only",
        ";".join(ALLOWED),
    )
    print(done.stdout, done.stderr, sep="", end="")
    return done.returncode


def carried() -> list[dict[str, Any]]:
    """The files of other projects that lie in this one, as components of the bill."""
    entries = [e for p in CARRIED for e in tomllib.loads((SOURCE / p).read_text("utf-8"))["file"]]
    components: dict[str, dict[str, Any]] = {}
    for each in entries:
        name, version = each["package"], each["version"]
        component = components.setdefault(
            f"{name}@{version}",
            {
                "type": "library",
                "name": name,
                "version": version,
                "bom-ref": f"{name}@{version}",
                "purl": f"pkg:npm/{name.replace('@', '%40')}@{version}",
                "licenses": [{"license": {"id": each["licence"]}}],
                "components": [],
            },
        )
        component["components"].append(
            {
                "type": "file",
                "name": each["name"],
                "bom-ref": each["name"],
                "hashes": [{"alg": "SHA-256", "content": each["sha256"]}],
            }
        )
    return list(components.values())


def bill() -> int:
    """The bill of materials: Python packages by the tool, then the files carried here."""
    BILL.parent.mkdir(exist_ok=True)
    done = tool(
        "-m",
        "cyclonedx_py",
        "environment",
        "--pyproject",
        HOME / "pyproject.toml",
        "--mc-type",
        "application",
        "--sv",
        "1.6",
        "--output-reproducible",
        "-o",
        BILL,
        program(),
    )
    if done.returncode == 0:
        content = json.loads(BILL.read_text("utf-8"))
        content["components"] += carried()
        BILL.write_text(json.dumps(content, indent=1) + "\n", "utf-8")
        done = tool("-c", VALID, BILL)
    print(done.stdout, done.stderr, sep="", end="")
    if done.returncode == 0:
        print(f"bill: {len(content['components'])} components in {BILL.relative_to(HOME)}")
    return done.returncode


WORDS: dict[str, Callable[[], int]] = {"audit": audit, "licences": licences, "bill": bill}


def main(words: Sequence[str]) -> int:
    """Answer every word, the worst exit code is the answer: 1, then 3, then 0."""
    if not words or not set(words) <= set(WORDS):
        print(__doc__)
        return 2
    start.install(TOOLS, HOME / "tools" / "requirements.hashes")
    codes = []
    for word in words:
        print("==>", word, flush=True)
        codes.append(WORDS[word]())
    return next((code for code in codes if code not in (0, NOT_DONE)), max(codes))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
