"""Checks of the written sheets with tools from outside the project: poppler, qpdf, headless Chromium, axe-core, html-validate."""

import json
import math
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import threading
from concurrent.futures import ThreadPoolExecutor

binary, library, submitted, *folders = sys.argv[1:]
failures = []
count = 0
told = threading.Lock()


def run(*command, timeout=300):
    return subprocess.run([str(part) for part in command], capture_output=True, timeout=timeout, check=False)


def expect(what, holds, detail=""):
    global count
    with told:
        count += 1
        if not holds:
            failures.append(f"{what} {detail}")
            print(f"FAILED {what} {detail}", flush=True)


def spelled(source, key):
    """Values of a key in the YAML, as a sheet prints them: ranges with an en dash."""
    values = re.findall(rf"\b{key}: ([^,}}\n]+)", source)
    return [re.sub(r"(?<=\d)-(?=\d)", "\u2013", value.strip()) for value in values]


def metric(figure):
    """A speed in in/min as a sheet in SI prints it: whole mm/min that do not lie outside what is stated."""
    low, _, high = figure.partition("\u2013")
    if not high:
        return f"{float(low) * 25.4:.0f}"
    return f"{math.ceil(float(low) * 25.4 - 1e-9)}\u2013{math.floor(float(high) * 25.4 + 1e-9)}"


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
        # The table of runs has its units in the heads of its columns.
        for key in ("current", "voltage", "travel_speed"):
            for value in spelled(source, key):
                figure, _, unit = value.rpartition(" ")
                if unit == "in/min":
                    figure, unit = metric(figure), "mm/min"
                wanted += [figure, unit]
    for value in wanted:
        expect(f"{name}: holds {value}", value in text)
    with tempfile.TemporaryDirectory() as folder:
        out = pathlib.Path(folder) / "source.yaml"
        run("pdfdetach", "-save", "1", "-o", out, pdf)
        expect(f"{name}: gives its source back", out.exists() and out.read_bytes() == source.encode())


def pages_of(pdf):
    found = re.search(r"^Pages:\s+(\d+)", run("pdfinfo", pdf).stdout.decode(), re.MULTILINE)
    return int(found.group(1)) if found else 0


def check_ink(pdf):
    """No ink within 9 mm of the edge of the paper (the margins are 10 mm and more)."""
    dots = 72
    margin = int(9 * dots / 25.4)
    with tempfile.TemporaryDirectory() as folder:
        run("pdftoppm", "-r", dots, "-gray", pdf, pathlib.Path(folder) / "page")
        pictures = sorted(pathlib.Path(folder).glob("*.pgm"))
        expect(f"{pdf.name}: is drawn by pdftoppm", pictures)
        for picture in pictures:
            data = picture.read_bytes()
            head = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", data)
            width, height = int(head.group(1)), int(head.group(2))
            body = data[head.end():]
            rows = [body[row * width:(row + 1) * width] for row in range(height)]
            clear = all(min(row) > 250 for row in rows[:margin] + rows[-margin:])
            clear = clear and all(min(row[:margin] + row[-margin:]) > 250 for row in rows)
            expect(f"{pdf.name}: no ink in the margins of {picture.stem}", clear)


def check_words(pdf):
    """No word on another, by the places that pdftotext reads from the file."""
    text = run("pdftotext", "-bbox", pdf, "-").stdout.decode()
    for number, page in enumerate(text.split("<page ")[1:], 1):
        words = [
            tuple(map(float, found[:4])) + (found[4],)
            for found in re.findall(r'<word xMin="(.*?)" yMin="(.*?)" xMax="(.*?)" yMax="(.*?)">(.*?)</word>', page)
        ]
        words.sort(key=lambda word: word[1])
        touching = []
        for index, one in enumerate(words):
            for other in words[index + 1:]:
                if other[1] > one[3]:
                    break
                across = min(one[2], other[2]) - max(one[0], other[0])
                down = min(one[3], other[3]) - max(one[1], other[1])
                # The boxes hold ascent and descent, so lines of text touch by a little.
                apart = across < 1 or down < 0.45 * min(one[3] - one[1], other[3] - other[1])
                if not apart:
                    touching.append((one[4], other[4]))
        expect(f"{pdf.name}: words of page {number} apart", not touching, str(touching[:3]))


