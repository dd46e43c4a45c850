#!/usr/bin/env python3
"""Speed beside general-purpose typesetting libraries: a table of times and ratios. See README.md."""

import argparse
import os
import pathlib
import platform
import re
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
import venv

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parents[1]
PACKAGES = ["typst==0.15.2", "weasyprint==70.0", "reportlab==5.1.0", "pyyaml==6.0.4", "jinja2==3.1.6"]
PEERS = {"typst": ["pdf"], "weasyprint": ["pdf", "html"], "reportlab": ["pdf"]}
ONE = ROOT / "procedures" / "pipe-butt-p235gh-141-111.yaml"


def environment(folder):
    """The Python of a virtual environment with the peers, made where it is not there."""
    python = folder / "bin" / "python"
    if not python.exists():
        print(f"installing {', '.join(PACKAGES)} into {folder}", file=sys.stderr)
        venv.create(folder, with_pip=True)
    subprocess.run([python, "-m", "pip", "install", "--quiet", "--disable-pip-version-check", *PACKAGES], check=True)
    return python


def run(command):
    """Seconds and most memory (MiB) of a whole process."""
    before = time.perf_counter()
    with open(os.devnull, "wb") as nowhere:
        child = subprocess.Popen([str(part) for part in command], stdout=nowhere, stderr=subprocess.PIPE)
        errors = child.stderr.read()
        _, status, used = os.wait4(child.pid, 0)
    taken = time.perf_counter() - before
    code = os.waitstatus_to_exitcode(status)
    # 1 says that the checks found something, which is no failure of the run.
    if code not in (0, 1):
        raise SystemExit(f"{command}: exit status {code}\n{errors.decode()[-2000:]}")
    return taken, used.ru_maxrss / 1024


def side_by_side(commands, repeats):
    """Times of several commands, each in turn, so that what else the machine does meets all alike."""
    taken = {name: [] for name in commands}
    memory = dict.fromkeys(commands, 0.0)
    for command in commands.values():
        run(command)
    for _ in range(repeats):
        for name, command in commands.items():
            seconds, most = run(command)
            taken[name].append(seconds)
            memory[name] = max(memory[name], most)
    return {name: (min(own), statistics.median(own), memory[name]) for name, own in taken.items()}


def table(title, results, per=1):
    print(f"\n{title}")
    print(f"  {'':24}{'least ms':>11}{'median ms':>11}{'MiB':>8}{'of ours':>10}")
    ours = next(iter(results.values()))[0]
    for name, (least, median, memory) in results.items():
        ratio = least / ours
        print(f"  {name:24}{1000 * least / per:11.2f}{1000 * median / per:11.2f}{memory:8.1f}{ratio:9.1f} x")


def copies(folder, count):
    """So many procedures, each with its number and one current of its own."""
    folder.mkdir()
    texts = [path.read_text(encoding="utf-8") for path in sorted((ROOT / "procedures").glob("*.yaml"))]
    for index in range(count):
        text = re.sub(r"number: [^\n,}]+", f"number: N-{index:05}", texts[index % len(texts)], count=1)
        (folder / f"n-{index:05}.yaml").write_text(text, encoding="utf-8")
    return folder


def edited(folder, count):
    """One procedure with one value changed, again and again."""
    folder.mkdir()
    text = ONE.read_text(encoding="utf-8")
    for turn in range(count):
        (folder / f"edit-{turn}.yaml").write_text(text.replace("current: 90-120 A", f"current: {85 + turn % 5}-120 A"))
    return sorted(folder.iterdir())


class Runs:
    """The commands of every program."""

    def __init__(self, binary, python, work):
        self.binary, self.python, self.work = binary, python, work

    def ours(self, formats, *paths, jobs=None):
        out = self.work / "ours"
        # Every time from nothing: an output that is already right would not be written again.
        return [self.binary, "render", *paths, "--out", out, "--to", formats, *FORCE, *(["--jobs", str(jobs)] if jobs else [])]

    def peer(self, name, formats, *paths, jobs=1):
        return [self.python, HERE / "peers.py", name, formats, self.work / name, *paths, "--jobs", str(jobs)]

    def all(self, formats, *paths, jobs=1):
        wanted = formats.split(",")
        of = {name: ",".join(own for own in wanted if own in known) for name, known in PEERS.items()}
        rows = {"seamwright": self.ours(formats, *paths, jobs=jobs)}
        for name, own in of.items():
            if own:
                rows[name if own == formats else f"{name} ({own} only)"] = self.peer(name, own, *paths, jobs=jobs)
        return rows


