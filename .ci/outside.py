"""Checks of the written sheets with tools from outside the project: poppler, qpdf, headless Chromium."""

import json
import pathlib
import re
import subprocess
import sys
import tempfile

binary, library, submitted, *folders = sys.argv[1:]
failures = []
count = 0


def run(*command):
    return subprocess.run([str(part) for part in command], capture_output=True, timeout=300, check=False)


def expect(what, holds, detail=""):
    global count
    count += 1
    if not holds:
        failures.append(f"{what} {detail}")
        print(f"FAILED {what} {detail}", flush=True)


def spelled(source, key):
    """Values of a key in the YAML, as a sheet prints them: ranges with an en dash."""
    values = re.findall(rf"\b{key}: ([^,}}\n]+)", source)
    return [re.sub(r"(?<=\d)-(?=\d)", "\u2013", value.strip()) for value in values]


def check_pdf(pdf, source, units_both):
    name = pdf.name
    checked = run("qpdf", "--check", pdf)
    expect(f"{name}: qpdf --check", checked.returncode == 0, checked.stderr.decode())
    rows = run("pdffonts", pdf).stdout.decode().splitlines()[2:]
    expect(f"{name}: has fonts", rows)
    for row in rows:
        flags = re.findall(r"\b(yes|no)\b", row)
        expect(f"{name}: fonts embedded and subset", flags[:2] == ["yes", "yes"], row)
    text = " ".join(run("pdftotext", "-raw", pdf, "-").stdout.decode().split())
    wanted = spelled(source, "number")[:1]
    if not units_both:
        wanted += spelled(source, "current") + spelled(source, "voltage") + spelled(source, "travel_speed")
    for value in wanted:
        expect(f"{name}: holds {value}", value in text)
    with tempfile.TemporaryDirectory() as folder:
        out = pathlib.Path(folder) / "source.yaml"
        run("pdfdetach", "-save", "1", "-o", out, pdf)
        expect(f"{name}: gives its source back", out.exists() and out.read_bytes() == source.encode())


def check_html(page, source):
    with tempfile.TemporaryDirectory() as profile:
        shown = run(
            "chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-quic",
            "--disable-background-networking", "--disable-component-update", "--disable-sync",
            f"--user-data-dir={profile}", "--enable-logging=stderr", "--dump-dom", page.resolve().as_uri(),
        )
    noise = [line for line in shown.stderr.decode(errors="replace").splitlines() if "CONSOLE" in line]
    expect(f"{page.name}: no console message", not noise, " ".join(noise))
    dom = shown.stdout.decode()
    number = spelled(source, "number")[0]
    expect(f"{page.name}: opens in a browser", "</html>" in dom and number in dom)


for folder in map(pathlib.Path, folders):
    for path in sorted(pathlib.Path(library).glob("*.yaml")):
        source = path.read_bytes().decode()
        check_pdf(folder / f"{path.stem}.pdf", source, folder.name == "letter")
        check_html(folder / f"{path.stem}.html", source)

clean = run(binary, "check", library)
expect("the starter library is clean", clean.returncode == 0, clean.stderr.decode())
faulty = run(binary, "check", "--format", "json", submitted)
expect("the submitted procedure is faulty", faulty.returncode == 1, str(faulty.returncode))
findings = [finding for file in json.loads(faulty.stdout)["files"] for finding in file["findings"]]
whole = [f for f in findings if all(f[key] is not None for key in ("line", "column", "stated", "limit", "source"))]
expect("ten findings with place, value, limit and source", len(whole) >= 10, str(len(whole)))

print(f"{count - len(failures)} passed, {len(failures)} failed")
sys.exit(1 if failures else 0)
