#!/usr/bin/env python3
"""How time and memory grow with the number of files, threads and runs. See README.md."""

import argparse
import os
import pathlib
import re
import tempfile

from compare import ROOT, copies, run

FILES = [100, 1000, 10_000]
RUNS = [60, 125, 250, 500]
LONG = ROOT / "procedures" / "butt-12-s355-111.yaml"


def least(command, repeats):
    """Least seconds and most memory (MiB) of several runs."""
    taken = [run(command) for _ in range(repeats)]
    return min(seconds for seconds, _ in taken), max(memory for _, memory in taken)


def line(what, count, seconds, memory):
    print(f"  {what:34}{count:8}{seconds:9.3f} s{1000 * seconds / count:10.3f} ms each{count / seconds:9.0f} a second{memory:8.1f} MiB")


def long(path, count):
    """A procedure with so many runs: its fill run again and again, in plate ten times as thick."""
    text = LONG.read_text(encoding="utf-8").replace("thickness: 12 mm", "thickness: 120 mm")
    head, rest = text.split("\nruns:\n", 1)
    body, tail = re.split(r"\n\n(?=[a-z])", rest, maxsplit=1)
    root, fill, cap = ("  - run" + part for part in body.split("  - run")[1:])
    runs = [root.rstrip()]
    for number in range(2, count + 1):
        runs.append(re.sub(r"run: .*", f"run: {number}", cap if number == count else fill, count=1).rstrip())
    path.write_text(f"{head}\nruns:\n" + "\n".join(runs) + f"\n\n{tail}", encoding="utf-8")
    return path


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--binary", type=pathlib.Path, default=ROOT / "target" / "release" / "seamwright")
    parser.add_argument("--repeats", type=int, default=3)
    parser.add_argument("--files", type=int, nargs="*", default=FILES)
    args = parser.parse_args()
    cores = os.cpu_count()
    print(f"{cores} cores, load {os.getloadavg()[0]:.1f} at the start")
    with tempfile.TemporaryDirectory() as work:
        work = pathlib.Path(work)
        for count in args.files:
            folder, out = copies(work / f"of-{count}", count), work / f"sheets-{count}"
            print(f"\n{count} files")
            for threads in (1, cores):
                os.environ["RAYON_NUM_THREADS"] = str(threads)
                line(f"check, {threads} threads", count, *least([args.binary, "check", folder], args.repeats))
                line(f"check as JSON, {threads} threads", count, *least([args.binary, "check", "--format", "json", folder], 1))
            del os.environ["RAYON_NUM_THREADS"]
            render = [args.binary, "render", folder, "--out", out]
            for threads in (1, cores):
                command = [*render, "--force", "--jobs", threads]
                line(f"PDF and HTML, {threads} threads", count, *least(command, 1 if count > 1000 else args.repeats))
            line("PDF and HTML again, unchanged", count, *least(render, args.repeats))
        print("\none file, by its runs")
        for count in RUNS:
            path = long(work / f"runs-{count}.yaml", count)
            line("check", count, *least([args.binary, "check", path], args.repeats))
            line("PDF and HTML", count, *least([args.binary, "render", path, "--out", work / "long", "--force"], args.repeats))
    print(f"\nload {os.getloadavg()[0]:.1f} at the end")


if __name__ == "__main__":
    main()
