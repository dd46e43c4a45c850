"""Sheets by general-purpose typesetting libraries: peers.py PEER FORMATS OUT FILE... [--jobs N] [--edits N]

FORMATS is pdf, html or pdf,html. With --edits the first file is set again and again with one value changed, and the
milliseconds of each turn are printed.
"""

import argparse
import json
import multiprocessing
import pathlib
import time

from content import content

HERE = pathlib.Path(__file__).parent


class Typst:
    formats = ("pdf",)

    def __init__(self):
        import typst

        self.typst = typst
        self.compiler = None

    def set(self, it, format):
        inputs = {"content": json.dumps(it)}
        if self.compiler is None:
            self.compiler = self.typst.Compiler(str(HERE / "sheet.typ"), root=str(HERE))
        return self.compiler.compile(format=format, sys_inputs=inputs)


class WeasyPrint:
    formats = ("pdf", "html")

    def __init__(self):
        import jinja2

        self.template = jinja2.Environment(loader=jinja2.FileSystemLoader(HERE), autoescape=True).get_template(
            "sheet.html.jinja"
        )
        self.html = None

    def set(self, it, format):
        page = self.template.render(it)
        if format == "html":
            return page.encode()
        if self.html is None:
            from weasyprint import HTML

            self.html = HTML
        return self.html(string=page).write_pdf()


class ReportLab:
    formats = ("pdf",)

    def __init__(self):
        from reportlab.pdfbase import pdfmetrics
        from reportlab.pdfbase.ttfonts import TTFont

        fonts = pathlib.Path("/usr/share/fonts/truetype/dejavu")
        pdfmetrics.registerFont(TTFont("Body", fonts / "DejaVuSans.ttf"))
        pdfmetrics.registerFont(TTFont("Body-Bold", fonts / "DejaVuSans-Bold.ttf"))
        pdfmetrics.registerFontFamily("Body", normal="Body", bold="Body-Bold")

    def set(self, it, format):
        import io

        from reportlab.graphics.shapes import Drawing, Rect, String
        from reportlab.lib import colors
        from reportlab.lib.pagesizes import A4
        from reportlab.lib.styles import ParagraphStyle
        from reportlab.lib.units import mm
        from reportlab.platypus import Paragraph, SimpleDocTemplate, Table
        from xml.sax.saxutils import escape

        body = ParagraphStyle("body", fontName="Body", fontSize=8, leading=10)
        heads = [ParagraphStyle(f"h{size}", body, fontName="Body-Bold", fontSize=size, leading=size + 4) for size in (14, 10)]
        lines = [("GRID", (0, 0), (-1, -1), 0.4, colors.black), ("VALIGN", (0, 0), (-1, -1), "TOP")]

        def words(text, style=body):
            return Paragraph(text, style)

        def rows(pairs):
            cells = [[words(escape(name)), words(f"<b>{escape(value)}</b>")] for name, value in pairs]
            return Table(cells, colWidths=[34 * mm, 148 * mm], style=lines)

        t, g = it["joint"]["thickness"] * 4, it["joint"]["gap"] * 4
        joint = Drawing(142 + g, t + 16)
        for x in (1, 71 + g):
            joint.add(Rect(x, 14, 70, t, fillColor=None))
        joint.add(String(62, 4, f"{it['joint']['gap']} mm", fontName="Body", fontSize=7))
        joint.add(String(4, 14 + t / 2, f"{it['joint']['thickness']} mm", fontName="Body", fontSize=7))
        story = [words(escape(f"{it['number']} {it['title']}"), heads[0]), rows(it["facts"]), words("Joint", heads[1]), joint]
        runs = [[words(escape(cell)) for cell in run] for run in [it["run_heads"], *it["runs"]]]
        story += [words("Runs", heads[1]), Table(runs, style=lines, repeatRows=1)]
        for heading, pairs in it["sections"]:
            story += [words(escape(heading), heads[1]), rows(pairs)]
        story.append(words("Cautions", heads[1]))
        story += [words(f"<b>{lead}</b> {text}") for lead, text in it["cautions"]]
        out = io.BytesIO()
        margin = 14 * mm
        SimpleDocTemplate(
            out, pagesize=A4, leftMargin=margin, rightMargin=margin, topMargin=margin, bottomMargin=margin, title=it["title"]
        ).build(story)
        return out.getvalue()


PEERS = {"typst": Typst, "weasyprint": WeasyPrint, "reportlab": ReportLab}
own = None


def start(name):
    global own
    own = PEERS[name]()


def work(task):
    path, formats, out = task
    it = content(path)
    for format in formats:
        (out / f"{path.stem}.{format}").write_bytes(own.set(it, format))


def edits(path, formats, count):
    it = content(path)
    for turn in range(count):
        it["runs"][0][RUN_CURRENT] = f"{90 + turn}\u2013120 A"
        before = time.perf_counter()
        for format in formats:
            own.set(it, format)
        print(1000 * (time.perf_counter() - before), flush=True)


RUN_CURRENT = 4

if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("peer", choices=PEERS)
    parser.add_argument("formats")
    parser.add_argument("out", type=pathlib.Path)
    parser.add_argument("files", type=pathlib.Path, nargs="+")
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--edits", type=int, default=0)
    args = parser.parse_args()
    args.out.mkdir(parents=True, exist_ok=True)
    formats = args.formats.split(",")
    tasks = [(path, formats, args.out) for path in args.files]
    if args.edits:
        start(args.peer)
        edits(args.files[0], formats, args.edits)
    elif args.jobs == 1:
        start(args.peer)
        for task in tasks:
            work(task)
    else:
        with multiprocessing.Pool(args.jobs, start, (args.peer,)) as pool:
            pool.map(work, tasks, chunksize=max(1, len(tasks) // (4 * args.jobs)))