def check_pages(folder, names, modules):
    """Pages in a browser: quiet, no wider than a phone, no barrier, and in print as long as the PDF within a page."""
    chromium = shutil.which("chromium")
    script = pathlib.Path(__file__).with_name("browser.mjs")
    shown = run("node", script, chromium, modules, *[folder / name for name in names], timeout=1800)
    reports = [json.loads(line) for line in shown.stdout.decode().splitlines()]
    expect(f"{folder.name}: every page opens", len(reports) == len(names), shown.stderr.decode()[-500:])
    for report in reports:
        path = pathlib.Path(report["page"])
        name = f"{folder.name}/{path.name}"
        expect(f"{name}: no console message", not report["noise"], str(report["noise"]))
        expect(f"{name}: no horizontal scroll at 360 px", report["narrow"] <= 360, str(report["narrow"]))
        for key in ("violations", "dark"):
            expect(f"{name}: axe-core finds nothing ({key})", not report[key], str(report[key]))
        if path.name == "index.html":
            expect(f"{name}: finds a number", set(report["byNumber"]) == {"P-006"}, str(report["byNumber"]))
            expect(f"{name}: filters", all(report["filters"].values()), str(report["filters"]))
            continue
        pdf = pages_of(path.with_suffix(".pdf"))
        expect(f"{name}: pages in print", abs(report["pages"] - pdf) <= 1, f"{report['pages']}, PDF {pdf}")
        if "bench-card" in path.name:
            expect(f"{name}: one page", (report["pages"], pdf) == (1, 1), f"{report['pages']}, PDF {pdf}")
    config = pathlib.Path(modules) / f".{folder.name}.htmlvalidate.json"
    # The search of the index answers as it is typed, so its form has nothing to submit.
    rules = {"extends": ["html-validate:standard", "html-validate:a11y"], "root": True, "rules": {"wcag/h32": "off"}}
    config.write_text(json.dumps(rules))
    validate = pathlib.Path(modules) / "node_modules/.bin/html-validate"
    valid = run(validate, "-c", config, "-f", "text", *[folder / name for name in names])
    expect(f"{folder.name}: html-validate", valid.returncode == 0, valid.stdout.decode()[:600])


def node_modules(work):
    """The packages that read pages, in a folder of their own."""
    modules = pathlib.Path(work) / "node"
    modules.mkdir()
    packages = ["puppeteer-core", "axe-core", "html-validate"]
    got = run("npm", "install", "--silent", "--no-audit", "--no-fund", "--prefix", modules, *packages)
    expect("npm packages", got.returncode == 0, got.stderr.decode()[-300:])
    return modules


PAPERS = [("a4", "si", "iso"), ("letter", "us", "aws"), ("a4", "both", "iso")]


def check_kinds(modules, paper, units, terms):
    """Every kind of sheet on a paper in its units."""
    with tempfile.TemporaryDirectory() as work:
        out = pathlib.Path(work) / f"{paper}-{units}"
        made = run(
            binary, "render", library, "examples/lesson", "--out", out, "--sheet", "procedure,bench-card,lesson",
            "--paper", paper, "--units", units, "--terms", terms, "--binder",
        )
        expect(f"{out.name}: renders", made.returncode == 0, made.stderr.decode()[-600:])
        for pdf in sorted(out.glob("*.pdf")):
            checked = run("qpdf", "--check", pdf)
            expect(f"{out.name}/{pdf.name}: qpdf --check", checked.returncode == 0, checked.stderr.decode())
            if pdf.name != "binder.pdf":
                check_ink(pdf)
                check_words(pdf)
        contents = run("pdftotext", out / "binder.pdf", "-").stdout.decode()
        expect(f"{out.name}: the binder lists P-006", "P-006" in contents)
        names = sorted(page.name for page in out.glob("*.html"))
        if (paper, units) != ("a4", "si"):
            names = [name for name in names if "bench-card" in name or "lesson" in name]
        check_pages(out, names, modules)


def spoken(pdf):
    """What a voice reads of a sheet, part by part, by pdfinfo; without what names the version of the program."""
    lines = run("pdfinfo", "-struct-text", pdf).stdout.decode().splitlines()
    lines = [re.sub(r"Source digest [0-9a-f ]+\.", "Source digest.", line) for line in lines]
    return "\n".join(re.sub(r"Seamwright \S+( \([0-9a-f ]+\))?", "Seamwright", line) for line in lines) + "\n"