FORCE = ["--force"]


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--binary", type=pathlib.Path, default=ROOT / "target" / "release" / "seamwright")
    parser.add_argument("--venv", type=pathlib.Path, default=ROOT / "target" / "compare-venv")
    parser.add_argument("--repeats", type=int, default=15)
    parser.add_argument("--batch", type=int, default=2000, help="procedures in the large batch")
    parser.add_argument("--peers-batch", type=int, default=100, help="procedures that the peers set of it; time is given per file")
    args = parser.parse_args()
    if not args.binary.exists():
        raise SystemExit(f"{args.binary} is not there: cargo build --release")
    python = environment(args.venv)
    cores = os.cpu_count()
    load = os.getloadavg()[0]
    print(f"{platform.machine()}, {cores} cores, load {load:.1f} at the start; Python {platform.python_version()}")
    print(", ".join(PACKAGES))
    with tempfile.TemporaryDirectory() as work:
        work = pathlib.Path(work)
        runs = Runs(args.binary, python, work)
        for title, formats in (("PDF", "pdf"), ("HTML", "html"), ("PDF and HTML", "pdf,html")):
            table(f"one procedure to {title}, cold process", side_by_side(runs.all(formats, ONE), args.repeats))
        check = {"seamwright check": [args.binary, "check", ONE]}
        table("check of one procedure, cold process", side_by_side(check, args.repeats))

        small = copies(work / "small", 24)
        for jobs in (1, cores):
            rows = {"seamwright": runs.ours("pdf,html", small, jobs=jobs)}
            files = sorted(small.iterdir())
            rows |= {f"{name} ({','.join(of)})": runs.peer(name, ",".join(of), *files, jobs=jobs) for name, of in PEERS.items()}
            table(f"24 procedures to PDF and HTML, {jobs} threads, per file", side_by_side(rows, 3), per=24)

        large = copies(work / "large", args.batch)
        for jobs in (1, cores):
            ours = side_by_side({"seamwright": runs.ours("pdf,html", large, jobs=jobs)}, 3)
            files = sorted(large.iterdir())[: args.peers_batch]
            peers = {f"{name} ({','.join(of)})": runs.peer(name, ",".join(of), *files, jobs=jobs) for name, of in PEERS.items()}
            part = {name: tuple(own) for name, own in side_by_side(peers, 1).items()}
            scaled = {name: (own[0] / len(files) * args.batch, own[1] / len(files) * args.batch, own[2]) for name, own in part.items()}
            table(f"{args.batch} procedures, {jobs} threads, per file (peers: {len(files)})", ours | scaled, per=args.batch)
        checked = side_by_side({"seamwright check": [args.binary, "check", large]}, 3)
        table(f"check of {args.batch} procedures, all threads, per file", checked, per=args.batch)
        again = [part for part in runs.ours("pdf,html", large) if part not in FORCE]
        run(again)
        table(f"the same {args.batch} rendered again, unchanged, per file", side_by_side({"seamwright": again}, 3), per=args.batch)

        turns = edited(work / "edits", args.repeats)
        ours = [run(runs.ours("pdf", turn))[0] for turn in turns]
        rows = {"seamwright, new process": (min(ours), statistics.median(ours), 0.0)}
        for name in PEERS:
            command = runs.peer(name, "pdf", ONE) + ["--edits", str(args.repeats)]
            said = subprocess.run([str(part) for part in command], capture_output=True, text=True, check=True).stdout
            # The first turn loads what later ones find ready.
            own = [float(line) / 1000 for line in said.split()[1:]]
            rows[f"{name}, same process"] = (min(own), statistics.median(own), 0.0)
        table("one value changed, to PDF", rows)
        sizes = {name: sum(path.stat().st_size for path in (work / name).glob("pipe-butt*.pdf")) for name in ["ours", *PEERS]}
        print("\nbytes of the PDF: " + ", ".join(f"{name} {size}" for name, size in sizes.items()))
    print(f"\nload {os.getloadavg()[0]:.1f} at the end")


if __name__ == "__main__":
    if not shutil.which("fc-list"):
        print("fontconfig is not installed; the peers need the DejaVu fonts", file=sys.stderr)
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    main()