def check_spoken():
    """Tagged PDF (ISO 14289-1): two checkers of it on every kind of sheet, and the reading order of one, which is kept."""
    with tempfile.TemporaryDirectory() as work:
        work = pathlib.Path(work)
        run(sys.executable, "-m", "venv", work / "venv")
        got = run(work / "venv/bin/pip", "install", "--quiet", "outloud==0.2.1", "pdfua==0.1.3")
        expect("checkers of tagged PDF", got.returncode == 0, got.stderr.decode()[-300:])
        made = run(
            binary, "render", library, "examples/lesson", "--out", work / "out", "--to", "pdf", "--length", "2 m",
            "--sheet", KINDS, "--binder",
        )
        expect("tagged: renders", made.returncode == 0, made.stderr.decode()[-400:])
        sheets = sorted((work / "out").glob("*.pdf"))
        report = work / "report.json"
        # TAG-002 takes every line of eight words that is an artifact for text: a running head with a title is one.
        run(work / "venv/bin/outloud", "--quiet", "--skip", "TAG-002", "--json", report, *sheets)
        results = json.loads(report.read_text())["results"]
        expect("outloud: reads every sheet", len(results) == len(sheets), f"{len(results)} of {len(sheets)}")
        for sheet, result in zip(sheets, results):
            found = [finding for finding in result["findings"] if finding["severity"] == "error"]
            expect(f"{sheet.name}: outloud finds no error", not found, str(found)[:400])
        checked = run(work / "venv/bin/pdfua", "check", *sheets)
        expect("pdfua finds nothing", checked.returncode == 0, checked.stdout.decode()[-600:])
        kept = pathlib.Path(__file__).with_name("reading-order.txt").read_text()
        expect("the reading order is that which is kept", spoken(work / "out" / "butt-2-304l-141.pdf") == kept)


SAMPLES = ["lap-fillet-2-carbon-141", "pipe-butt-p235gh-141-111", "butt-15-s355-136", "butt-20-a516-121", "tee-fillet-3-6061-141"]
KINDS = "procedure,bench-card,lesson,review,estimate"


def check_matrix():
    """Every kind on every paper in every units and in both terms, for joints that differ."""
    paths = [f"{library}/{name}.yaml" for name in SAMPLES] + ["examples/lesson/lesson.yaml"]
    with tempfile.TemporaryDirectory() as work:
        for paper in ("a4", "letter"):
            for units in ("si", "us", "both"):
                for terms in ("iso", "aws"):
                    out = pathlib.Path(work) / f"{paper}-{units}-{terms}"
                    made = run(
                        binary, "render", *paths, "--out", out, "--sheet", KINDS, "--length", "2 m",
                        "--paper", paper, "--units", units, "--terms", terms, "--to", "pdf",
                    )
                    expect(f"{out.name}: renders", made.returncode == 0, made.stderr.decode()[-600:])
                    sheets = sorted(out.glob("*.pdf"))
                    expect(f"{out.name}: every kind is there", len(sheets) == 4 * len(SAMPLES) + 1, str(len(sheets)))
                    for pdf in sheets:
                        checked = run("qpdf", "--check", pdf)
                        expect(f"{out.name}/{pdf.name}: qpdf --check", checked.returncode == 0, checked.stderr.decode())
                        check_words(pdf)
                        pages, size = pages_of(pdf), pdf.stat().st_size
                        expect(f"{out.name}/{pdf.name}: small", pages > 2 or size <= 40_000, f"{size} bytes")
                        if "bench-card" in pdf.name:
                            expect(f"{out.name}/{pdf.name}: one page", pages == 1, str(pages))


def many_runs(count, title):
    """A thick plate in so many runs that all differ, as YAML."""
    layer = lambda run: "root" if run == 1 else "cap" if run > count - 4 else "fill"
    rows = [
        f"  - {{run: {run}, layer: {layer(run)}, current: {120 + run}-{150 + run} A, voltage: 22-26 V, "
        f"travel_speed: {90 + run}-{140 + run} mm/min}}"
        for run in range(1, count + 1)
    ]
    head = [
        "format: 1", "document: procedure", f"identification: {{number: P-40, revision: 1, title: {title}}}",
        "parent_metals: [{specification: S355J2+N, thickness: 60 mm}]",
        "joint: {type: butt, weld: groove, preparation: double-v, included_angle: 60 deg, root_gap: 2-3 mm, root_face: 1-2 mm}",
        "positions: [PA]", "fillers:", "  rod: {designation: E7018, diameter: 4 mm}",
        "processes:", "  111: {polarity: DCEP, filler: rod}", "runs:",
    ]
    return "\n".join(head + rows) + "\n"


def check_many_runs():
    """40 runs under a title of many lines: every one on the sheets, no word on another, the bench card on a page."""
    with tempfile.TemporaryDirectory() as work:
        source, out = pathlib.Path(work) / "many.yaml", pathlib.Path(work) / "out"
        source.write_text(many_runs(40, "A thick plate of the lower flange welded from both sides " * 24))
        made = run(binary, "render", source, "--out", out, "--sheet", "procedure,bench-card", "--to", "pdf")
        expect("40 runs: are rendered", (out / "many.pdf").exists(), made.stderr.decode()[-400:])
        text = " ".join(run("pdftotext", "-layout", out / "many.pdf", "-").stdout.decode().split())
        for number in range(1, 41):
            expect(f"40 runs: run {number}", f"{120 + number}\u2013{150 + number}" in text)
        for pdf in sorted(out.glob("*.pdf")):
            check_words(pdf)
            check_ink(pdf)
        expect("40 runs: bench card on one page", pages_of(out / "many.bench-card.pdf") == 1)


def logo_dots(pdf):
    """Dots in the colour of the sample logo where it stands: the first 28 pt under the upper margin."""
    with tempfile.TemporaryDirectory() as folder:
        place = ["-x", 38, "-y", 32, "-W", 120, "-H", 34]
        run("pdftoppm", "-r", 72, "-f", 1, "-l", 1, *place, pdf, pathlib.Path(folder) / "page")
        picture = next(pathlib.Path(folder).glob("*.ppm")).read_bytes()
    body = picture[re.match(rb"P6\s+\d+\s+\d+\s+255\s", picture).end():]
    return sum(body[at:at + 3] == b"\x1f\x4e\x79" for at in range(0, len(body), 3))


def check_templates():
    """A shop's own look: a mistake is told with file and line, and what never ends is stopped."""
    sample = f"{library}/{SAMPLES[0]}.yaml"
    with tempfile.TemporaryDirectory() as work:
        work = pathlib.Path(work)
        own = work / "templates"
        own.mkdir()
        (own / "foot.html").write_text("<footer>\n{{ footer.checked | nosuch }}\n</footer>\n")
        broken = run(binary, "render", sample, "--out", work / "a", "--templates", own)
        said = broken.stderr.decode()
        expect("a template error: exit status 2", broken.returncode == 2, f"{broken.returncode} {said}")
        expect("a template error: file and line", "foot.html, line 2" in said, said)
        loops = "".join(f"{{% for i{depth} in range(end=1000) %}}" for depth in range(5)) + "{% endfor %}" * 5
        (own / "foot.html").write_text(loops)
        # The time limit of the program is far below this one.
        endless = run(binary, "render", sample, "--out", work / "b", "--templates", own, timeout=120)
        said = endless.stderr.decode()
        expect("an endless template: exit status 2", endless.returncode == 2, f"{endless.returncode} {said}")
        expect("an endless template: is named", "did not finish" in said, said)
        expect("an endless template: no half page", not list((work / "b").glob("*.html")))
        style = "examples/house-style/house-style.yaml"
        made = run(
            binary, "render", library, "--out", work / "c", "--sheet", "procedure,bench-card", "--style", style, "--binder",
        )
        expect("house style: renders", made.returncode == 0, made.stderr.decode()[-400:])
        for name in (f"{SAMPLES[0]}.pdf", f"{SAMPLES[0]}.bench-card.pdf", "binder.pdf"):
            pdf = work / "c" / name
            expect(f"house style: logo in {name}", logo_dots(pdf) > 150, str(logo_dots(pdf)))
            expect(f"house style: name block in {name}", "Mill Lane 4" in run("pdftotext", pdf, "-").stdout.decode())
            checked = run("qpdf", "--check", pdf)
            expect(f"house style: qpdf --check {name}", checked.returncode == 0, checked.stderr.decode())
            if name != "binder.pdf":
                check_words(pdf)
                check_ink(pdf)
        index = (work / "c" / "index.html").read_text()
        expect("house style: logo and name block on the index", 'class="logo"' in index and "Mill Lane 4" in index)


def check_folder(folder):
    """Each procedure of the library with its sheet in a folder."""
    for path in sorted(pathlib.Path(library).glob("*.yaml")):
        source = path.read_bytes().decode()
        check_pdf(folder / f"{path.stem}.pdf", source, folder.name == "letter")


with tempfile.TemporaryDirectory() as work, ThreadPoolExecutor(2) as pool:
    packages = node_modules(work)
    # The longest first; most of the time goes to other programs, which run beside each other.
    tasks = [lambda paper=paper: check_kinds(packages, *paper) for paper in PAPERS]
    tasks += [check_matrix, check_spoken, check_templates, check_many_runs]
    tasks += [lambda folder=pathlib.Path(folder): check_folder(folder) for folder in folders]
    for done in [pool.submit(task) for task in tasks]:
        done.result()

clean = run(binary, "check", library)
expect("the starter library is clean", clean.returncode == 0, clean.stderr.decode())
faulty = run(binary, "check", "--format", "json", submitted)
expect("the submitted procedure is faulty", faulty.returncode == 1, str(faulty.returncode))
findings = [finding for file in json.loads(faulty.stdout)["files"] for finding in file["findings"]]
whole = [f for f in findings if all(f[key] is not None for key in ("line", "column", "stated", "limit", "source"))]
expect("ten findings with place, value, limit and source", len(whole) >= 10, str(len(whole)))

print(f"{count - len(failures)} passed, {len(failures)} failed")
sys.exit(1 if failures else 0)
